package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// ErrOtherBody: a submission's key has been used for other numbers.
var ErrOtherBody = errors.New("the key belongs to other numbers")

// Attempt is what was sent once and what became of it.
type Attempt struct {
	No        int               `db:"no"`
	ClientKey string            `db:"client_key"`
	Sheet     grading.Sheet     `db:"sheet"` // the blank and tolerances it was judged by
	Wood      int               `db:"wood"`  // which measuring of the blank that was
	Answers   map[string]string `db:"answers"`
	Result    grading.Result    `db:"result"`
	Score     int               `db:"score"`
	OutOf     int               `db:"out_of"`
	SentAt    time.Time         `db:"sent_at"`
	// KeyNo is the key that Sheet and Result stand under: the newest that the
	// attempt was judged by.
	KeyNo int `db:"key_no"`
	// Units is how the class wrote lengths when it was sent; "" where that was
	// not written down yet.
	Units grading.Units `db:"units"`
	// TypedBy is who typed it in from paper; nil where the student sent it.
	TypedBy *string `db:"typed_by"`
}

const attemptQuery = `
	SELECT no, client_key::text, sheet, wood, answers, result, score, out_of, sent_at, key_no, units,
	       (SELECT p.name FROM staff p WHERE p.id = judged.typed_by) AS typed_by
	FROM judged WHERE class_id = $1 AND sheet_no = $2`

// Attempt gives one attempt of a sheet.
func (s *Store) Attempt(ctx context.Context, classID int64, sheet, no int) (Attempt, error) {
	return oneAttempt(ctx, s.pool, classID, sheet, no)
}

func oneAttempt(ctx context.Context, q querier, classID int64, sheet, no int) (Attempt, error) {
	return one[Attempt](ctx, q, "attempt", attemptQuery+` AND no = $3`, classID, sheet, no)
}

// AttemptsOf gives all attempts of a sheet, the newest first.
func (s *Store) AttemptsOf(ctx context.Context, classID int64, sheet int) ([]Attempt, error) {
	return all[Attempt](ctx, s.pool, "attempts", attemptQuery+` ORDER BY no DESC`, classID, sheet)
}

// Submission is one press of the button.
type Submission struct {
	ClassID  int64
	Sheet    int
	Key      string // uuid made when the page was made
	BodyHash []byte
	At       time.Time
	// TypedBy is the one of the staff who types it in from paper; 0 where the
	// student sends it.
	TypedBy int64
}

// Before is what stood before a press, read when the sheet's row was locked.
type Before struct {
	Sheet      Sheet
	Assignment Assignment
	Last       *Attempt // nil before the first attempt
	Slips      Slips    // of the student and of the class so far
}

// Judged is an attempt ready to be kept.
type Judged struct {
	Sheet   grading.Sheet
	Units   grading.Units
	Wood    int
	Answers map[string]string
	Result  grading.Result
	// New are the steps whose text is new since the last attempt.
	New []grading.StepResult
	// KeepAsked says that the question for a check still stands.
	KeepAsked bool
}

// Judge decides about a submission from what stands. It must be pure: it may
// be called more than once.
type Judge func(Before) (Judged, error)

// Submit keeps an attempt and gives its number. The same key with the same
// body gives the attempt that was kept the first time (replayed); with another
// body ErrOtherBody. Errors of judge are passed on. One press is one attempt
// however often it arrives: the sheet's row is locked before the key is looked
// for, and a unique constraint stands behind.
func (s *Store) Submit(ctx context.Context, sub Submission, judge Judge) (no int, replayed bool, err error) {
	err = s.InTx(ctx, func(tx pgx.Tx) error {
		no, replayed, err = submitIn(ctx, tx, sub, judge)
		return err
	})
	return no, replayed, err
}

func submitIn(ctx context.Context, tx pgx.Tx, sub Submission, judge Judge) (int, bool, error) {
	// What is read after the lock is what the last holder of it committed.
	if _, err := tx.Exec(ctx, `SELECT FROM sheets WHERE class_id = $1 AND no = $2 FOR UPDATE`, sub.ClassID, sub.Sheet); err != nil {
		return 0, false, fault("lock sheet", err)
	}
	if no, found, err := replay(ctx, tx, sub); err != nil || found {
		return no, found, err
	}
	if sub.TypedBy != 0 {
		if err := takenBack(ctx, tx, sub); err != nil {
			return 0, false, err
		}
	}
	b, err := before(ctx, tx, sub)
	if err != nil {
		return 0, false, err
	}
	j, err := judge(b)
	if err != nil {
		return 0, false, err
	}
	return b.Sheet.Attempts + 1, false, keep(ctx, tx, sub, b, j)
}

// before reads what a press is judged on. Who was taken off the roster sends
// nothing any more: the class's counts are without them.
func before(ctx context.Context, tx pgx.Tx, sub Submission) (b Before, err error) {
	if b.Sheet, err = one[Sheet](ctx, tx, "sheet", sheetQuery+` WHERE sh.class_id = $1 AND sh.no = $2 AND st.removed_at IS NULL`, sub.ClassID, sub.Sheet); err != nil {
		return b, err
	}
	if b.Assignment, err = oneAssignment(ctx, tx, sub.ClassID, b.Sheet.AssignmentNo); err != nil {
		return b, err
	}
	if b.Sheet.Attempts > 0 {
		last, err := oneAttempt(ctx, tx, sub.ClassID, sub.Sheet, b.Sheet.Attempts)
		if err != nil {
			return b, err
		}
		b.Last = &last
	}
	b.Slips, err = slipsBefore(ctx, tx, b.Sheet)
	return b, err
}

// replay looks for what the key was used for before.
func replay(ctx context.Context, tx pgx.Tx, sub Submission) (int, bool, error) {
	var no int
	var same bool
	err := tx.QueryRow(ctx, `
		SELECT no, body_hash = $4 FROM attempts
		WHERE class_id = $1 AND sheet_no = $2 AND client_key = $3`, sub.ClassID, sub.Sheet, sub.Key, sub.BodyHash).Scan(&no, &same)
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, false, nil
	}
	if err == nil && !same {
		return 0, false, fmt.Errorf("store: submit: %w", ErrOtherBody)
	}
	return no, err == nil, fault("look for key", err)
}

// takenBack refuses a press that arrives again after its attempt was taken
// back.
func takenBack(ctx context.Context, tx pgx.Tx, sub Submission) error {
	var back bool
	err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM takebacks WHERE class_id = $1 AND sheet_no = $2 AND client_key = $3)`,
		sub.ClassID, sub.Sheet, sub.Key).Scan(&back)
	if err == nil && back {
		return fmt.Errorf("store: submit: %w", ErrTakenBack)
	}
	return fault("look for key", err)
}

// keep writes the attempt, its new answers, the counts, and what it ends: a
// clearance is for the numbers it was given for and for no others. The counts
// come last and in the order of their key: they are the only rows that a class
// shares.
func keep(ctx context.Context, tx pgx.Tx, sub Submission, b Before, j Judged) error {
	no := b.Sheet.Attempts + 1
	n := answersOf(j.New)
	batch := &pgx.Batch{}
	batch.Queue(`
		INSERT INTO attempts (class_id, sheet_no, no, client_key, body_hash, sheet, wood, answers, result, score, out_of, sent_at, key_no, units, typed_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, nullif($15::bigint, 0))`,
		sub.ClassID, sub.Sheet, no, sub.Key, sub.BodyHash, j.Sheet, j.Wood, j.Answers, j.Result, j.Result.Score, j.Result.OutOf, sub.At,
		b.Assignment.KeyNo, j.Units, sub.TypedBy)
	batch.Queue(`
		WITH counted AS (
			INSERT INTO answers (class_id, assignment_no, step, sheet_no, attempt_no, verdict, pattern, detail)
			SELECT $1, $4, n.step, $2, $3, n.verdict, n.pattern, n.detail
			FROM unnest($5::text[], $6::text[], $7::text[], $8::text[]) AS n(step, verdict, pattern, detail)),
		ended AS (
			UPDATE clearances SET revoked_at = $10, revoked_why = 'new numbers were sent'
			WHERE class_id = $1 AND sheet_no = $2 AND revoked_at IS NULL)
		UPDATE sheets SET attempts = $3, asked_at = CASE WHEN $9 THEN asked_at END
		WHERE class_id = $1 AND no = $2`,
		sub.ClassID, sub.Sheet, no, b.Sheet.AssignmentNo, n.steps, n.verdicts, n.patterns, n.details, j.KeepAsked, sub.At)
	batch.Queue(progressOfAttempt, sub.ClassID, b.Sheet.AssignmentNo, sub.Sheet, no)
	batch.Queue(tallyOfAttempt, sub.ClassID, b.Sheet.AssignmentNo, sub.Sheet, no)
	return fault("keep attempt", tx.SendBatch(ctx, batch).Close())
}

// answerColumns are rows of the table of answers, column by column.
type answerColumns struct{ steps, verdicts, patterns, details []string }

func answersOf(results []grading.StepResult) answerColumns {
	var n answerColumns
	for _, r := range results {
		var slip grading.Slip
		if r.Pattern != nil {
			slip = *r.Pattern
		}
		n.steps, n.verdicts = append(n.steps, r.ID), append(n.verdicts, string(r.Verdict))
		n.patterns, n.details = append(n.patterns, slip.ID), append(n.details, slip.Detail)
	}
	return n
}
