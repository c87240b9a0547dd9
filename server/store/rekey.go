package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// Rekeyed is a new key with all that it does.
type Rekeyed struct {
	Key     Key // its number, name and time are filled in here
	Sheets  []KeyedSheet
	Results []NewResult
	// Ended are the sheets whose leave to cut ends, and EndedWhy the reason that
	// the student reads.
	Ended    []int
	EndedWhy string
	// Unasked are the sheets that leave the queue for a check.
	Unasked []int
}

// KeyedSheet is a sheet under a new key; Keyed nil: the key changes nothing of
// it.
type KeyedSheet struct {
	No    int
	Keyed *grading.Sheet
}

// NewResult is an attempt judged again. Fresh are the answers that were new in
// it, for counting.
type NewResult struct {
	SheetNo, AttemptNo int
	Sheet              grading.Sheet
	Result             grading.Result
	Fresh              []grading.StepResult
}

// Rekey makes a new key for an assignment and judges everything that was sent
// by it again, all in one transaction, and gives the key's number. decide sees
// the work as it then stands, locked; it must be pure, and its error leaves
// everything as it was. from is the key that the instructor saw: ErrChanged
// when there is a newer one.
//
// Nothing is overwritten: what was judged before stays with its key. Numbers
// that are sent meanwhile wait, and are then judged by the new key.
func (s *Store) Rekey(ctx context.Context, classID int64, assignment, from int, by Act, decide func(Work) (Rekeyed, error)) (int, error) {
	no := from + 1
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		w, err := lockWork(ctx, tx, classID, assignment)
		if err != nil {
			return err
		}
		if w.Assignment.KeyNo != from {
			return ErrChanged
		}
		r, err := decide(w)
		if err != nil {
			return err
		}
		return rekeyIn(ctx, tx, w.Assignment, no, by, r)
	})
	return no, fault("make a key", err)
}

// lockWork locks an assignment against other keys and new sheets, then its
// sheets in order against everything else, and reads what stands. The
// assignment's lock is the one that lets counts refer to it: whoever sends a
// number holds a sheet first and needs that.
func lockWork(ctx context.Context, tx pgx.Tx, classID int64, assignment int) (Work, error) {
	if err := lockAssignment(ctx, tx, classID, assignment); err != nil {
		return Work{}, err
	}
	return workOn(ctx, tx, classID, assignment)
}

func lockAssignment(ctx context.Context, tx pgx.Tx, classID int64, assignment int) error {
	_, err := tx.Exec(ctx, `SELECT FROM assignments WHERE class_id = $1 AND no = $2 FOR NO KEY UPDATE`, classID, assignment)
	if err != nil {
		return err
	}
	_, err = tx.Exec(ctx, `SELECT FROM sheets WHERE class_id = $1 AND assignment_no = $2 ORDER BY no FOR UPDATE`, classID, assignment)
	return err
}

// rekeyIn writes a key and what it does.
func rekeyIn(ctx context.Context, tx pgx.Tx, a Assignment, no int, by Act, r Rekeyed) error {
	k := r.Key
	_, err := tx.Exec(ctx, `
		WITH counts AS (UPDATE assignments SET key_no = $3 WHERE class_id = $1 AND no = $2)
		INSERT INTO keys (class_id, assignment_no, no, spec, tolerances, withdrawn, changes, why, undoes, made_by, made_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
		a.ClassID, a.No, no, k.Spec, k.Tolerances, k.Withdrawn, k.Changes, k.Why, k.Undoes, by.By, by.At)
	if err != nil {
		return err
	}
	// A list that is nil would reach the database as no list at all.
	unasked, ended := append([]int{}, r.Unasked...), append([]int{}, r.Ended...)
	nos, keyed := make([]int, len(r.Sheets)), make([]*grading.Sheet, len(r.Sheets))
	for i, sh := range r.Sheets {
		nos[i], keyed[i] = sh.No, sh.Keyed
	}
	_, err = tx.Exec(ctx, `
		UPDATE sheets sh SET keyed = n.keyed, asked_at = CASE WHEN NOT sh.no = ANY($4) THEN asked_at END
		FROM unnest($2::int[], $3::jsonb[]) AS n(no, keyed)
		WHERE sh.class_id = $1 AND sh.no = n.no`, a.ClassID, nos, keyed, unasked)
	if err != nil {
		return err
	}
	_, err = tx.Exec(ctx, `
		UPDATE clearances SET revoked_at = $3, revoked_why = $4
		WHERE class_id = $1 AND sheet_no = ANY($2) AND revoked_at IS NULL`, a.ClassID, ended, by.At, r.EndedWhy)
	if err != nil {
		return err
	}
	if err := insertResults(ctx, tx, a, no, by.At, r.Results); err != nil {
		return err
	}
	return recountAssignment(ctx, tx, a.ClassID, a.No)
}

// insertResults adds the judgements, and puts the answers they hold in place of
// those that were counted so far.
func insertResults(ctx context.Context, tx pgx.Tx, a Assignment, no int, at time.Time, all []NewResult) error {
	var sheetNos, attemptNos, answerSheets, answerAttempts []int
	var sheets []grading.Sheet
	var results []grading.Result
	var fresh []grading.StepResult
	for _, n := range all {
		sheetNos, attemptNos = append(sheetNos, n.SheetNo), append(attemptNos, n.AttemptNo)
		sheets, results, fresh = append(sheets, n.Sheet), append(results, n.Result), append(fresh, n.Fresh...)
		for range n.Fresh {
			answerSheets, answerAttempts = append(answerSheets, n.SheetNo), append(answerAttempts, n.AttemptNo)
		}
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO results (class_id, sheet_no, attempt_no, key_no, sheet, result, score, out_of, judged_at)
		SELECT $1, n.sheet_no, n.attempt_no, $2, n.sheet, n.result, (n.result->>'score')::int, (n.result->>'out_of')::int, $3
		FROM unnest($4::int[], $5::int[], $6::jsonb[], $7::jsonb[]) AS n(sheet_no, attempt_no, sheet, result)`,
		a.ClassID, no, at, sheetNos, attemptNos, sheets, results)
	if err != nil {
		return err
	}
	if _, err = tx.Exec(ctx, `DELETE FROM answers WHERE class_id = $1 AND assignment_no = $2`, a.ClassID, a.No); err != nil {
		return err
	}
	c := answersOf(fresh)
	_, err = tx.Exec(ctx, `
		INSERT INTO answers (class_id, assignment_no, step, sheet_no, attempt_no, verdict, pattern, detail)
		SELECT $1, $2, n.step, n.sheet_no, n.attempt_no, n.verdict, n.pattern, n.detail
		FROM unnest($3::text[], $4::int[], $5::int[], $6::text[], $7::text[], $8::text[]) AS n(step, sheet_no, attempt_no, verdict, pattern, detail)`,
		a.ClassID, a.No, c.steps, answerSheets, answerAttempts, c.verdicts, c.patterns, c.details)
	return err
}
