package localpg

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Whatever is killed without warning, the next start gets the database up with
// every acknowledged row in it.
func TestKilledWithoutWarning(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	for round, who := range []string{"everything", "the owner", "the server", "everything", "the server first"} {
		first, url := owner(t, state)
		c := connect(t, url)
		query(t, c, "create table if not exists acked(n int primary key)")
		for i := range 20 {
			query(t, c, fmt.Sprintf("insert into acked values (%d)", 20*round+i))
		}
		busy := connect(t, url) // a backend that is in the middle of something
		busy.Exec(t.Context(), "insert into acked select -1; select pg_sleep(30)")
		killNow(t, state, who, first.Process.Pid)
		first.Wait()

		began := time.Now()
		srv := start(t, Config{State: state})
		t.Logf("%s killed: up again in %v", who, time.Since(began).Round(time.Millisecond))
		want := strconv.Itoa(20 * (round + 1))
		if got := query(t, connect(t, srv.URL()), "select count(*) from acked where n >= 0"); got != want {
			t.Errorf("%s killed: %s rows, want the %s acknowledged", who, got, want)
		}
		if err := srv.Stop(t.Context()); err != nil {
			t.Error(err)
		}
		noneLeft(t, state)
	}
}

// killNow kills the owner, the server or all of them with kill -9.
func killNow(t *testing.T, state, who string, owner int) {
	t.Helper()
	switch who {
	case "the owner":
		syscall.Kill(owner, syscall.SIGKILL)
	case "the server":
		syscall.Kill(serverPid(t, state), syscall.SIGKILL)
		syscall.Kill(owner, syscall.SIGKILL)
	case "the server first":
		syscall.Kill(owner, syscall.SIGSTOP)
		syscall.Kill(serverPid(t, state), syscall.SIGKILL) // a zombie now: nobody waits for it
		time.Sleep(100 * time.Millisecond)
		syscall.Kill(owner, syscall.SIGKILL)
	default:
		syscall.Kill(owner, syscall.SIGKILL)
		kill(t, state)
	}
}

func serverPid(t *testing.T, state string) int {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(state, "data", "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	pid, err := strconv.Atoi(strings.SplitN(string(text), "\n", 2)[0])
	if err != nil {
		t.Fatal(err)
	}
	return pid
}

// A postmaster.pid that names a stranger's process harms neither the stranger
// nor the start, and a half-made cluster is made afresh.
func TestStrangersAndHalves(t *testing.T) {
	needServer(t)
	state := stateFolder(t)
	if err := os.Mkdir(filepath.Join(state, "data.new"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(state, "data.new", "half"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	srv, err := Start(t.Context(), Config{State: state, Disposable: true})
	if err != nil {
		t.Fatal(err)
	}
	srv.Stop(t.Context())
	stranger, err := os.StartProcess("/bin/sleep", []string{"sleep", "60"}, &os.ProcAttr{})
	if err != nil {
		t.Fatal(err)
	}
	defer stranger.Kill()
	pidfile := fmt.Sprintf("%d\n%s\n1\n5432\n%s\n\n0 0\n", stranger.Pid, filepath.Join(state, "data"), filepath.Join(state, "run"))
	if err := os.WriteFile(filepath.Join(state, "data", "postmaster.pid"), []byte(pidfile), 0o644); err != nil {
		t.Fatal(err)
	}
	start(t, Config{State: state, Disposable: true})
	if err := stranger.Signal(syscall.Signal(0)); err != nil {
		t.Errorf("the stranger's process was harmed: %v", err)
	}
}
