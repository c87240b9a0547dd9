package localpg

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"
)

// ensureCluster makes the data folder where there is none yet. It is made
// beside its place and moved there whole, so that a start cut short leaves
// nothing half made behind.
func ensureCluster(ctx context.Context, cfg Config, dir folder, bin binaries, a account) error {
	if _, err := os.Stat(filepath.Join(dir.data(), "PG_VERSION")); err == nil {
		return nil
	}
	if _, err := os.Stat(dir.data()); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s is there but holds no database: move it away, or choose another folder with -state", dir.data())
	}
	cfg.Log.Info("making a new private database", "folder", dir.data())
	if err := os.RemoveAll(dir.unborn()); err != nil {
		return fmt.Errorf("new database: %w", err)
	}
	if err := ownFolder(dir.unborn(), a); err != nil {
		return err
	}
	if err := initdb(ctx, bin, dir.unborn(), a, cfg.Disposable); err != nil {
		return err
	}
	if err := os.Rename(dir.unborn(), dir.data()); err != nil {
		return fmt.Errorf("new database: %w", err)
	}
	return syncFolder(dir.root)
}

// initdb runs PostgreSQL's initdb into an empty folder.
func initdb(ctx context.Context, bin binaries, into string, a account, disposable bool) error {
	args := []string{
		"-D", into, "-U", role, "--encoding=UTF8", "--locale=C.UTF-8",
		"--auth-local=peer", "--auth-host=reject", "--data-checksums", "--no-instructions",
	}
	if disposable {
		args = append(args, "--no-sync")
	}
	cmd := exec.CommandContext(ctx, bin.initdb(), args...)
	cmd.Cancel = func() error { return cmd.Process.Signal(syscall.SIGTERM) }
	cmd.WaitDelay = 5 * time.Second
	asServer(cmd, a)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := onOneThread(cmd.Run); err != nil {
		return fmt.Errorf("initdb: %w\n%s", err, strings.TrimSpace(said.String()))
	}
	return nil
}

// asServer sets a child up to run under the server's account, in a place every
// account can stand in, with nothing of this process's environment.
func asServer(cmd *exec.Cmd, a account) {
	cmd.Dir = "/"
	cmd.Env = []string{"PATH=/usr/bin:/bin", "LC_ALL=C.UTF-8", "TZ=UTC"}
	cmd.SysProcAttr = childAttr(a.credential())
}

// onOneThread keeps the forking thread alive as long as its child: the system
// ends such a child when the thread that forked it ends.
func onOneThread(f func() error) error {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	return f()
}

// syncFolder makes a rename in a folder last through a power cut.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("new database: %w", err)
	}
	defer d.Close()
	if err := d.Sync(); err != nil {
		return fmt.Errorf("new database: %w", err)
	}
	return nil
}
