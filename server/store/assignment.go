package store

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// When the key of an assignment is released.
const (
	ReleaseByHand  = "hand"
	ReleaseCleared = "cleared"
	ReleaseDue     = "due"
)

// Assignment is an exercise given to a class or to some of its students.
type Assignment struct {
	ClassID     int64      `db:"class_id"`
	No          int        `db:"no"`
	Exercise    string     `db:"exercise"`
	Version     int        `db:"version"`
	Title       string     `db:"title"`
	OpensAt     time.Time  `db:"opens_at"`
	DueAt       *time.Time `db:"due_at"`
	Attempts    int        `db:"attempts"` // 0: as many as wanted
	Release     string     `db:"release"`
	ReleasedAt  *time.Time `db:"released_at"`
	CreatedBy   int64      `db:"created_by"`
	CreatedAt   time.Time  `db:"created_at"`
	WithdrawnAt *time.Time `db:"withdrawn_at"`
	KeyNo       int        `db:"key_no"` // the key that counts; 0: as given out
}

const assignmentColumns = `class_id, no, exercise, version, title, opens_at, due_at, attempts, release, released_at, created_by, created_at, withdrawn_at, key_no`

// Assignment gives one assignment of a class.
func (s *Store) Assignment(ctx context.Context, classID int64, no int) (Assignment, error) {
	return oneAssignment(ctx, s.pool, classID, no)
}

func oneAssignment(ctx context.Context, q querier, classID int64, no int) (Assignment, error) {
	return one[Assignment](ctx, q, "assignment", `SELECT `+assignmentColumns+` FROM assignments WHERE class_id = $1 AND no = $2`, classID, no)
}

// AssignmentCount is an assignment with how many sheets stand where.
type AssignmentCount struct {
	Assignment
	Sheets  int `db:"sheets"`
	Begun   int `db:"begun"`   // at least one attempt
	Waiting int `db:"waiting"` // asked for a check
	Cleared int `db:"cleared"`
}

// Assignments gives a class's assignments, the newest first.
func (s *Store) Assignments(ctx context.Context, classID int64) ([]AssignmentCount, error) {
	return all[AssignmentCount](ctx, s.pool, "assignments", `
		SELECT `+assignmentColumns+`, coalesce(n.sheets, 0)::int AS sheets, coalesce(n.begun, 0)::int AS begun,
		       coalesce(n.waiting, 0)::int AS waiting, coalesce(n.cleared, 0)::int AS cleared
		FROM assignments
		LEFT JOIN (
			SELECT sh.assignment_no, count(*) AS sheets, count(*) FILTER (WHERE sh.attempts > 0) AS begun,
			       count(sh.asked_at) AS waiting, count(c.sheet_no) AS cleared
			FROM sheets sh
			JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
			LEFT JOIN clearances c ON c.class_id = sh.class_id AND c.sheet_no = sh.no AND c.revoked_at IS NULL
			WHERE sh.class_id = $1
			GROUP BY sh.assignment_no) n ON n.assignment_no = no
		WHERE class_id = $1
		ORDER BY no DESC`, classID)
}

// NewSheet is a sheet to be handed to a student.
type NewSheet struct {
	StudentNo int
	Sheet     grading.Sheet
	Keyed     *grading.Sheet // under the assignment's key, where that changes it
}

// CreateAssignment writes an assignment and its sheets in one go and gives
// its number. ErrChanged: a student has left the class meanwhile.
func (s *Store) CreateAssignment(ctx context.Context, a Assignment, sheets []NewSheet) (int, error) {
	var no int
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		var err error
		if no, err = insertAssignment(ctx, tx, a); err != nil {
			return err
		}
		given, err := insertSheets(ctx, tx, a.ClassID, no, sheets)
		if err == nil && given != len(sheets) {
			err = ErrChanged
		}
		return err
	})
	return no, fault("create assignment", err)
}

// insertAssignment writes an assignment and gives its number in the class.
func insertAssignment(ctx context.Context, tx pgx.Tx, a Assignment) (int, error) {
	var no int
	err := tx.QueryRow(ctx, `UPDATE classes SET assignments = assignments + 1 WHERE id = $1 RETURNING assignments`, a.ClassID).Scan(&no)
	if err != nil {
		return 0, err
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO assignments (class_id, no, exercise, version, title, opens_at, due_at, attempts, release, created_by, created_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
		a.ClassID, no, a.Exercise, a.Version, a.Title, a.OpensAt, a.DueAt, a.Attempts, a.Release, a.CreatedBy, a.CreatedAt)
	return no, err
}

// AddSheets hands sheets of an assignment to more students and says how many
// it handed out: who has one already keeps it. key is the one that they are
// made by: ErrChanged when there is a newer one.
func (s *Store) AddSheets(ctx context.Context, classID int64, assignment, key int, sheets []NewSheet) (int, error) {
	var given int
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		// A new key waits for this, or this sees it.
		var now int
		err := tx.QueryRow(ctx, `SELECT key_no FROM assignments WHERE class_id = $1 AND no = $2 FOR SHARE`, classID, assignment).Scan(&now)
		if err == nil && now != key {
			err = ErrChanged
		}
		if err != nil {
			return err
		}
		given, err = insertSheets(ctx, tx, classID, assignment, sheets)
		return err
	})
	return given, fault("add sheets", err)
}

// insertSheets numbers the sheets through the class and writes them.
func insertSheets(ctx context.Context, tx pgx.Tx, classID int64, assignment int, sheets []NewSheet) (int, error) {
	students := make([]int, len(sheets))
	issued, keyed := make([]grading.Sheet, len(sheets)), make([]*grading.Sheet, len(sheets))
	for i, n := range sheets {
		students[i], issued[i], keyed[i] = n.StudentNo, n.Sheet, n.Keyed
	}
	tag, err := tx.Exec(ctx, `
		WITH had AS (UPDATE classes SET sheets = sheets + cardinality($3::int[]) WHERE id = $1 RETURNING sheets - cardinality($3::int[]) AS n)
		INSERT INTO sheets (class_id, no, assignment_no, student_no, issued, keyed)
		SELECT $1, had.n + g.i, $2, g.student, g.issued, g.keyed
		FROM had, unnest($3::int[], $4::jsonb[], $5::jsonb[]) WITH ORDINALITY AS g(student, issued, keyed, i)
		JOIN students st ON st.class_id = $1 AND st.no = g.student AND st.removed_at IS NULL
		ON CONFLICT ON CONSTRAINT sheets_once DO NOTHING`, classID, assignment, students, issued, keyed)
	if err != nil {
		return 0, fmt.Errorf("insert sheets: %w", err)
	}
	return int(tag.RowsAffected()), nil
}

// Terms are what may be changed about an assignment after it was given out.
type Terms struct {
	DueAt    *time.Time
	Attempts int
	Release  string
}

// SetTerms changes an assignment's terms.
func (s *Store) SetTerms(ctx context.Context, classID int64, no int, t Terms) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE assignments SET due_at = $3, attempts = $4, release = $5
		WHERE class_id = $1 AND no = $2`, classID, no, t.DueAt, t.Attempts, t.Release)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrNotFound
	}
	return fault("set terms", err)
}

// StudentsWithout gives the students of a class who have no sheet of an
// assignment, in bench order; with 0 for the assignment, all students.
func (s *Store) StudentsWithout(ctx context.Context, classID int64, assignment int) ([]Student, error) {
	return all[Student](ctx, s.pool, "students without a sheet", `
		SELECT `+studentColumns+` FROM students st
		WHERE class_id = $1 AND removed_at IS NULL AND NOT EXISTS (
			SELECT FROM sheets sh WHERE sh.class_id = $1 AND sh.assignment_no = $2 AND sh.student_no = st.no)
		ORDER BY bench, name, no`, classID, assignment)
}
