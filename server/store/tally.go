package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// Tally counts the answers of an assignment that came to one verdict by one
// slip. Students who were taken off the roster are not in it.
type Tally struct {
	Step    string          `db:"step"`
	Verdict grading.Verdict `db:"verdict"`
	Pattern string          `db:"pattern"` // "": no slip
	Detail  string          `db:"detail"`
	// Turn is the how-manieth answer of a sheet to the step it was; 6 is the
	// sixth and every later one.
	Turn    int `db:"turn"`
	Answers int `db:"answers"`
	// Sheets counts each sheet once over all turns, at the first of them: the
	// sum over turns is how many people it happened to.
	Sheets int `db:"sheets"`
}

// Tallies gives the counts of an assignment by step, verdict, slip and turn.
// An answer that was sent again unchanged is counted once.
func (s *Store) Tallies(ctx context.Context, classID int64, assignment int) ([]Tally, error) {
	return all[Tally](ctx, s.pool, "tallies", `
		SELECT step, verdict, pattern, detail, turn, sum(answers)::int AS answers, sum(sheets)::int AS sheets
		FROM tallies WHERE class_id = $1 AND assignment_no = $2
		GROUP BY step, verdict, pattern, detail, turn
		HAVING sum(answers) > 0
		ORDER BY step, verdict, pattern, detail, turn`, classID, assignment)
}

// Progress is where one sheet stands on one step: the last answer that was not
// empty, and how many there were.
type Progress struct {
	SheetNo   int             `db:"sheet_no"`
	StudentNo int             `db:"student_no"`
	Step      string          `db:"step"`
	AttemptNo int             `db:"attempt_no"`
	Verdict   grading.Verdict `db:"verdict"`
	Pattern   string          `db:"pattern"`
	Detail    string          `db:"detail"`
	Answers   int             `db:"answers"`
	Wrong     int             `db:"wrong"`
}

// Progress gives where the sheets of an assignment stand, step by step, without
// students who were removed. A sheet without answers has no rows.
func (s *Store) Progress(ctx context.Context, classID int64, assignment int) ([]Progress, error) {
	return all[Progress](ctx, s.pool, "progress", `
		SELECT p.sheet_no, sh.student_no, p.step, p.attempt_no, p.verdict, p.pattern, p.detail, p.answers, p.wrong
		FROM progress p
		JOIN sheets sh ON sh.class_id = p.class_id AND sh.no = p.sheet_no
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		WHERE p.class_id = $1 AND p.assignment_no = $2
		ORDER BY p.sheet_no, p.step`, classID, assignment)
}

// AnswerRef says where an answer stands.
type AnswerRef struct {
	SheetNo   int `db:"sheet_no"`
	AttemptNo int `db:"attempt_no"`
}

// ShowingSlip finds up to most wrong answers of an assignment that show a
// slip, "" for those that none explains: the earliest of each sheet, without
// students who were removed.
func (s *Store) ShowingSlip(ctx context.Context, classID int64, assignment int, step, pattern, detail string, most int) ([]AnswerRef, error) {
	return all[AnswerRef](ctx, s.pool, "answers that show a slip", `
		SELECT n.sheet_no, min(n.attempt_no) AS attempt_no
		FROM answers n
		JOIN sheets sh ON sh.class_id = n.class_id AND sh.no = n.sheet_no
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		WHERE n.class_id = $1 AND n.assignment_no = $2 AND n.step = $3 AND n.pattern = $4 AND n.detail = $5 AND n.verdict = 'wrong'
		GROUP BY n.sheet_no ORDER BY n.sheet_no LIMIT $6`, classID, assignment, step, pattern, detail, most)
}

// SlipCount is how often wrong answers to a step came to a slip; Pattern "" is
// no known slip.
type SlipCount struct {
	Step    string `db:"step"`
	Pattern string `db:"pattern"`
	Detail  string `db:"detail"`
	Count   int    `db:"count"`
}

// Slips are what is known before an answer is weighed: the student's own slips
// on all sheets, by pattern alone, and the class's on this assignment.
type Slips struct{ Own, Class []SlipCount }

// slipsBefore reads both in one go.
func slipsBefore(ctx context.Context, tx pgx.Tx, sh Sheet) (Slips, error) {
	type row struct {
		SlipCount
		Own bool `db:"own"`
	}
	rows, err := all[row](ctx, tx, "slips so far", `
		SELECT '' AS step, n.pattern, '' AS detail, count(*)::int AS count, true AS own
		FROM sheets sh JOIN answers n ON n.class_id = sh.class_id AND n.assignment_no = sh.assignment_no AND n.sheet_no = sh.no
		WHERE sh.class_id = $1 AND sh.student_no = $2 AND n.pattern <> ''
		GROUP BY n.pattern
		UNION ALL
		SELECT step, pattern, detail, sum(answers)::int, false
		FROM tallies WHERE class_id = $1 AND assignment_no = $3 AND verdict = 'wrong'
		GROUP BY step, pattern, detail`, sh.ClassID, sh.StudentNo, sh.AssignmentNo)
	var s Slips
	for _, r := range rows {
		if r.Own {
			s.Own = append(s.Own, r.SlipCount)
		} else {
			s.Class = append(s.Class, r.SlipCount)
		}
	}
	return s, err
}

// tallySlots spreads the sheets of an assignment over rows of the counts, so
// that a class that sends at once does not stand in line for one of them.
const tallySlots = "8"

// tallyColumns groups counted answers into rows of the counts.
const tallyColumns = `
	SELECT c.class_id, c.assignment_no, c.step, c.verdict, c.pattern, c.detail, c.turn, c.sheet_no % ` + tallySlots + ` AS slot,
	       count(*)::int AS answers, (count(*) FILTER (WHERE c.nth = 1))::int AS sheets
	FROM answered c`

const tallyInto = `
	INSERT INTO tallies AS t (class_id, assignment_no, step, verdict, pattern, detail, turn, slot, answers, sheets)`

// tallyOfAttempt counts the answers of one attempt. Rows are taken in the
// order of their key: attempts that meet wait, and never for each other.
const tallyOfAttempt = tallyInto + tallyColumns + `
	WHERE c.class_id = $1 AND c.assignment_no = $2 AND c.sheet_no = $3 AND c.attempt_no = $4
	GROUP BY 1, 2, 3, 4, 5, 6, 7, 8 ORDER BY 3, 4, 5, 6, 7, 8
	ON CONFLICT ON CONSTRAINT tallies_pkey DO UPDATE SET answers = t.answers + excluded.answers, sheets = t.sheets + excluded.sheets`

// progressInto keeps the last answer of each sheet and step of a choice of
// answers.
const progressInto = `
	INSERT INTO progress AS p (class_id, assignment_no, sheet_no, step, attempt_no, verdict, pattern, detail, answers, wrong)
	SELECT DISTINCT ON (c.class_id, c.assignment_no, c.sheet_no, c.step)
	       c.class_id, c.assignment_no, c.sheet_no, c.step, c.attempt_no, c.verdict, c.pattern, c.detail,
	       count(*) OVER w, count(*) FILTER (WHERE c.verdict = 'wrong') OVER w
	FROM answered c
	WHERE `

const progressOrder = `
	WINDOW w AS (PARTITION BY c.class_id, c.assignment_no, c.sheet_no, c.step)
	ORDER BY c.class_id, c.assignment_no, c.sheet_no, c.step, c.attempt_no DESC`

// progressOfAttempt brings a sheet's last answers up to an attempt that was
// just kept.
const progressOfAttempt = progressInto +
	`c.class_id = $1 AND c.assignment_no = $2 AND c.sheet_no = $3 AND c.attempt_no = $4` + progressOrder + `
	ON CONFLICT ON CONSTRAINT progress_pkey DO UPDATE SET attempt_no = excluded.attempt_no, verdict = excluded.verdict,
		pattern = excluded.pattern, detail = excluded.detail, answers = p.answers + excluded.answers, wrong = p.wrong + excluded.wrong`

// recountAssignment counts an assignment anew from its answers. All its sheets
// must be locked.
func recountAssignment(ctx context.Context, tx pgx.Tx, classID int64, assignment int) error {
	batch := &pgx.Batch{}
	batch.Queue(`DELETE FROM progress WHERE class_id = $1 AND assignment_no = $2`, classID, assignment)
	batch.Queue(`DELETE FROM tallies WHERE class_id = $1 AND assignment_no = $2`, classID, assignment)
	batch.Queue(progressInto+`c.class_id = $1 AND c.assignment_no = $2`+progressOrder, classID, assignment)
	batch.Queue(tallyInto+tallyColumns+`
		JOIN sheets sh ON sh.class_id = c.class_id AND sh.no = c.sheet_no
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		WHERE c.class_id = $1 AND c.assignment_no = $2
		GROUP BY 1, 2, 3, 4, 5, 6, 7, 8`, classID, assignment)
	return tx.SendBatch(ctx, batch).Close()
}

// countStudents takes students' answers out of the class's counts (sign -1),
// or puts them back (1). Their sheets are locked first, so that nothing comes
// to them in between.
func countStudents(ctx context.Context, tx pgx.Tx, classID int64, students []int, sign int) error {
	_, err := tx.Exec(ctx, `SELECT FROM sheets WHERE class_id = $1 AND student_no = ANY($2) ORDER BY no FOR UPDATE`, classID, students)
	if err != nil {
		return err
	}
	_, err = tx.Exec(ctx, tallyInto+`
		SELECT class_id, assignment_no, step, verdict, pattern, detail, turn, slot, 0, 0 FROM (`+tallyColumns+`
			JOIN sheets sh ON sh.class_id = c.class_id AND sh.no = c.sheet_no
			WHERE c.class_id = $1 AND sh.student_no = ANY($2)
			GROUP BY 1, 2, 3, 4, 5, 6, 7, 8) n
		ORDER BY 1, 2, 3, 4, 5, 6, 7, 8
		ON CONFLICT ON CONSTRAINT tallies_pkey DO UPDATE SET answers = t.answers`, classID, students)
	if err != nil {
		return err
	}
	_, err = tx.Exec(ctx, `
		UPDATE tallies t SET answers = t.answers + $3 * n.answers, sheets = t.sheets + $3 * n.sheets
		FROM (`+tallyColumns+`
			JOIN sheets sh ON sh.class_id = c.class_id AND sh.no = c.sheet_no
			WHERE c.class_id = $1 AND sh.student_no = ANY($2)
			GROUP BY 1, 2, 3, 4, 5, 6, 7, 8) n
		WHERE (t.class_id, t.assignment_no, t.step, t.verdict, t.pattern, t.detail, t.turn, t.slot) =
		      (n.class_id, n.assignment_no, n.step, n.verdict, n.pattern, n.detail, n.turn, n.slot)`, classID, students, sign)
	return err
}
