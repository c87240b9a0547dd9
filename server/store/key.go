package store

import (
	"context"
	"time"

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
