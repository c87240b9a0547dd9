package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// Clearance is leave to cut, for exactly the values of one attempt.
type Clearance struct {
	No         int        `db:"no"`
	AttemptNo  int        `db:"attempt_no"`
	Wood       int        `db:"wood"`
	ClearedBy  int64      `db:"cleared_by"`
	ByName     string     `db:"by_name"`
	ClearedAt  time.Time  `db:"cleared_at"`
	RevokedAt  *time.Time `db:"revoked_at"`
	RevokedWhy *string    `db:"revoked_why"`
}

// Stands says whether the leave still holds.
func (c Clearance) Stands() bool { return c.RevokedAt == nil }

// Clearances gives all of a sheet, the newest first.
func (s *Store) Clearances(ctx context.Context, classID int64, sheet int) ([]Clearance, error) {
	rows, err := s.pool.Query(ctx, `
		SELECT c.no, c.attempt_no, c.wood, c.cleared_by, p.name AS by_name, c.cleared_at, c.revoked_at, c.revoked_why
		FROM clearances c JOIN staff p ON p.id = c.cleared_by
		WHERE c.class_id = $1 AND c.sheet_no = $2
		ORDER BY c.no DESC`, classID, sheet)
	if err != nil {
		return nil, fault("clearances", err)
	}
	all, err := pgx.CollectRows(rows, pgx.RowToStructByName[Clearance])
	return all, fault("clearances", err)
}

// Clear gives leave to cut for an attempt as it was seen under a key. Anything
// that came since (a newer attempt, another measuring of the wood, another
// key, another clearance) makes it ErrChanged and leaves everything as it was.
func (s *Store) Clear(ctx context.Context, classID int64, sheet, attempt, key int, by int64, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		// The row is locked first: a number sent at the same moment either
		// came before, and is seen here, or waits and revokes this clearance.
		var attempts, wood int
		err := tx.QueryRow(ctx, `SELECT attempts, wood FROM sheets WHERE class_id = $1 AND no = $2 FOR UPDATE`,
			classID, sheet).Scan(&attempts, &wood)
		if err != nil {
			return err
		}
		if attempts != attempt {
			return ErrChanged
		}
		tag, err := tx.Exec(ctx, `
			INSERT INTO clearances (class_id, sheet_no, no, attempt_no, wood, cleared_by, cleared_at)
			SELECT $1, $2, 1 + (SELECT count(*) FROM clearances WHERE class_id = $1 AND sheet_no = $2), a.no, a.wood, $4, $5
			FROM judged a
			WHERE a.class_id = $1 AND a.sheet_no = $2 AND a.no = $3 AND a.wood = $6 AND a.key_no = $7
			ON CONFLICT (class_id, sheet_no) WHERE revoked_at IS NULL DO NOTHING`,
			classID, sheet, attempt, by, at, wood, key)
		if err != nil {
			return err
		}
		if tag.RowsAffected() != 1 {
			return ErrChanged
		}
		_, err = tx.Exec(ctx, `UPDATE sheets SET asked_at = NULL WHERE class_id = $1 AND no = $2`, classID, sheet)
		return err
	})
	if errors.Is(err, ErrChanged) {
		return fmt.Errorf("store: clear to cut: %w", ErrChanged)
	}
	return fault("clear to cut", err)
}

// Revoke takes a standing clearance back, with the reason that the student
// reads. ErrNotFound: none stands.
func (s *Store) Revoke(ctx context.Context, classID int64, sheet int, why string, at time.Time) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE clearances SET revoked_at = $3, revoked_why = $4
		WHERE class_id = $1 AND sheet_no = $2 AND revoked_at IS NULL`, classID, sheet, at, why)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrNotFound
	}
	return fault("revoke clearance", err)
}
