package localpg

import (
	"cmp"
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
// postmaster.pid goes, since an orphaned one may still write.
func clearLeftovers(ctx context.Context, data, sock string, log *slog.Logger) error {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGQUIT, syscall.SIGKILL} {
		pids, err := standingIn(data)
		if err != nil {
			return err
		}
		if len(pids) == 0 {
			break
		}
		log.Warn("ending what is left of an earlier run", "processes", pids, "signal", sig.String())
		for _, pid := range pids {
			syscall.Kill(pid, sig) // gone already: as good
		}
		if err := waitGone(ctx, data); err != nil {
			return err
		}
	}
	if pids, err := standingIn(data); err != nil || len(pids) > 0 {
		return cmp.Or(err, fmt.Errorf("processes %v still run on %s and do not end", pids, data))
	}
	return removeAll(filepath.Join(data, "postmaster.pid"), socketIn(sock), socketIn(sock)+".lock")
}

// waitGone waits until nobody stands in the folder, but not for long.
func waitGone(ctx context.Context, data string) error {
	short, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	for {
		pids, err := standingIn(data)
		if err != nil || len(pids) == 0 {
			return err
		}
		if pause(short) != nil {
			return ctx.Err() // nil: time for a harder signal
		}
	}
}

// standingIn lists the PostgreSQL processes whose working folder it is.
func standingIn(folder string) ([]int, error) {
	folder, err := filepath.EvalSymlinks(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return []int{}, nil
	}
	if err != nil {
		return nil, fmt.Errorf("data folder: %w", err)
	}
	procs, err := os.ReadDir("/proc")
	if err != nil {
		return nil, fmt.Errorf("processes: %w", err)
	}
	pids := []int{}
	for _, p := range procs {
		pid, err := strconv.Atoi(p.Name())
		if err != nil {
			continue // not a process
		}
		// A process that has ended, or is somebody else's, cannot be read: it
		// is not one of ours.
		cwd, err := os.Readlink(filepath.Join("/proc", p.Name(), "cwd"))
		if err != nil || cwd != folder {
			continue
		}
		comm, err := os.ReadFile(filepath.Join("/proc", p.Name(), "comm"))
		if err == nil && strings.TrimSpace(string(comm)) == "postgres" {
			pids = append(pids, pid)
		}
	}
	return pids, nil
}

func removeAll(paths ...string) error {
	for _, p := range paths {
		if err := os.Remove(p); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("left-overs: %w", err)
		}
	}
	return nil
}
