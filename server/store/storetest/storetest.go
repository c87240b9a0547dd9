package storetest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/jackc/pgx/v5"

	"arrisbook/server/localpg"
	"arrisbook/server/store"
)

// New gives a test a migrated, empty database of its own.
func New(t testing.TB) *store.Store {
	t.Helper()
	return open(t, URL(t))
}

// URL is New for tests that need the connection string, to speak to the
// database directly or to hand it to a program.
func URL(t testing.TB) string {
	t.Helper()
	return create(t, server(t).template)
}

// EmptyURL is the connection string of a database without any schema.
func EmptyURL(t testing.TB) string {
	t.Helper()
	return create(t, "template0")
}

func open(t testing.TB, url string) *store.Store {
	t.Helper()
	st, err := store.Open(t.Context(), url, store.Options{MaxConns: 8})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(st.Close)
	return st
}

var databases atomic.Int64

// create copies a database for one test and drops it at the test's end.
func create(t testing.TB, template string) string {
	t.Helper()
	h := server(t)
	name := fmt.Sprintf("t_%d", databases.Add(1))
	// The default would write every test's database through the log.
	h.exec(t, "CREATE DATABASE "+name+" TEMPLATE "+template+" STRATEGY file_copy")
	t.Cleanup(func() { h.exec(t, "DROP DATABASE "+name+" WITH (FORCE)") })
	return h.url(name)
}

// server gives this binary's server, started at the first call.
func server(t testing.TB) *host {
	t.Helper()
	h, err := shared()
	none, missing := errors.AsType[*localpg.NoBinariesError](err)
	switch {
	case err == nil:
		return h
	case missing && !strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "db"):
		t.Skip(none)
	default:
		t.Fatal(err)
	}
	return h
}

// exec runs one statement outside every test database. The test's own context
// may be over already: databases are dropped after it.
func (h *host) exec(t testing.TB, sql string) {
	t.Helper()
	if err := h.run(context.Background(), sql); err != nil {
		t.Fatal(err)
	}
}

// run runs one statement on a connection of its own.
func (h *host) run(ctx context.Context, sql string) error {
	c, err := pgx.Connect(ctx, h.url("postgres"))
	if err != nil {
		return fmt.Errorf("storetest: %w", err)
	}
	defer c.Close(ctx)
	if _, err := c.Exec(ctx, sql); err != nil {
		return fmt.Errorf("storetest: %s: %w", sql, err)
	}
	return nil
}
