package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// ErrTakenBack: the key of a press belongs to an attempt that was typed in from
// paper and taken back since.
var ErrTakenBack = errors.New("the attempt was taken back")

// Typed is one attempt that the staff typed in from paper.
type Typed struct {
	SheetNo      int       `db:"sheet_no"`
	AssignmentNo int       `db:"assignment_no"`
	Title        string    `db:"title"`
	Student      string    `db:"student"`
	Bench        int       `db:"bench"`
	No           int       `db:"no"`
	ByName       string    `db:"by_name"`
	At           time.Time `db:"sent_at"`
	Score        int       `db:"score"`
	OutOf        int       `db:"out_of"`
	// Newest says that nothing was sent on the sheet since, and Cleared that
	// leave to cut was given on it: only what is newest and was never cleared
	// can be taken back.
	Newest  bool `db:"newest"`
	Cleared bool `db:"cleared"`
}

// TypedSince lists what was typed in from paper since a time, the newest first.
func (s *Store) TypedSince(ctx context.Context, classID int64, since time.Time) ([]Typed, error) {
	return all[Typed](ctx, s.pool, "typed attempts", `
		SELECT a.sheet_no, sh.assignment_no, t.title, st.name AS student, st.bench, a.no, p.name AS by_name, a.sent_at,
		       a.score, a.out_of, a.no = sh.attempts AS newest,
		       EXISTS (SELECT FROM clearances c WHERE c.class_id = a.class_id AND c.sheet_no = a.sheet_no AND c.attempt_no = a.no) AS cleared
		FROM judged a
		JOIN sheets sh ON sh.class_id = a.class_id AND sh.no = a.sheet_no
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no
		JOIN assignments t ON t.class_id = sh.class_id AND t.no = sh.assignment_no
		JOIN staff p ON p.id = a.typed_by
		WHERE a.class_id = $1 AND a.typed_by IS NOT NULL AND a.sent_at >= $2
		ORDER BY a.sent_at DESC, a.sheet_no, a.no DESC`, classID, since)
}

// TakeBack takes an attempt that was typed in from paper since a time off its
// sheet, and out of every count. It is kept whole beside. [ErrChanged]: there
// is none, or something was sent on the sheet or cleared since. What it had
// ended (leave to cut, a question for a check) does not come back.
func (s *Store) TakeBack(ctx context.Context, classID int64, sheet, attempt int, since time.Time, by int64, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		var assignment int
		if err := tx.QueryRow(ctx, `SELECT assignment_no FROM sheets WHERE class_id = $1 AND no = $2`, classID, sheet).Scan(&assignment); err != nil {
			return err
		}
		if err := lockAssignment(ctx, tx, classID, assignment); err != nil {
			return err
		}
		tag, err := tx.Exec(ctx, `
			INSERT INTO takebacks (class_id, sheet_no, no, attempt_no, client_key, attempt, results, taken_by, taken_at)
			SELECT $1, $2, 1 + (SELECT count(*) FROM takebacks WHERE class_id = $1 AND sheet_no = $2), a.no, a.client_key, to_jsonb(a),
			       (SELECT coalesce(jsonb_agg(to_jsonb(r) ORDER BY r.key_no), '[]') FROM results r
			        WHERE r.class_id = $1 AND r.sheet_no = $2 AND r.attempt_no = a.no), $5, $6
			FROM attempts a JOIN sheets sh ON sh.class_id = a.class_id AND sh.no = a.sheet_no
			WHERE a.class_id = $1 AND a.sheet_no = $2 AND a.no = $3 AND a.no = sh.attempts AND a.typed_by IS NOT NULL AND a.sent_at >= $4
			  AND NOT EXISTS (SELECT FROM clearances c WHERE c.class_id = $1 AND c.sheet_no = $2 AND c.attempt_no = $3)`,
			classID, sheet, attempt, since, by, at)
		if err != nil {
			return err
		}
		if tag.RowsAffected() != 1 {
			return ErrChanged
		}
		for _, sql := range []string{
			`DELETE FROM answers WHERE class_id = $1 AND sheet_no = $2 AND attempt_no = $3`,
			`DELETE FROM results WHERE class_id = $1 AND sheet_no = $2 AND attempt_no = $3`,
			`DELETE FROM attempts WHERE class_id = $1 AND sheet_no = $2 AND no = $3`,
			`UPDATE sheets SET attempts = $3 - 1 WHERE class_id = $1 AND no = $2`,
		} {
			if _, err := tx.Exec(ctx, sql, classID, sheet, attempt); err != nil {
				return err
			}
		}
		return recountAssignment(ctx, tx, classID, assignment)
	})
	if errors.Is(err, ErrChanged) {
		return fmt.Errorf("store: take back: %w", ErrChanged)
	}
	return fault("take back", err)
}
