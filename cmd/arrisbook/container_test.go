package main

import (
	"context"
	"debug/elf"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"arrisbook/server/localpg"
)

// The container image cannot be built in a test. These test its parts: the
// program as the Dockerfile builds it, run as the user the compose file names,
// against a PostgreSQL that asks for a password over TCP.
func TestContainerParts(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the whole program")
	}
	bin := buildAsDockerfile(t)
	wantStatic(t, bin)
	url := passwordServer(t)
	addr := freeAddr(t)
	serve := container(t, bin, []string{"DATABASE_URL=" + url, "PGPASSWORD=p@ss/word"}, "serve", "-addr", addr)
	if err := serve.Start(); err != nil {
		t.Fatal(err)
	}
	defer serve.Process.Kill()
	healthy := false
	for range 100 {
		if container(t, bin, nil, "healthcheck", "-addr", addr).Run() == nil {
			healthy = true
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if !healthy {
		t.Fatal("the server did not get healthy in 10 s")
	}
	serve.Process.Signal(syscall.SIGTERM)
	if err := serve.Wait(); err != nil {
		t.Errorf("serve ended with %v after SIGTERM, want exit code 0", err)
	}
	if err := container(t, bin, nil, "healthcheck", "-addr", addr).Run(); err == nil {
		t.Error("healthcheck of a stopped server succeeded, want a failure")
	}
}

// buildAsDockerfile runs the build command that stands in the Dockerfile.
func buildAsDockerfile(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("Dockerfile")
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`(?m)^RUN (CGO_ENABLED=0 go build .*-o )/arrisbook (\S+)$`).FindStringSubmatch(string(text))
	if m == nil {
		t.Fatal("the Dockerfile has no static build")
	}
	bin := filepath.Join(openFolder(t), "arrisbook")
	cmd := exec.Command("sh", "-c", m[1]+bin+" "+m[2])
	cmd.Dir = "../.."
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", cmd, err, out)
	}
	return bin
}

// wantStatic checks that the program asks for no loader and no library: there
// are none in the image.
func wantStatic(t *testing.T, bin string) {
	t.Helper()
	f, err := elf.Open(bin)
	if err != nil {
		t.Skipf("not a program for the container: %v", err)
	}
	defer f.Close()
	for _, p := range f.Progs {
		if p.Type == elf.PT_INTERP {
			t.Error("the program asks for a loader")
		}
	}
	if libs, err := f.ImportedLibraries(); err != nil || len(libs) > 0 {
		t.Errorf("libraries = %v, %v, want none", libs, err)
	}
}

// container runs the program as in the container: nothing in the environment
// but what is set, the root folder, and where the test may, user 10001.
func container(t *testing.T, bin string, env []string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(context.WithoutCancel(t.Context()), bin, args...)
	cmd.Env, cmd.Dir, cmd.Stderr = append([]string{}, env...), "/", os.Stderr
	if env == nil {
		cmd.Stderr = nil // the health check fails until the server is up
	}
	if os.Getuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 10001, Gid: 10001}}
	}
	return cmd
}

// passwordServer makes a TCP door with a password to a PostgreSQL: the private
// server's data folder, started a second time by hand with other settings.
func passwordServer(t *testing.T) string {
	t.Helper()
	state := openFolder(t)
	srv, err := localpg.Start(t.Context(), localpg.Config{State: state, Disposable: true})
	if err != nil {
		needed(t, err)
	}
	psql(t, srv.URL(), `ALTER ROLE arrisbook PASSWORD 'p@ss/word'`)
	if err := srv.Stop(t.Context()); err != nil {
		t.Fatal(err)
	}
	data := filepath.Join(state, "data")
	hba := filepath.Join(state, "hba.conf")
	if err := os.WriteFile(hba, []byte("host all arrisbook 127.0.0.1/32 scram-sha-256\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	addr := freeAddr(t)
	_, port, _ := net.SplitHostPort(addr)
	info, err := os.Stat(data)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(postgresProgram(t), "-D", data, "-k", "", "-h", "127.0.0.1", "-p", port, "-c", "hba_file="+hba, "-c", "fsync=off")
	owner := info.Sys().(*syscall.Stat_t)
	cmd.Dir, cmd.Env = "/", []string{"LC_ALL=C.UTF-8"}
	if os.Getuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: owner.Uid, Gid: owner.Gid}}
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Signal(syscall.SIGINT)
		cmd.Wait()
	})
	return "postgres://arrisbook@" + addr + "/arrisbook?sslmode=disable"
}

func postgresProgram(t *testing.T) string {
	t.Helper()
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/postgres")
	if p, err := exec.LookPath("postgres"); err == nil {
		found = append(found, p)
	}
	if len(found) == 0 {
		t.Skip("PostgreSQL's server program is in none of the places this test looks in")
	}
	return found[len(found)-1]
}

func psql(t *testing.T, url, sql string) {
	t.Helper()
	if out, err := exec.Command("psql", "-X", "-q", "-c", sql, url).CombinedOutput(); err != nil {
		t.Fatalf("psql: %v\n%s", err, out)
	}
}

// needed skips where PostgreSQL is missing, unless it is required.
func needed(t *testing.T, err error) {
	t.Helper()
	if strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "db") {
		t.Fatal(err)
	}
	t.Skip(err)
}

// openFolder makes a folder that other accounts may pass through: the testing
// package's own are closed.
func openFolder(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "arrisbook-cmd-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	return dir
}

// freeAddr is an address nobody listens on now.
func freeAddr(t testing.TB) string {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	return ln.Addr().String()
}
