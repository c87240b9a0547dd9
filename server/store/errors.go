package store

import (
	"errors"
	"fmt"
	"io"
	"net"
	"slices"
	"strings"

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
	// ErrAway: the database does not answer, or not in time.
	ErrAway = errors.New("the database does not answer")
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
	if isAway(err) {
		err = fmt.Errorf("%w: %w", ErrAway, err)
	}
	return fmt.Errorf("store: %s: %w", op, err)
}

// Codes that PostgreSQL gives when it ends a connection, takes none, or breaks
// off a statement that waited or worked too long.
var awayCodes = []string{"57P01", "57P02", "57P03", "57P05", "53300", "55000", "55P03", "57014"}

// isAway says that an error tells nothing about what was asked: the same
// question may well be answered a moment later.
func isAway(err error) bool {
	if pg, ok := errors.AsType[*pgconn.PgError](err); ok {
		return slices.Contains(awayCodes, pg.Code) || strings.HasPrefix(pg.Code, "08")
	}
	_, connect := errors.AsType[*pgconn.ConnectError](err)
	_, network := errors.AsType[*net.OpError](err)
	return connect || network || pgconn.Timeout(err) || errors.Is(err, io.ErrUnexpectedEOF)
}
