package store

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Limits of one connection: no statement, wait for a lock or forgotten
// transaction may hold up a class.
var sessionLimits = map[string]string{
	"statement_timeout":                   "5s",
	"lock_timeout":                        "3s",
	"idle_in_transaction_session_timeout": "10s",
	"timezone":                            "UTC",
	"application_name":                    "arrisbook",
}

// Options settle how a store uses its database.
type Options struct {
	// MaxConns bounds the connections; 0 takes 16.
	MaxConns int32
}

// Open connects to the database at a URL. It does not look at the schema.
func Open(ctx context.Context, url string, o Options) (*Store, error) {
	cfg, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, fmt.Errorf("store: open: %w", err)
	}
	cfg.MaxConns = 16
	if o.MaxConns > 0 {
		cfg.MaxConns = o.MaxConns
	}
	for name, value := range sessionLimits {
		cfg.ConnConfig.RuntimeParams[name] = value
	}
	pool, err := pgxpool.NewWithConfig(ctx, cfg)
	if err != nil {
		return nil, fmt.Errorf("store: open: %w", err)
	}
	return &Store{pool: pool}, nil
}

// txTries bounds how often a transaction is tried that lost against another.
const txTries = 6

// InTx runs fn in one transaction. It is tried again where PostgreSQL says that
// it lost against another one, so fn must not keep anything outside it.
func (s *Store) InTx(ctx context.Context, fn func(pgx.Tx) error) error {
	var err error
	for try := range txTries {
		err = pgx.BeginFunc(ctx, s.pool, fn)
		if !lostRace(err) {
			return err
		}
		pause := time.Duration(5+rand.IntN(10)) * time.Millisecond << try
		select {
		case <-time.After(pause):
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return err
}

// lostRace tells serialization failures and deadlocks, which a second try
// mends, from all other errors.
func lostRace(err error) bool {
	var pg *pgconn.PgError
	return errors.As(err, &pg) && (pg.Code == "40001" || pg.Code == "40P01")
}
