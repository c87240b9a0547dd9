package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// tries is how often a transaction that lost against another one is run.
const tries = 5

// InTx runs f in one transaction: what f returns nil for is committed,
// everything else is undone. A transaction that PostgreSQL breaks off to let
// another one through (a deadlock, a serialization failure) is run again, so f
// must do nothing but speak to the database.
func (s *Store) InTx(ctx context.Context, f func(tx pgx.Tx) error) error {
	for n := 1; ; n++ {
		err := s.once(ctx, f)
		if !brokenOff(err) || n == tries {
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(s.backOff(n)):
		}
	}
}

func (s *Store) once(ctx context.Context, f func(tx pgx.Tx) error) error {
	tx, err := s.pool.Begin(ctx)
	if err != nil {
		return fault("begin", err)
	}
	// Undoing must happen also when the request has gone away; after a commit
	// it does nothing.
	defer tx.Rollback(context.WithoutCancel(ctx))
	if err := f(tx); err != nil {
		return err
	}
	return fault("commit", tx.Commit(ctx))
}

// SQLSTATEs of a transaction that can be run again.
const (
	serializationFailure = "40001"
	deadlockDetected     = "40P01"
)

func brokenOff(err error) bool {
	pg, ok := errors.AsType[*pgconn.PgError](err)
	return ok && (pg.Code == serializationFailure || pg.Code == deadlockDetected)
}

// backOff grows with the tries. A running count spreads those who lost
// together, so that they do not meet again.
func (s *Store) backOff(n int) time.Duration {
	spread := time.Duration(s.losers.Add(1)%8) * time.Millisecond
	return time.Duration(5<<n)*time.Millisecond + spread
}
