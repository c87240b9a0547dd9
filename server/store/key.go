package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// Key is a key of an assignment that was made after it was given out.
type Key struct {
	No         int                `db:"no"`
	Spec       []byte             `db:"spec"`       // the exercise, written out in full
	Tolerances map[string]float64 `db:"tolerances"` // by step, set by the instructor
	Withdrawn  []string           `db:"withdrawn"`  // steps that are not asked any more
	Changes    []KeyChange        `db:"changes"`
	Why        string             `db:"why"`
	Undoes     *int               `db:"undoes"` // the key that this one takes back
	MadeBy     int64              `db:"made_by"`
	ByName     string             `db:"by_name"`
	MadeAt     time.Time          `db:"made_at"`
}

// KeyChange is what one key changed about one step, as students read it; Step
// "" is about the whole sheet.
type KeyChange struct {
	Step string `json:"step"`
	Says string `json:"says"`
}

const keyQuery = `
	SELECT k.no, k.spec, k.tolerances, k.withdrawn, k.changes, k.why, k.undoes, k.made_by, p.name AS by_name, k.made_at
	FROM keys k JOIN staff p ON p.id = k.made_by
	WHERE k.class_id = $1 AND k.assignment_no = $2`

// Key gives one key of an assignment; ErrNotFound for 0, which is the exercise
// version as given out.
func (s *Store) Key(ctx context.Context, classID int64, assignment, no int) (Key, error) {
	return one[Key](ctx, s.pool, "key", keyQuery+` AND k.no = $3`, classID, assignment, no)
}

// Keys gives the keys made for an assignment, the newest first; none while it
// is as given out.
func (s *Store) Keys(ctx context.Context, classID int64, assignment int) ([]Key, error) {
	return all[Key](ctx, s.pool, "keys", keyQuery+` ORDER BY k.no DESC`, classID, assignment)
}

// Judgement is what became of an attempt under one key.
type Judgement struct {
	KeyNo  int            `db:"key_no"`
	Sheet  grading.Sheet  `db:"sheet"`
	Result grading.Result `db:"result"`
	Score  int            `db:"score"`
	OutOf  int            `db:"out_of"`
	At     time.Time      `db:"judged_at"`
}

const judgementQuery = `
	SELECT key_no, sheet, result, score, out_of, sent_at AS judged_at
	FROM attempts WHERE class_id = $1 AND sheet_no = $2 AND no = $3
	UNION ALL
	SELECT key_no, sheet, result, score, out_of, judged_at
	FROM results WHERE class_id = $1 AND sheet_no = $2 AND attempt_no = $3`

// Judgements gives all that became of an attempt, the newest first; the last
// is what was said when it was sent.
func (s *Store) Judgements(ctx context.Context, classID int64, sheet, attempt int) ([]Judgement, error) {
	return all[Judgement](ctx, s.pool, "judgements", judgementQuery+` ORDER BY key_no DESC`, classID, sheet, attempt)
}

// Work is everything that was sent on an assignment, with the sheets as they
// stand: what a new key is tried on.
type Work struct {
	Assignment Assignment
	Sheets     []SheetOf // in bench order, those of removed students too
	// Own counts the slips that were named for each student on the class's other
	// assignments, by pattern.
	Own map[int]map[string]int
}

// SheetOf is one sheet with its attempts, oldest first.
type SheetOf struct {
	Sheet    Sheet
	Removed  bool
	Cleared  *Clearance // nil: no leave to cut stands
	Attempts []SentAttempt
}

// SentAttempt is an attempt with how it stood before the newest key: Before is
// nil where it was sent under that key or there is none.
type SentAttempt struct {
	Attempt
	Before *Judgement
}

// Work reads what was sent on an assignment.
func (s *Store) Work(ctx context.Context, classID int64, assignment int) (Work, error) {
	return workOn(ctx, s.pool, classID, assignment)
}

func workOn(ctx context.Context, q querier, classID int64, assignment int) (Work, error) {
	a, err := oneAssignment(ctx, q, classID, assignment)
	if err != nil {
		return Work{}, err
	}
	w := Work{Assignment: a}
	if w.Sheets, err = sheetsOn(ctx, q, classID, assignment); err != nil {
		return w, err
	}
	type row struct {
		SheetNo int `db:"sheet_no"`
		Attempt
	}
	attempts, err := all[row](ctx, q, "attempts of assignment", `
		SELECT a.sheet_no, a.no, a.client_key::text, a.sheet, a.wood, a.answers, a.result, a.score, a.out_of, a.sent_at, a.key_no, a.units, NULL::text AS typed_by
		FROM judged a JOIN sheets sh ON sh.class_id = a.class_id AND sh.no = a.sheet_no
		WHERE a.class_id = $1 AND sh.assignment_no = $2
		ORDER BY a.sheet_no, a.no`, classID, assignment)
	if err != nil {
		return w, err
	}
	before, err := judgedBefore(ctx, q, a)
	if err != nil {
		return w, err
	}
	if w.Own, err = ownSlips(ctx, q, a); err != nil {
		return w, err
	}
	place := map[int]int{}
	for i, sh := range w.Sheets {
		place[sh.Sheet.No] = i
	}
	for _, r := range attempts {
		if i, ok := place[r.SheetNo]; ok {
			w.Sheets[i].Attempts = append(w.Sheets[i].Attempts, SentAttempt{r.Attempt, before[attemptID{r.SheetNo, r.No}]})
		}
	}
	return w, nil
}

// sheetsOn gives the sheets of an assignment with the leave to cut that stands.
func sheetsOn(ctx context.Context, q querier, classID int64, assignment int) ([]SheetOf, error) {
	type row struct {
		Sheet
		Removed   bool       `db:"removed"`
		No        *int       `db:"cleared_no"`
		AttemptNo *int       `db:"cleared_attempt"`
		ByName    *string    `db:"cleared_name"`
		At        *time.Time `db:"cleared_at"`
	}
	rows, err := all[row](ctx, q, "sheets of assignment", `
		SELECT sh.class_id, sh.no, sh.assignment_no, sh.student_no, st.name AS student_name, st.bench,
		       sh.issued, sh.on_wood, sh.keyed, sh.wood, sh.attempts, sh.asked_at, st.removed_at IS NOT NULL AS removed,
		       c.no AS cleared_no, c.attempt_no AS cleared_attempt, p.name AS cleared_name, c.cleared_at
		FROM sheets sh
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no
		LEFT JOIN clearances c ON c.class_id = sh.class_id AND c.sheet_no = sh.no AND c.revoked_at IS NULL
		LEFT JOIN staff p ON p.id = c.cleared_by
		WHERE sh.class_id = $1 AND sh.assignment_no = $2
		ORDER BY st.bench, st.name, st.no`, classID, assignment)
	sheets := make([]SheetOf, len(rows))
	for i, r := range rows {
		sheets[i] = SheetOf{Sheet: r.Sheet, Removed: r.Removed}
		if r.No != nil {
			sheets[i].Cleared = &Clearance{No: *r.No, AttemptNo: *r.AttemptNo, ByName: *r.ByName, ClearedAt: *r.At}
		}
	}
	return sheets, err
}

// ownSlips counts the slips of students on all assignments but one.
func ownSlips(ctx context.Context, q querier, but Assignment) (map[int]map[string]int, error) {
	type row struct {
		StudentNo int    `db:"student_no"`
		Pattern   string `db:"pattern"`
		Count     int    `db:"count"`
	}
	rows, err := all[row](ctx, q, "slips of students", `
		SELECT sh.student_no, n.pattern, count(*)::int AS count
		FROM answers n JOIN sheets sh ON sh.class_id = n.class_id AND sh.no = n.sheet_no
		WHERE n.class_id = $1 AND n.assignment_no <> $2 AND n.pattern <> ''
		GROUP BY sh.student_no, n.pattern`, but.ClassID, but.No)
	own := map[int]map[string]int{}
	for _, r := range rows {
		if own[r.StudentNo] == nil {
			own[r.StudentNo] = map[string]int{}
		}
		own[r.StudentNo][r.Pattern] = r.Count
	}
	return own, err
}

type attemptID struct{ sheet, attempt int }

// judgedBefore gives how attempts stood before an assignment's newest key.
func judgedBefore(ctx context.Context, q querier, a Assignment) (map[attemptID]*Judgement, error) {
	before := map[attemptID]*Judgement{}
	if a.KeyNo == 0 {
		return before, nil
	}
	type row struct {
		SheetNo   int `db:"sheet_no"`
		AttemptNo int `db:"attempt_no"`
		Judgement
	}
	rows, err := all[row](ctx, q, "judgements before", `
		SELECT DISTINCT ON (sheet_no, attempt_no) sheet_no, attempt_no, key_no, sheet, result, score, out_of, judged_at
		FROM (
			SELECT t.sheet_no, t.no AS attempt_no, t.key_no, t.sheet, t.result, t.score, t.out_of, t.sent_at AS judged_at
			FROM attempts t JOIN sheets sh ON sh.class_id = t.class_id AND sh.no = t.sheet_no
			WHERE t.class_id = $1 AND sh.assignment_no = $2
			UNION ALL
			SELECT r.sheet_no, r.attempt_no, r.key_no, r.sheet, r.result, r.score, r.out_of, r.judged_at
			FROM results r JOIN sheets sh ON sh.class_id = r.class_id AND sh.no = r.sheet_no
			WHERE r.class_id = $1 AND sh.assignment_no = $2) j
		WHERE key_no < $3
		ORDER BY sheet_no, attempt_no, key_no DESC`, a.ClassID, a.No, a.KeyNo)
	for _, r := range rows {
		before[attemptID{r.SheetNo, r.AttemptNo}] = &r.Judgement
	}
	return before, err
}

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
