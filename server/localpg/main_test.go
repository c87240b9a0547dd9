package localpg

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
)

// ownerEnv, when set, turns the test binary into a process that owns the state
// folder it names, so that a test can kill it.
const ownerEnv = "LOCALPG_TEST_OWN"

func TestMain(m *testing.M) {
	if state := os.Getenv(ownerEnv); state != "" {
		os.Exit(ownUntilAsked(state))
	}
	os.Exit(m.Run())
}

// ownUntilAsked starts the server, says where it is, and stops it when
// standard input ends.
func ownUntilAsked(state string) int {
	srv, err := Start(context.Background(), Config{State: state})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	fmt.Println(srv.URL())
	bufio.NewReader(os.Stdin).ReadString('\n')
	if err := srv.Stop(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// owner runs the test binary as the owner of a state folder.
func owner(t *testing.T, state string) (cmd *exec.Cmd, url string) {
	t.Helper()
	cmd = exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), ownerEnv+"="+state)
	cmd.Stderr = os.Stderr
	if _, err := cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	url, err = bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the owning process said nothing: %v", err)
	}
	return cmd, strings.TrimSpace(url)
}

// needServer skips where there is no PostgreSQL, unless one is required.
func needServer(t *testing.T) {
	t.Helper()
	_, err := findBinaries("", t.TempDir())
	switch {
	case err == nil:
	case strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "db"):
		t.Fatal(err)
	default:
		t.Skip(err)
	}
}

// stateFolder makes a folder that the server's account can reach also when the
// test runs as root: the testing package's own temporary folders are closed.
func stateFolder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "arrisbook-localpg-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		kill(t, dir)
		os.RemoveAll(dir)
	})
	return dir
}

// start starts a server for a test and stops it at its end.
func start(t *testing.T, cfg Config) *Server {
	t.Helper()
	srv, err := Start(t.Context(), cfg)
	if err != nil {
		t.Fatalf("Start(%+v): %v", cfg, err)
	}
	t.Cleanup(func() { srv.Stop(context.Background()) })
	return srv
}

// left lists the PostgreSQL processes of a state folder.
func left(t *testing.T, state string) []int {
	t.Helper()
	info, err := os.Stat(folder{state}.data())
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	found, err := standingIn(folder{state}.data(), ownerOf(info))
	if err != nil || found.hidden {
		t.Fatalf("processes of %s: hidden %v, %v", state, found.hidden, err)
	}
	return found.pids
}

// kill ends every PostgreSQL process of a state folder at once.
func kill(t *testing.T, state string) {
	t.Helper()
	for _, pid := range left(t, state) {
		syscall.Kill(pid, syscall.SIGKILL)
	}
}

// noneLeft fails when a PostgreSQL process of the folder is still there.
func noneLeft(t *testing.T, state string) {
	t.Helper()
	for range 100 {
		if len(left(t, state)) == 0 {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("processes of %s are left 2 s after the end", state)
}

// connect signs in and hangs up at the end of the test.
func connect(t *testing.T, url string) *pgconn.PgConn {
	t.Helper()
	c, err := pgconn.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close(context.Background()) })
	return c
}

// query runs one statement and gives the first column of its rows, by commas.
func query(t *testing.T, c *pgconn.PgConn, sql string) string {
	t.Helper()
	results, err := c.Exec(t.Context(), sql).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
	var got []string
	for _, row := range results[len(results)-1].Rows {
		got = append(got, string(row[0]))
	}
	return strings.Join(got, ",")
}
