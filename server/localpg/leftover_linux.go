package localpg

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// clearLeftovers ends what a process killed without warning left running on
// the data folder, and removes the files that would hold a new server up. It
// is called under the lock, so nobody else runs a server here.
//
// A process is ours only if its working folder is data/: PostgreSQL's server
// and all its children stand there. All of them must be gone before
// postmaster.pid goes, since an orphaned one may still write. Where we may not
// look at the account's processes (a container that withholds the right to),
// the file stays, and PostgreSQL judges by itself.
func clearLeftovers(ctx context.Context, data, sock string, a account, log *slog.Logger) error {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGQUIT, syscall.SIGKILL} {
		left, err := standingIn(data, a.uid)
		if err != nil {
			return err
		}
		if len(left.pids) == 0 {
			break
		}
		log.Warn("ending what is left of an earlier run", "processes", left.pids, "signal", sig.String())
		for _, pid := range left.pids {
			syscall.Kill(pid, sig) // gone already: as good
		}
		if err := waitGone(ctx, data, a.uid); err != nil {
			return err
		}
	}
	left, err := standingIn(data, a.uid)
	switch {
	case err != nil:
		return err
	case len(left.pids) > 0:
		return fmt.Errorf("processes %v still run on %s and do not end", left.pids, data)
	case left.hidden:
		log.Warn("the account's processes cannot be looked at: left-overs of an earlier run are not cleared", "account", a.name)
		return nil
	}
	return removeAll(filepath.Join(data, "postmaster.pid"), socketIn(sock), socketIn(sock)+".lock")
}

// waitGone waits until nobody stands in the folder, but not for long.
func waitGone(ctx context.Context, data string, uid uint32) error {
	short, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	for {
		left, err := standingIn(data, uid)
		if err != nil || len(left.pids) == 0 {
			return err
		}
		if pause(short) != nil {
			return ctx.Err() // nil: time for a harder signal
		}
	}
}

// standing are PostgreSQL's processes in a folder. hidden says that the
// account has some that we may not look at.
type standing struct {
	pids   []int
	hidden bool
}

// standingIn finds the account's PostgreSQL processes whose working folder it
// is.
func standingIn(folder string, uid uint32) (standing, error) {
	folder, err := filepath.EvalSymlinks(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return standing{}, nil
	}
	if err != nil {
		return standing{}, fmt.Errorf("data folder: %w", err)
	}
	procs, err := os.ReadDir("/proc")
	if err != nil {
		return standing{}, fmt.Errorf("processes: %w", err)
	}
	var found standing
	for _, p := range procs {
		pid, err := strconv.Atoi(p.Name())
		if err != nil || !isPostgres(pid, uid) {
			continue
		}
		switch cwd, err := os.Readlink(fmt.Sprintf("/proc/%d/cwd", pid)); {
		case errors.Is(err, fs.ErrPermission):
			found.hidden = true
		case err == nil && cwd == folder: // else it has just ended
			found.pids = append(found.pids, pid)
		}
	}
	return found, nil
}

// isPostgres says whether a process is one of the account's PostgreSQL, and
// alive: one that has ended and that nobody waited for stays in the list.
func isPostgres(pid int, uid uint32) bool {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid)) // "PID (NAME) STATE …"
	if err != nil {
		return false // it has just ended
	}
	text := string(stat)
	if !strings.Contains(text, " (postgres) ") || strings.Contains(text, " (postgres) Z ") {
		return false
	}
	info, err := os.Stat(fmt.Sprintf("/proc/%d", pid))
	return err == nil && ownerOf(info) == uid
}

func removeAll(paths ...string) error {
	for _, p := range paths {
		if err := os.Remove(p); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("left-overs: %w", err)
		}
	}
	return nil
}
