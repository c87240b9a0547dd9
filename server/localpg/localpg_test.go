package localpg

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
)

// What is written stays through a stop and a start, and a stop leaves nothing
// running.
func TestColdAndWarmStart(t *testing.T) {
	needServer(t)
	state := filepath.Join(stateFolder(t), "state")
	for i, want := range []string{"1", "1,2"} {
		began := time.Now()
		srv, err := Start(t.Context(), Config{State: state})
		if err != nil {
			t.Fatal(err)
		}
		up := time.Since(began)
		c := connect(t, srv.URL())
		if got := query(t, c, "create table if not exists kept(n serial); insert into kept default values; select n from kept order by n"); got != want {
			t.Errorf("start %d: rows %s, want %s", i, got, want)
		}
		began = time.Now()
		if err := srv.Stop(t.Context()); err != nil {
			t.Errorf("Stop: %v", err)
		}
		t.Logf("start %d: up in %v, down in %v", i, up.Round(time.Millisecond), time.Since(began).Round(time.Millisecond))
		if err, open := <-srv.Done(); open {
			t.Errorf("Done after Stop gave %v, want nothing", err)
		}
		noneLeft(t, state)
	}
	for path, want := range map[string]os.FileMode{"": 0o711, "data": 0o700, "run": 0o700, "server.log": 0o600, "lock": 0o600} {
		info, err := os.Stat(filepath.Join(state, path))
		if err != nil {
			t.Fatal(err)
		}
		if got := info.Mode().Perm(); got != want {
			t.Errorf("mode of %q = %04o, want %04o", path, got, want)
		}
	}
}

// Only the one role signs in, and the server listens on no network address.
func TestNobodyElseSignsIn(t *testing.T) {
	needServer(t)
	srv := start(t, Config{State: stateFolder(t), Disposable: true})
	c := connect(t, srv.URL())
	if got := query(t, c, "show listen_addresses"); got != "" {
		t.Errorf("listen_addresses = %q, want none", got)
	}
	if got := query(t, c, "show data_checksums"); got != "on" {
		t.Errorf("data_checksums = %q, want on", got)
	}
	query(t, c, "create role other login superuser")
	_, err := pgconn.Connect(t.Context(), strings.Replace(srv.URL(), "user=arrisbook", "user=other", 1))
	if !refusal(err) {
		t.Errorf("signing in as another role: %v, want a refusal", err)
	}
}

// A second process on the same folder uses the first one's server, and hears
// of its end.
func TestSecondAttaches(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	first, url := owner(t, state)
	defer first.Process.Kill()
	second := start(t, Config{State: state})
	if !second.Attached || second.URL() != url {
		t.Errorf("second start: attached %v at %s, want true at %s", second.Attached, second.URL(), url)
	}
	third := start(t, Config{State: state})
	if err := third.Stop(t.Context()); err != nil {
		t.Error(err)
	}
	query(t, connect(t, second.URL()), "select 1") // the third's Stop ended nothing
	first.Process.Kill()
	first.Wait()
	select {
	case err := <-second.Done():
		if err == nil {
			t.Error("Done gave no error after the owner's end")
		}
	case <-time.After(10 * time.Second):
		t.Error("the attached process heard nothing of the owner's end")
	}
	noneLeft(t, state) // the system ended the server with its owner
	if again := start(t, Config{State: state}); again.Attached {
		t.Error("a start after the owner's end attached, want it to own")
	}
}

// When the server dies by itself, whoever runs it is told, with the log's end.
func TestServerDies(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	srv := start(t, Config{State: state, Disposable: true})
	kill(t, state)
	err := <-srv.Done()
	if err == nil || !strings.Contains(err.Error(), "stopped by itself") || !strings.Contains(err.Error(), "server.log") {
		t.Errorf("Done = %v, want an error that names the log", err)
	}
}

// A start cut short leaves nothing running and nothing that hinders the next.
func TestStartCutShort(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	for _, after := range []time.Duration{0, 50 * time.Millisecond, 250 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(t.Context(), after)
		srv, err := Start(ctx, Config{State: state, Disposable: true})
		cancel()
		if err == nil { // a fast machine
			srv.Stop(t.Context())
		}
		noneLeft(t, state)
	}
	start(t, Config{State: state, Disposable: true})
}

// A path too long for a socket still works, and the short folder in its place
// goes again.
func TestLongPath(t *testing.T) {
	needServer(t)
	state := filepath.Join(stateFolder(t), strings.Repeat("long", 20))
	srv := start(t, Config{State: state, Disposable: true})
	if got := query(t, connect(t, srv.URL()), "select 1"); got != "1" {
		t.Errorf("select 1 = %s", got)
	}
	sock := socketOf(folder{state}.lock())
	if strings.HasPrefix(sock, state) || len(socketIn(sock)) > longestSocket {
		t.Errorf("the socket is in %s, want a short folder elsewhere", sock)
	}
	if err := srv.Stop(t.Context()); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(sock); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%s after Stop: %v, want it gone", sock, err)
	}
}

// A folder that holds something else is refused and left alone.
func TestForeignDataFolder(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	notes := filepath.Join(state, "data", "notes.txt")
	if err := os.Mkdir(filepath.Dir(notes), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(notes, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Start(t.Context(), Config{State: state, PGUser: "postgres"})
	if err == nil || !strings.Contains(err.Error(), "holds no database") {
		t.Errorf("Start over somebody's data folder: %v, want a refusal", err)
	}
	if _, err := os.Stat(notes); err != nil {
		t.Errorf("the folder was touched: %v", err)
	}
}

// As root, a folder that the server's account cannot reach is named, with the
// command that opens it.
func TestClosedParent(t *testing.T) {
	needServer(t)
	if os.Getuid() != 0 {
		t.Skip("only root runs the server under another account")
	}
	closed := filepath.Join(stateFolder(t), "closed")
	if err := os.Mkdir(closed, 0o700); err != nil {
		t.Fatal(err)
	}
	_, err := Start(t.Context(), Config{State: filepath.Join(closed, "state")})
	if err == nil || !strings.Contains(err.Error(), "chmod o+x "+closed) {
		t.Errorf("Start below a closed folder: %v, want the way to open it", err)
	}
}

// A data folder of another major version is named with the versions found, and
// not touched.
func TestOtherVersion(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	mark := filepath.Join(state, "data", "PG_VERSION")
	if err := os.Mkdir(filepath.Dir(mark), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(mark, []byte("99\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if os.Getuid() == 0 {
		a, err := serverAccount(filepath.Join(state, "nothing"), "")
		if err != nil {
			t.Fatal(err)
		}
		a.chown(filepath.Dir(mark))
	}
	_, err := Start(t.Context(), Config{State: state})
	var none *NoBinariesError
	if !errors.As(err, &none) || none.Want != 99 {
		t.Fatalf("Start on version 99: %v, want a *NoBinariesError that wants 99", err)
	}
	found, _ := findBinaries("", t.TempDir())
	for _, want := range []string{"PostgreSQL 99", found.version} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("message lacks %q:\n%v", want, err)
		}
	}
	if left, _ := os.ReadDir(filepath.Dir(mark)); len(left) != 1 {
		t.Errorf("the data folder has %d entries, want the 1 it had", len(left))
	}
}
