package localpg

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"time"
)

// postmaster is the server process that this process started.
type postmaster struct {
	cmd    *exec.Cmd
	log    string // path of server.log
	from   int64  // where this run's part of the log begins
	err    error  // of Wait, once exited is closed
	exited chan struct{}
	asked  chan struct{} // closed when somebody asked it to stop
	ask    func()        // closes asked, once
}

// settings are the server's fixed settings. Sixty connections are a whole
// school's worth for one workbook; jit only costs on statements this short.
func settings(sock string, disposable bool) []string {
	s := []string{
		"listen_addresses=", "unix_socket_directories=" + sock, "unix_socket_permissions=0700", "port=" + port,
		"max_connections=60", "shared_buffers=64MB", "jit=off",
		"timezone=UTC", "log_timezone=UTC", "log_destination=stderr", "logging_collector=off",
		"log_line_prefix=%m [%p] ", "cluster_name=" + role,
	}
	if disposable {
		s = append(s, "fsync=off", "synchronous_commit=off", "full_page_writes=off")
	}
	return s
}

// launch starts the server. Its messages go to a file, never a pipe: it must
// not stop or fail because nobody reads.
func launch(dir folder, sock string, bin binaries, a account, disposable bool) (*postmaster, error) {
	log, from, err := openLog(dir.log())
	if err != nil {
		return nil, err
	}
	defer log.Close()
	args := []string{"-D", dir.data()}
	for _, s := range settings(sock, disposable) {
		args = append(args, "-c", s)
	}
	cmd := exec.Command(bin.postgres(), args...)
	asServer(cmd, a)
	cmd.Stdout, cmd.Stderr = log, log
	pm := &postmaster{cmd: cmd, log: dir.log(), from: from, exited: make(chan struct{}), asked: make(chan struct{})}
	pm.ask = sync.OnceFunc(func() { close(pm.asked) })
	started := make(chan error)
	go func() {
		// Locked for good: the thread that forks must live as long as the
		// server, see onOneThread.
		runtime.LockOSThread()
		err := cmd.Start()
		started <- err
		if err == nil {
			pm.err = cmd.Wait()
			close(pm.exited)
		}
	}()
	if err := <-started; err != nil {
		return nil, fmt.Errorf("start %s: %w", bin.postgres(), err)
	}
	return pm, nil
}

// logLimit is where server.log is put aside for a new one.
const logLimit = 8 << 20

// openLog opens server.log to be written on, and says where the new part
// begins. One old log is kept.
func openLog(path string) (*os.File, int64, error) {
	if info, err := os.Stat(path); err == nil && info.Size() > logLimit {
		if err := os.Rename(path, path+".old"); err != nil {
			return nil, 0, fmt.Errorf("server log: %w", err)
		}
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return nil, 0, fmt.Errorf("server log: %w", err)
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, 0, fmt.Errorf("server log: %w", err)
	}
	return f, info.Size(), nil
}

// server hands the running postmaster out. The lock is held until it is gone.
func (pm *postmaster) server(dir folder, sock string, l lock) *Server {
	s := &Server{url: urlOf(sock, database), done: make(chan error, 1)}
	go func() {
		defer close(s.done)
		<-pm.exited
		select {
		case <-pm.asked:
		default:
			s.done <- fmt.Errorf("the private database stopped by itself: %w", pm.why())
		}
	}()
	s.stop = func(ctx context.Context) error {
		defer l.release()
		err := pm.stop(ctx)
		if sock != dir.run() {
			os.Remove(sock) // in a public place; fails only where the server left something
		}
		return err
	}
	return s
}

// stop asks for a fast shutdown, then insists.
func (pm *postmaster) stop(ctx context.Context) error {
	pm.ask()
	wait := 20 * time.Second
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGQUIT, syscall.SIGKILL} {
		pm.cmd.Process.Signal(sig) // fails only when it is gone already
		select {
		case <-pm.exited:
			return nil
		case <-ctx.Done():
		case <-time.After(wait):
		}
		// Whoever is out of time still gets the database down, the hard way:
		// what was acknowledged is safe, the next start recovers.
		wait = 3 * time.Second
		ctx = context.WithoutCancel(ctx)
	}
	return fmt.Errorf("the private database (process %d) does not end", pm.cmd.Process.Pid)
}

// why says how the server ended, with the end of its log.
func (pm *postmaster) why() error {
	if pm.err == nil {
		return fmt.Errorf("it ended without an error\n%s", pm.tail())
	}
	return fmt.Errorf("%w\n%s", pm.err, pm.tail())
}

// tail gives the last lines of this run's log.
func (pm *postmaster) tail() string {
	text, err := os.ReadFile(pm.log)
	if err != nil || int64(len(text)) < pm.from {
		return "see " + pm.log
	}
	lines := strings.Split(strings.TrimSpace(string(text[pm.from:])), "\n")
	lines = lines[max(0, len(lines)-8):]
	return "the end of " + pm.log + ":\n  " + strings.Join(lines, "\n  ")
}
