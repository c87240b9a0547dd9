package localpg

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"strconv"
	"syscall"
)

// account is the operating system's account that runs the database.
type account struct {
	name     string
	uid, gid uint32
	// switched says that it is not this process's own account: PostgreSQL
	// refuses to run as root.
	switched bool
	// self is the name of the account this process runs under.
	self string
}

// serverAccount chooses the account: this one, unless this is root.
func serverAccount(data, asked string) (account, error) {
	me, err := user.Current()
	if err != nil {
		return account{}, fmt.Errorf("the database knows people by their account, but account %d has no name here: %w", os.Getuid(), err)
	}
	if os.Getuid() != 0 {
		a, err := accountOf(me)
		a.self = me.Username
		return a, err
	}
	u, err := unprivileged(data, asked)
	if err != nil {
		return account{}, err
	}
	a, err := accountOf(u)
	a.switched, a.self = true, me.Username
	return a, err
}

// unprivileged finds who runs the database for root.
func unprivileged(data, asked string) (*user.User, error) {
	info, err := os.Stat(data)
	switch {
	case err == nil && ownerOf(info) != 0:
		u, err := user.LookupId(strconv.Itoa(int(ownerOf(info))))
		if err != nil {
			return u, fmt.Errorf("%s belongs to account %d, which has no name here: %w", data, ownerOf(info), err)
		}
		return u, nil
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return &user.User{}, fmt.Errorf("data folder: %w", err)
	}
	if asked != "" {
		u, err := user.Lookup(asked)
		if err != nil {
			return u, fmt.Errorf("ARRISBOOK_PG_USER: %w", err)
		}
		if u.Uid == "0" {
			return u, fmt.Errorf("ARRISBOOK_PG_USER: PostgreSQL refuses to run as %s", asked)
		}
		return u, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			return u, nil
		}
	}
	return &user.User{}, errors.New("PostgreSQL refuses to run as root, and there is no account postgres or nobody: name one with ARRISBOOK_PG_USER")
}

func accountOf(u *user.User) (account, error) {
	uid, err := strconv.ParseUint(u.Uid, 10, 32)
	if err != nil {
		return account{}, fmt.Errorf("account %s: %w", u.Username, err)
	}
	gid, err := strconv.ParseUint(u.Gid, 10, 32)
	if err != nil {
		return account{}, fmt.Errorf("account %s: %w", u.Username, err)
	}
	return account{name: u.Username, uid: uint32(uid), gid: uint32(gid)}, nil
}

// credential is what a child needs to run under the account.
func (a account) credential() *syscall.Credential {
	if !a.switched {
		return nil
	}
	return &syscall.Credential{Uid: a.uid, Gid: a.gid}
}

// chown gives a path to the account.
func (a account) chown(path string) error {
	if !a.switched {
		return nil
	}
	return os.Lchown(path, int(a.uid), int(a.gid))
}

// mayPass says whether the account may go through a folder.
func (a account) mayPass(info fs.FileInfo) bool {
	st := info.Sys().(*syscall.Stat_t)
	switch {
	case st.Uid == a.uid:
		return info.Mode()&0o100 != 0
	case st.Gid == a.gid:
		return info.Mode()&0o010 != 0
	}
	return info.Mode()&0o001 != 0
}

// mineOrMissing refuses a folder in a public place that somebody else made.
func (a account) mineOrMissing(path string) error {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("socket folder: %w", err)
	case !info.IsDir() || (ownerOf(info) != a.uid && ownerOf(info) != uint32(os.Getuid())):
		return fmt.Errorf("%s is in the way and belongs to somebody else", path)
	}
	return nil
}

func ownerOf(info fs.FileInfo) uint32 { return info.Sys().(*syscall.Stat_t).Uid }
