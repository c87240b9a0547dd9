package store

import (
	"context"
	"sync/atomic"

	"github.com/jackc/pgx/v5/pgxpool"
)

// Store is the database. It is safe for use by many requests at once.
type Store struct {
	pool   *pgxpool.Pool
	losers atomic.Uint32 // see backOff
}

// Ping says whether the database answers.
func (s *Store) Ping(ctx context.Context) error { return fault("ping", s.pool.Ping(ctx)) }

// Close gives the connections back.
func (s *Store) Close() { s.pool.Close() }
