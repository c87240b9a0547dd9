package localpg

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"syscall"
)

// lock is the ownership of a state folder. The system drops it when the
// process ends, however it ends. The file also says where the owner's socket
// is, for those who attach.
type lock struct{ file *os.File }

// takeLock takes the lock; mine is false where another process holds it.
func takeLock(path string) (l lock, mine bool, err error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return lock{}, false, fmt.Errorf("state folder: %w", err)
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return lock{}, false, f.Close()
	}
	if err == nil {
		err = f.Truncate(0) // an old owner's socket must not be taken for ours
	}
	if err != nil {
		f.Close()
		return lock{}, false, fmt.Errorf("lock %s: %w", path, err)
	}
	return lock{f}, true, nil
}

// write tells where the socket is.
func (l lock) write(sock string) error {
	_, err := l.file.WriteAt([]byte(sock+"\n"), 0)
	if err != nil {
		return fmt.Errorf("lock: %w", err)
	}
	return nil
}

func (l lock) release() { l.file.Close() }

// held says whether some process holds the lock.
func held(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	return errors.Is(syscall.Flock(int(f.Fd()), syscall.LOCK_SH|syscall.LOCK_NB), syscall.EWOULDBLOCK)
}

// socketOf reads where the owner's socket is; "" while it is not ready.
func socketOf(path string) string {
	text, err := os.ReadFile(path)
	if err != nil {
		return ""
	}
	sock, whole := strings.CutSuffix(string(text), "\n")
	if !whole {
		return ""
	}
	return sock
}
