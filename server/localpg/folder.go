package localpg

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// folder is the state folder and the names in it.
type folder struct{ root string }

func (f folder) data() string   { return filepath.Join(f.root, "data") }
func (f folder) run() string    { return filepath.Join(f.root, "run") }
func (f folder) log() string    { return filepath.Join(f.root, "server.log") }
func (f folder) lock() string   { return filepath.Join(f.root, "lock") }
func (f folder) unborn() string { return filepath.Join(f.root, "data.new") }

// openFolder makes the state folder where it is missing. Its mode lets the
// server's account pass through, and nobody look inside.
func openFolder(root string) (folder, error) {
	root, err := filepath.Abs(root)
	if err != nil {
		return folder{}, fmt.Errorf("state folder: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(root), 0o755); err != nil {
		return folder{}, fmt.Errorf("state folder: %w", err)
	}
	switch err := os.Mkdir(root, 0o711); {
	case err == nil:
		err = os.Chmod(root, 0o711) // whatever the umask took away
		if err != nil {
			return folder{}, fmt.Errorf("state folder: %w", err)
		}
	case !errors.Is(err, fs.ErrExist):
		return folder{}, fmt.Errorf("state folder: %w", err)
	}
	return folder{root}, nil
}

// prepare makes run/ for the account and checks that the account can get there.
func (f folder) prepare(a account) error {
	if a.switched {
		if err := reachable(f.root, a); err != nil {
			return err
		}
	}
	return ownFolder(f.run(), a)
}

// reachable says which parent folder shuts the account out, if any does.
func reachable(root string, a account) error {
	for d := root; ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
		if err != nil {
			return fmt.Errorf("state folder: %w", err)
		}
		if !a.mayPass(info) {
			return fmt.Errorf("the database runs as account %s, which may not pass through %s (mode %04o).\nRun: chmod o+x %s\nor choose another folder with -state", a.name, d, info.Mode().Perm(), d)
		}
		if d == filepath.Dir(d) {
			return nil
		}
	}
}

// ownFolder makes a folder that only the account can use. An existing one must
// be a folder and not a link to one.
func ownFolder(path string, a account) error {
	if err := os.Mkdir(path, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("state folder: %w", err)
	}
	info, err := os.Lstat(path)
	if err != nil {
		return fmt.Errorf("state folder: %w", err)
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is in the way: it is not a folder", path)
	}
	if err := a.chown(path); err != nil {
		return fmt.Errorf("state folder: %w", err)
	}
	if err := os.Chmod(path, 0o700); err != nil {
		return fmt.Errorf("state folder: %w", err)
	}
	return nil
}

// longestSocket is the longest socket path to rely on: the system's limit is
// 104 to 108 bytes, by system.
const longestSocket = 100

// socketFolder is run/, or a short folder under the system's folder for
// temporary files where run/ is too long a path for a socket.
func (f folder) socketFolder(a account) (string, error) {
	if len(socketIn(f.run())) <= longestSocket {
		return f.run(), nil
	}
	sum := sha256.Sum256([]byte(f.root))
	short := filepath.Join(os.TempDir(), fmt.Sprintf("arrisbook-%x", sum[:6]))
	if len(socketIn(short)) > longestSocket {
		return "", fmt.Errorf("both %s and %s are too long for a socket: choose a shorter -state", f.run(), short)
	}
	if err := a.mineOrMissing(short); err != nil {
		return "", err
	}
	return short, ownFolder(short, a)
}

// socketIn is the socket that PostgreSQL makes in a folder.
func socketIn(dir string) string { return filepath.Join(dir, ".s.PGSQL."+port) }
