package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// Student is one student of one class. Card counts the cards printed so far:
// a session made with an earlier card is over.
type Student struct {
	ClassID int64  `db:"class_id"`
	No      int    `db:"no"`
	Name    string `db:"name"`
	Bench   int    `db:"bench"`
	Card    int    `db:"card"`
	// LargePrint says that paper for this student is set in large print.
	LargePrint bool       `db:"large_print"`
	RemovedAt  *time.Time `db:"removed_at"`
}

const studentColumns = `class_id, no, name, bench, card, large_print, removed_at`

// StudentByNo gives a student who is still in the class.
func (s *Store) StudentByNo(ctx context.Context, classID int64, no int) (Student, error) {
	rows, err := s.pool.Query(ctx, `
		SELECT `+studentColumns+` FROM students
		WHERE class_id = $1 AND no = $2 AND removed_at IS NULL`, classID, no)
	if err != nil {
		return Student{}, fault("student", err)
	}
	p, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Student])
	return p, fault("student", err)
}

// OwnsSheet says whether a sheet is a student's own.
func (s *Store) OwnsSheet(ctx context.Context, classID int64, sheet, student int) (bool, error) {
	var owns bool
	err := s.pool.QueryRow(ctx, `
		SELECT EXISTS (SELECT FROM sheets WHERE class_id = $1 AND no = $2 AND student_no = $3)`,
		classID, sheet, student).Scan(&owns)
	return owns, fault("owner of sheet", err)
}
