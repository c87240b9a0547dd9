package store

import (
	"cmp"
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Options bound what the workbook asks of the database.
type Options struct {
	// MaxConns is the most connections at once; 0: 20. A class of thirty sends
	// in bursts of short statements; more connections only queue elsewhere.
	MaxConns int32
}

// Time limits of every session. A page that waits longer than this for the
// database is better told so.
const (
	statementTimeout = 5 * time.Second
	lockTimeout      = 3 * time.Second
	idleTimeout      = 10 * time.Second // inside a transaction
)

// Open connects to a database. The schema is not looked at: call
// [Store.Migrate] or [Store.CheckSchema] before anything else.
func Open(ctx context.Context, url string, o Options) (*Store, error) {
	cfg, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, &URLError{err}
	}
	cfg.MaxConns = cmp.Or(o.MaxConns, 20)
	limit(cfg.ConnConfig, statementTimeout)
	pool, err := pgxpool.NewWithConfig(ctx, cfg)
	if err != nil {
		return nil, fault("open", err)
	}
	s := &Store{pool: pool}
	if err := s.checkServer(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	return s, nil
}

// URLError says that a connection string cannot be read: waiting will not help.
type URLError struct{ err error }

// Error is one sentence; the password is not in it.
func (e *URLError) Error() string { return "the database's address cannot be read: " + e.err.Error() }

// Unwrap gives the cause.
func (e *URLError) Unwrap() error { return e.err }

// limit sets a session's time limits, as the server counts them.
func limit(cfg *pgx.ConnConfig, statement time.Duration) {
	for name, d := range map[string]time.Duration{
		"statement_timeout":                   statement,
		"lock_timeout":                        lockTimeout,
		"idle_in_transaction_session_timeout": idleTimeout,
	} {
		cfg.RuntimeParams[name] = fmt.Sprint(d.Milliseconds())
	}
	cfg.RuntimeParams["application_name"] = "arrisbook"
	cfg.RuntimeParams["timezone"] = "UTC"
}

// oldestServer is the oldest PostgreSQL the SQL here is written for, as
// server_version_num counts.
const oldestServer = 150000

// ServerError says that the PostgreSQL server is too old: waiting will not help.
type ServerError struct{ Version string }

// Error is one sentence.
func (e *ServerError) Error() string {
	return fmt.Sprintf("the database server is PostgreSQL %s, and 15 or newer is needed", e.Version)
}

func (s *Store) checkServer(ctx context.Context) error {
	var num int
	var version string
	err := s.pool.QueryRow(ctx, `SELECT current_setting('server_version_num')::int, current_setting('server_version')`).Scan(&num, &version)
	if err != nil {
		return fault("connect", err)
	}
	if num < oldestServer {
		return &ServerError{version}
	}
	return nil
}
