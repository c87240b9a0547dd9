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
}

const attemptQuery = `
	SELECT no, client_key::text, sheet, wood, answers, result, score, out_of, sent_at
	FROM attempts WHERE class_id = $1 AND sheet_no = $2`

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
}

// Judged is an attempt ready to be kept.
type Judged struct {
	Sheet   grading.Sheet
	Wood    int
	Answers map[string]string
	Result  grading.Result
	// New are the steps whose text is new since the last attempt.
	New []grading.StepResult
	// KeepAsked says that the question for a check still stands.
	KeepAsked bool
}

// Judge decides about a submission from the sheet as it stands. last is nil
// before the first attempt. It must be pure: it may be called more than once.
type Judge func(sh Sheet, a Assignment, last *Attempt) (Judged, error)

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
	sh, err := oneSheet(ctx, tx, sub.ClassID, sub.Sheet)
	if err != nil {
		return 0, false, err
	}
	a, err := oneAssignment(ctx, tx, sub.ClassID, sh.AssignmentNo)
	if err != nil {
		return 0, false, err
	}
	var last *Attempt
	if sh.Attempts > 0 {
		l, err := oneAttempt(ctx, tx, sub.ClassID, sub.Sheet, sh.Attempts)
		if err != nil {
			return 0, false, err
		}
		last = &l
	}
	j, err := judge(sh, a, last)
	if err != nil {
		return 0, false, err
	}
	return sh.Attempts + 1, false, keep(ctx, tx, sub, sh, j)
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

// keep writes the attempt, its new answers, the count, and what it ends: a
// clearance is for the numbers it was given for and for no others.
func keep(ctx context.Context, tx pgx.Tx, sub Submission, sh Sheet, j Judged) error {
	no := sh.Attempts + 1
	_, err := tx.Exec(ctx, `
		INSERT INTO attempts (class_id, sheet_no, no, client_key, body_hash, sheet, wood, answers, result, score, out_of, sent_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
		sub.ClassID, sub.Sheet, no, sub.Key, sub.BodyHash, j.Sheet, j.Wood, j.Answers, j.Result, j.Result.Score, j.Result.OutOf, sub.At)
	if err != nil {
		return fault("keep attempt", err)
	}
	var steps, verdicts, patterns []string
	for _, r := range j.New {
		pattern := ""
		if r.Pattern != nil {
			pattern = r.Pattern.ID
		}
		steps, verdicts, patterns = append(steps, r.ID), append(verdicts, string(r.Verdict)), append(patterns, pattern)
	}
	_, err = tx.Exec(ctx, `
		WITH counted AS (
			INSERT INTO answers (class_id, assignment_no, step, sheet_no, attempt_no, verdict, pattern)
			SELECT $1, $4, n.step, $2, $3, n.verdict, n.pattern FROM unnest($5::text[], $6::text[], $7::text[]) AS n(step, verdict, pattern)),
		ended AS (
			UPDATE clearances SET revoked_at = $9, revoked_why = 'new numbers were sent'
			WHERE class_id = $1 AND sheet_no = $2 AND revoked_at IS NULL)
		UPDATE sheets SET attempts = $3, asked_at = CASE WHEN $8 THEN asked_at END
		WHERE class_id = $1 AND no = $2`,
		sub.ClassID, sub.Sheet, no, sh.AssignmentNo, steps, verdicts, patterns, j.KeepAsked, sub.At)
	return fault("keep attempt", err)
}
