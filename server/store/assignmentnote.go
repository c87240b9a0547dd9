package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// AssignmentNote says what was done to an assignment as a whole.
type AssignmentNote struct {
	Did    string    `db:"did"` // key released, key taken back, withdrawn, given out again
	Note   string    `db:"note"`
	ByName string    `db:"by_name"`
	At     time.Time `db:"at"`
}

// Act is one deed on an assignment: who, when, and the note for it.
type Act struct {
	By   int64
	At   time.Time
	Note string
}

// ReleaseKey releases an assignment's key. ErrChanged: it is released already.
func (s *Store) ReleaseKey(ctx context.Context, classID int64, no int, a Act) error {
	return s.act(ctx, classID, no, "key released", a, `
		UPDATE assignments SET released_at = $3 WHERE class_id = $1 AND no = $2 AND released_at IS NULL`, a.At)
}

// TakeKeyBack hides a key again that was released by hand. ErrChanged: it is
// not released.
func (s *Store) TakeKeyBack(ctx context.Context, classID int64, no int, a Act) error {
	return s.act(ctx, classID, no, "key taken back", a, `
		UPDATE assignments SET released_at = NULL WHERE class_id = $1 AND no = $2 AND released_at IS NOT NULL`)
}

// Withdraw hides an assignment from its students; nothing of it is lost.
// ErrChanged: it is withdrawn already.
func (s *Store) Withdraw(ctx context.Context, classID int64, no int, a Act) error {
	return s.act(ctx, classID, no, "withdrawn", a, `
		UPDATE assignments SET withdrawn_at = $3 WHERE class_id = $1 AND no = $2 AND withdrawn_at IS NULL`, a.At)
}

// GiveOutAgain undoes Withdraw. ErrChanged: it is not withdrawn.
func (s *Store) GiveOutAgain(ctx context.Context, classID int64, no int, a Act) error {
	return s.act(ctx, classID, no, "given out again", a, `
		UPDATE assignments SET withdrawn_at = NULL WHERE class_id = $1 AND no = $2 AND withdrawn_at IS NOT NULL`)
}

// act does one deed and writes it down in the same transaction.
func (s *Store) act(ctx context.Context, classID int64, no int, did string, a Act, sql string, more ...any) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, sql, append([]any{classID, no}, more...)...)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return ErrChanged
		}
		_, err = tx.Exec(ctx, `
			INSERT INTO assignment_notes (class_id, assignment_no, did, note, staff_id, at)
			VALUES ($1, $2, $3, $4, $5, $6)`, classID, no, did, a.Note, a.By, a.At)
		return err
	})
	return fault(did, err)
}

// AssignmentNotes gives what was done to an assignment, the newest first.
func (s *Store) AssignmentNotes(ctx context.Context, classID int64, no int) ([]AssignmentNote, error) {
	return all[AssignmentNote](ctx, s.pool, "assignment notes", `
		SELECT n.did, n.note, p.name AS by_name, n.at
		FROM assignment_notes n JOIN staff p ON p.id = n.staff_id
		WHERE n.class_id = $1 AND n.assignment_no = $2
		ORDER BY n.id DESC`, classID, no)
}
