package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"arrisbook/server/localpg"
)

// serving is a server that runs inside the test.
type serving struct {
	addr, state string
	stop        func()
	code        chan int
	out, err    *said
}

// said collects output while others still write it.
type said struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *said) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

func startServing(t *testing.T, args ...string) *serving {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	s := &serving{addr: freeAddr(t), state: filepath.Join(openFolder(t), "state"), stop: stop, code: make(chan int, 1), out: &said{}, err: &said{}}
	args = append([]string{"serve", "-addr", s.addr, "-state", s.state}, args...)
	go func() { s.code <- run(ctx, args, strings.NewReader(""), s.out, s.err) }()
	t.Cleanup(stop)
	return s
}

// ends waits for the exit code.
func (s *serving) ends(t *testing.T) int {
	t.Helper()
	select {
	case code := <-s.code:
		return code
	case <-time.After(30 * time.Second):
		t.Fatalf("the server did not end\n%s", s.err)
		return -1
	}
}

// answer gets a page's status and text; 0: nothing answers.
func (s *serving) answer(path string) (int, string) {
	resp, err := http.Get("http://" + s.addr + path)
	if err != nil {
		return 0, err.Error()
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		return 0, err.Error()
	}
	return resp.StatusCode, string(text)
}

// until waits until a page answers with a status.
func (s *serving) until(t *testing.T, path string, want int) {
	t.Helper()
	got, text := 0, ""
	for range 1500 {
		if got, text = s.answer(path); got == want {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("GET %s = %d %s, want %d\n%s", path, got, text, want, s.err)
}

func needDatabase(t *testing.T) {
	t.Helper()
	if err := localpg.Available(""); err != nil {
		needed(t, err)
	}
	t.Setenv("DATABASE_URL", "")
}

// While the database is away the process lives and is not ready, and a stop
// is a stop.
func TestServeWaitsForDatabase(t *testing.T) {
	t.Setenv("DATABASE_URL", "postgres://nobody@"+freeAddr(t)+"/nothing")
	s := startServing(t)
	s.until(t, "/healthz", http.StatusOK)
	for path, want := range map[string]int{"/readyz": 503, "/": 503, "/healthz": 200} {
		if got, text := s.answer(path); got != want {
			t.Errorf("GET %s = %d %q, want %d", path, got, text, want)
		}
	}
	s.stop()
	if code := s.ends(t); code != exitDone {
		t.Errorf("exit code %d after a stop, want %d\n%s", code, exitDone, s.err)
	}
}

// When the private database dies the server ends with a message and code 1.
func TestServeEndsWithDatabase(t *testing.T) {
	needDatabase(t)
	s := startServing(t)
	s.until(t, "/readyz", http.StatusOK)
	syscall.Kill(databasePid(t, s.state), syscall.SIGKILL)
	if code := s.ends(t); code != exitFailed || !strings.Contains(s.err.String(), "stopped by itself") {
		t.Errorf("exit code %d, want %d and a message\n%s", code, exitFailed, s.err)
	}
}

func databasePid(t *testing.T, state string) int {
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

// A stop lets the request under way finish, and takes no new ones.
func TestServeFinishesRequests(t *testing.T) {
	needDatabase(t)
	s := startServing(t)
	s.until(t, "/readyz", http.StatusOK)
	c, err := net.Dial("tcp", s.addr)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	// A form whose second half comes after the stop.
	fmt.Fprintf(c, "POST /signin HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 20\r\n\r\nemail=a%%40b.example", s.addr, s.addr)
	time.Sleep(200 * time.Millisecond)
	s.stop()
	time.Sleep(200 * time.Millisecond)
	fmt.Fprint(c, "&x")
	c.SetReadDeadline(time.Now().Add(10 * time.Second))
	answer, err := io.ReadAll(c)
	if err != nil || !strings.HasPrefix(string(answer), "HTTP/1.1 4") {
		t.Errorf("the request under way got %q, %v, want the page that asks for the password", answer, err)
	}
	if code := s.ends(t); code != exitDone {
		t.Errorf("exit code %d, want %d\n%s", code, exitDone, s.err)
	}
	if got, _ := s.answer("/"); got != 0 {
		t.Errorf("a stopped server answers %d", got)
	}
}

// What is too large or too slow is turned away by the server itself.
func TestServeLimits(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for a time-out")
	}
	t.Setenv("DATABASE_URL", "postgres://nobody@"+freeAddr(t)+"/nothing")
	s := startServing(t)
	s.until(t, "/healthz", http.StatusOK)
	r, err := http.NewRequest(http.MethodGet, "http://"+s.addr+"/healthz", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("X-Long", strings.Repeat("a", 32<<10))
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("32 KiB of header got %d, want 431", resp.StatusCode)
	}
	c, err := net.Dial("tcp", s.addr)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprint(c, "GET / HTTP/1.1\r\nHost: ") // and no more
	c.SetReadDeadline(time.Now().Add(8 * time.Second))
	if _, err := io.ReadAll(c); err != nil {
		t.Errorf("a header that never ends is still waited for after 8 s: %v", err)
	}
}

// Started by the go tool, the server ends with it: the tool does not pass a
// termination on.
func TestGoRunPassesStopOn(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the whole program")
	}
	needDatabase(t)
	s := &serving{addr: freeAddr(t), state: filepath.Join(openFolder(t), "state"), err: &said{}}
	tool := exec.Command("go", "run", ".", "serve", "-addr", s.addr, "-state", s.state)
	tool.Stderr = s.err
	tool.WaitDelay = 10 * time.Second // it ends when the program has closed its standard error
	if err := tool.Start(); err != nil {
		t.Fatal(err)
	}
	s.until(t, "/readyz", http.StatusOK)
	pid := databasePid(t, s.state)
	tool.Process.Signal(syscall.SIGTERM)
	tool.Wait()
	for range 250 {
		if got, _ := s.answer("/healthz"); got == 0 && syscall.Kill(pid, 0) != nil {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("5 s after the go tool's end the server or its database still runs\n%s", s.err)
}
