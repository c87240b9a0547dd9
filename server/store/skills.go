package store

import (
	"context"
	"time"

	"arrisbook/grading"
)

// FirstAnswer is the first answer of a sheet to one step.
type FirstAnswer struct {
	StudentNo    int             `db:"student_no"`
	AssignmentNo int             `db:"assignment_no"`
	Step         string          `db:"step"`
	Verdict      grading.Verdict `db:"verdict"`
	SentAt       time.Time       `db:"sent_at"`
}

// FirstAnswers gives the first answer to each step of each sheet of a class, or
// with a student's number theirs alone. Students who were removed and
// assignments that were withdrawn are not in it.
func (s *Store) FirstAnswers(ctx context.Context, classID int64, student int) ([]FirstAnswer, error) {
	return all[FirstAnswer](ctx, s.pool, "first answers", `
		SELECT DISTINCT ON (n.sheet_no, n.step) sh.student_no, n.assignment_no, n.step, n.verdict, t.sent_at
		FROM sheets sh
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		JOIN assignments a ON a.class_id = sh.class_id AND a.no = sh.assignment_no AND a.withdrawn_at IS NULL
		JOIN answers n ON n.class_id = sh.class_id AND n.assignment_no = sh.assignment_no AND n.sheet_no = sh.no AND n.verdict <> 'blank'
		JOIN attempts t ON t.class_id = n.class_id AND t.sheet_no = n.sheet_no AND t.no = n.attempt_no
		WHERE sh.class_id = $1 AND ($2 = 0 OR sh.student_no = $2)
		ORDER BY n.sheet_no, n.step, n.attempt_no`, classID, student)
}
