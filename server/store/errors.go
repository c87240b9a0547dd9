package store

import (
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// What callers act on. Everything else is a fault of the system.
var (
	// ErrNotFound: no such row, or none that this person may know of.
	ErrNotFound = errors.New("not found")
	// ErrTaken: a name, address or link that can be had only once is had.
	ErrTaken = errors.New("already taken")
	// ErrChanged: what was decided upon has changed in the meantime.
	ErrChanged = errors.New("changed in the meantime")
)

// fault wraps an error of PostgreSQL once with the operation; nil stays nil.
func fault(op string, err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, pgx.ErrNoRows) {
		err = ErrNotFound
	}
	var pg *pgconn.PgError
	if errors.As(err, &pg) && pg.Code == "23505" {
		err = fmt.Errorf("%w (%s)", ErrTaken, pg.ConstraintName)
	}
	return fmt.Errorf("store: %s: %w", op, err)
}
