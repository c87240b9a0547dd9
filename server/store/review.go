package store

import (
	"context"
	"time"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// ReviewSheet is one sheet as a review counts it, without a name.
type ReviewSheet struct {
	SheetNo  int      `db:"sheet_no"`
	Attempts int      `db:"attempts"`
	Steps    []string `db:"steps"` // asked, in order
	// First is when the first numbers came, nil for none yet; AllRight is when
	// every number was right for the first time, nil for not yet.
	First    *time.Time `db:"first"`
	AllRight *time.Time `db:"all_right"`
	Tries    int        `db:"tries"` // attempts up to and with that one
}

// ReviewSheets gives the sheets of an assignment, without students who were
// removed and in no order that would tell who is who.
func (s *Store) ReviewSheets(ctx context.Context, classID int64, assignment int) ([]ReviewSheet, error) {
	return all[ReviewSheet](ctx, s.pool, "sheets for a review", `
		SELECT sh.no AS sheet_no, sh.attempts,
		       ARRAY(SELECT t.step->>'id' FROM jsonb_array_elements(coalesce(sh.keyed, sh.on_wood, sh.issued)->'steps')
		             WITH ORDINALITY AS t(step, i) ORDER BY t.i) AS steps,
		       f.sent_at AS first, d.sent_at AS all_right, coalesce(d.no, 0) AS tries
		FROM sheets sh
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		LEFT JOIN attempts f ON f.class_id = sh.class_id AND f.sheet_no = sh.no AND f.no = 1
		LEFT JOIN LATERAL (
			SELECT a.no, a.sent_at FROM judged a
			WHERE a.class_id = sh.class_id AND a.sheet_no = sh.no AND a.score = a.out_of AND a.out_of > 0
			ORDER BY a.no LIMIT 1) d ON true
		WHERE sh.class_id = $1 AND sh.assignment_no = $2
		ORDER BY md5(sh.class_id || '/' || sh.no)`, classID, assignment)
}

// WrongAnswer is a wrong number with the blank it was written for.
type WrongAnswer struct {
	SheetNo    int                `db:"sheet_no"`
	StudentNo  int                `db:"student_no"`
	AttemptNo  int                `db:"attempt_no"`
	Step       string             `db:"step"`
	Parameters joint.Values       `db:"parameters"`
	Result     grading.StepResult `db:"result"`
	Units      string             `db:"units"` // the class's when it was sent; "": not written down
}

// WrongAnswers gives the wrong numbers of an assignment: of each sheet, step
// and slip the earliest, without students who were removed and in no order that
// would tell who is who. So there are no more of them than sheets times steps
// times slips, however many attempts were sent.
func (s *Store) WrongAnswers(ctx context.Context, classID int64, assignment int) ([]WrongAnswer, error) {
	return all[WrongAnswer](ctx, s.pool, "wrong answers", `
		SELECT n.sheet_no, sh.student_no, n.attempt_no, n.step, j.sheet->'parameters' AS parameters, r.step AS result, j.units
		FROM (
			SELECT sheet_no, step, pattern, detail, min(attempt_no) AS attempt_no
			FROM answers WHERE class_id = $1 AND assignment_no = $2 AND verdict = 'wrong'
			GROUP BY sheet_no, step, pattern, detail) n
		JOIN sheets sh ON sh.class_id = $1 AND sh.no = n.sheet_no
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		JOIN judged j ON j.class_id = $1 AND j.sheet_no = n.sheet_no AND j.no = n.attempt_no
		CROSS JOIN LATERAL jsonb_array_elements(j.result->'steps') AS r(step)
		WHERE r.step->>'id' = n.step
		ORDER BY md5(sh.class_id || '/' || sh.no), n.step, n.attempt_no`, classID, assignment)
}
