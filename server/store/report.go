package store

import (
	"context"
	"time"

	"arrisbook/grading"
)

// ReportRow is one sheet as a report counts it.
type ReportRow struct {
	StudentNo    int        `db:"student_no"`
	Name         string     `db:"name"`
	Bench        int        `db:"bench"`
	AssignmentNo int        `db:"assignment_no"`
	Title        string     `db:"title"`
	OpensAt      time.Time  `db:"opens_at"`
	SheetNo      int        `db:"sheet_no"`
	Steps        []string   `db:"steps"` // asked, in order
	Attempts     int        `db:"attempts"`
	Score        int        `db:"score"` // of the last attempt; 0 while none is on the wood as it is
	Fit          string     `db:"fit"`   // its fit word; "" for none
	SentAt       *time.Time `db:"sent_at"`
	ClearedAt    *time.Time `db:"cleared_at"` // leave to cut that stands
}

// Report gives the sheets of a class's students in bench order, or with a
// student's number theirs alone, assignments in the order in which they were
// made. Students who were removed, and assignments withdrawn or not begun, are
// not in it.
func (s *Store) Report(ctx context.Context, classID int64, student int, now time.Time) ([]ReportRow, error) {
	return all[ReportRow](ctx, s.pool, "report", `
		SELECT st.no AS student_no, st.name, st.bench, a.no AS assignment_no, a.title, a.opens_at, sh.no AS sheet_no,
		       ARRAY(SELECT t.step->>'id' FROM jsonb_array_elements(coalesce(sh.keyed, sh.on_wood, sh.issued)->'steps')
		             WITH ORDINALITY AS t(step, i) ORDER BY t.i) AS steps,
		       sh.attempts, coalesce(l.score, 0) AS score, coalesce(l.result->'fit'->>'fit', '') AS fit, l.sent_at, c.cleared_at
		FROM students st
		JOIN sheets sh ON sh.class_id = st.class_id AND sh.student_no = st.no
		JOIN assignments a ON a.class_id = sh.class_id AND a.no = sh.assignment_no AND a.withdrawn_at IS NULL AND a.opens_at <= $3
		LEFT JOIN judged l ON l.class_id = sh.class_id AND l.sheet_no = sh.no AND l.no = sh.attempts AND l.wood = sh.wood
		LEFT JOIN clearances c ON c.class_id = sh.class_id AND c.sheet_no = sh.no AND c.revoked_at IS NULL
		WHERE st.class_id = $1 AND st.removed_at IS NULL AND ($2 = 0 OR st.no = $2)
		ORDER BY st.bench, st.name, st.no, a.no`, classID, student, now)
}

// ReportStep is where one sheet stands on one step.
type ReportStep struct {
	SheetNo int             `db:"sheet_no"`
	Step    string          `db:"step"`
	Verdict grading.Verdict `db:"verdict"`
	Answers int             `db:"answers"`
}

// ReportSteps gives the last answers of a class's sheets, or of one student's.
func (s *Store) ReportSteps(ctx context.Context, classID int64, student int) ([]ReportStep, error) {
	return all[ReportStep](ctx, s.pool, "report by step", `
		SELECT p.sheet_no, p.step, p.verdict, p.answers
		FROM sheets sh
		JOIN progress p ON p.class_id = sh.class_id AND p.assignment_no = sh.assignment_no AND p.sheet_no = sh.no
		WHERE sh.class_id = $1 AND ($2 = 0 OR sh.student_no = $2)
		ORDER BY p.sheet_no, p.step`, classID, student)
}
