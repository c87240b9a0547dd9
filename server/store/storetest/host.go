package storetest

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"

	"github.com/jackc/pgx/v5"

	"arrisbook/migrations"
	"arrisbook/server/localpg"
	"arrisbook/server/store"
)

// host is the server of one test binary. It ends with the binary.
type host struct {
	base     string // connection string of the server's first database
	template string // name of the migrated database
}

func (h *host) url(db string) string { return strings.Replace(h.base, "/arrisbook?", "/"+db+"?", 1) }

// shared starts the server once for all tests of the binary.
var shared = sync.OnceValues(func() (*host, error) {
	ctx := context.Background()
	srv, err := startInRow(ctx)
	if err != nil {
		return nil, fmt.Errorf("storetest: %w", err)
	}
	h := &host{base: srv.URL()}
	if err := h.sweep(ctx); err != nil {
		return nil, err
	}
	return h, h.makeTemplate(ctx)
})

// rowLength is more test binaries than ever run at once.
const rowLength = 64

// startInRow starts a server in the first free state folder of the row.
func startInRow(ctx context.Context) (*localpg.Server, error) {
	row := filepath.Join(os.TempDir(), fmt.Sprintf("arrisbook-test-%d", os.Getuid()))
	if err := ownRow(row); err != nil {
		return nil, err
	}
	for n := range rowLength {
		state := filepath.Join(row, fmt.Sprint(n))
		srv, err := localpg.Start(ctx, localpg.Config{State: state, Alone: true, Disposable: true})
		if !errors.Is(err, localpg.ErrHeld) {
			return srv, err
		}
	}
	return nil, fmt.Errorf("all %d state folders in %s are in use", rowLength, row)
}

// ownRow makes the row's folder. The server's account must be able to pass
// through it; nobody else may have put it there.
func ownRow(row string) error {
	if err := os.Mkdir(row, 0o711); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	info, err := os.Lstat(row)
	if err != nil {
		return err
	}
	if st := info.Sys().(*syscall.Stat_t); !info.IsDir() || int(st.Uid) != os.Getuid() {
		return fmt.Errorf("%s is in the way and belongs to somebody else", row)
	}
	return os.Chmod(row, 0o711)
}

// sweep drops what an earlier binary left: tests' databases of one that was
// killed, and templates of other migrations.
func (h *host) sweep(ctx context.Context) error {
	c, err := pgx.Connect(ctx, h.url("postgres"))
	if err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	defer c.Close(ctx)
	rows, err := c.Query(ctx, `SELECT datname FROM pg_database WHERE datname LIKE 't\_%' OR datname LIKE 'template\_%' AND datname <> $1`, templateName())
	if err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	for _, name := range names {
		if _, err := c.Exec(ctx, "DROP DATABASE "+name+" WITH (FORCE)"); err != nil {
			return fmt.Errorf("storetest: %w", err)
		}
	}
	return nil
}

// templateName names the template by what the migrations say, so that a
// changed migration never meets an old template.
func templateName() string {
	sum := sha256.New()
	names, _ := fs.Glob(migrations.FS, "*.sql") // fails on a bad pattern only
	for _, name := range names {
		text, err := migrations.FS.ReadFile(name)
		if err != nil {
			panic(err) // embedded: cannot fail
		}
		fmt.Fprintf(sum, "%s\n%s\n", name, text)
	}
	return fmt.Sprintf("template_%x", sum.Sum(nil)[:6])
}

// makeTemplate migrates a database under another name first: a template that
// has its name is whole.
func (h *host) makeTemplate(ctx context.Context) error {
	h.template = templateName()
	c, err := pgx.Connect(ctx, h.url("postgres"))
	if err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	defer c.Close(ctx)
	var there bool
	if err := c.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, h.template).Scan(&there); err != nil || there {
		return err
	}
	if _, err := c.Exec(ctx, "CREATE DATABASE t_making TEMPLATE template0 STRATEGY file_copy"); err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	if err := migrate(ctx, h.url("t_making")); err != nil {
		return err
	}
	if _, err := c.Exec(ctx, "ALTER DATABASE t_making RENAME TO "+h.template); err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	return nil
}

func migrate(ctx context.Context, url string) error {
	st, err := store.Open(ctx, url, store.Options{MaxConns: 2})
	if err != nil {
		return err
	}
	defer st.Close()
	_, err = st.Migrate(ctx)
	return err
}
