package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// NewStudent is a student to be added.
type NewStudent struct {
	Name       string
	Bench      int
	LargePrint bool
}

// RosterImport is one adding of names.
type RosterImport struct {
	No      int       `db:"no"`
	Added   int       `db:"added"`
	AddedAt time.Time `db:"added_at"`
	ByName  string    `db:"by_name"`
	// Left is how many of those added are still in the class.
	Left int `db:"left_over"`
}

// Students gives the students of a class in bench order.
func (s *Store) Students(ctx context.Context, classID int64) ([]Student, error) {
	return all[Student](ctx, s.pool, "students", `
		SELECT `+studentColumns+` FROM students
		WHERE class_id = $1 AND removed_at IS NULL
		ORDER BY bench, name, no`, classID)
}

// RemovedStudents gives those taken off the roster, the latest first.
func (s *Store) RemovedStudents(ctx context.Context, classID int64) ([]Student, error) {
	return all[Student](ctx, s.pool, "removed students", `
		SELECT `+studentColumns+` FROM students
		WHERE class_id = $1 AND removed_at IS NOT NULL
		ORDER BY removed_at DESC, no`, classID)
}

// AddStudents adds students in one transaction and gives the number of the
// import. decide sees the roster as it then is, locked, and says whom to add;
// it may be called more than once. An error of decide leaves everything as it
// was.
func (s *Store) AddStudents(ctx context.Context, classID, by int64, at time.Time,
	decide func(roster []Student) ([]NewStudent, error)) (int, error) {
	var no int
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		roster, err := lockRoster(ctx, tx, classID)
		if err != nil {
			return err
		}
		add, err := decide(roster)
		if err != nil {
			return err
		}
		err = tx.QueryRow(ctx, `
			INSERT INTO roster_imports (class_id, no, added, added_by, added_at)
			SELECT $1, 1 + coalesce(max(no), 0), $2, $3, $4 FROM roster_imports WHERE class_id = $1
			RETURNING no`, classID, len(add), by, at).Scan(&no)
		if err != nil {
			return err
		}
		return insertStudents(ctx, tx, classID, no, add)
	})
	return no, fault("add students", err)
}

// lockRoster locks a class against other changes of its roster.
func lockRoster(ctx context.Context, tx pgx.Tx, classID int64) ([]Student, error) {
	tag, err := tx.Exec(ctx, `SELECT FROM classes WHERE id = $1 FOR UPDATE`, classID)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrNotFound
	}
	if err != nil {
		return nil, err
	}
	rows, err := tx.Query(ctx, `
		SELECT `+studentColumns+` FROM students
		WHERE class_id = $1 AND removed_at IS NULL
		ORDER BY bench, name, no`, classID)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[Student])
}

func insertStudents(ctx context.Context, tx pgx.Tx, classID int64, importNo int, add []NewStudent) error {
	names, benches := make([]string, len(add)), make([]int, len(add))
	for i, p := range add {
		names[i], benches[i] = p.Name, p.Bench
	}
	_, err := tx.Exec(ctx, `
		WITH counted AS (UPDATE classes SET students = students + cardinality($3::text[]) WHERE id = $1 RETURNING students)
		INSERT INTO students (class_id, no, name, bench, import_no)
		SELECT $1, counted.students - cardinality($3::text[]) + a.at, a.name, a.bench, $2
		FROM counted, unnest($3::text[], $4::integer[]) WITH ORDINALITY AS a (name, bench, at)`,
		classID, importNo, names, benches)
	return err
}

// Imports gives the latest imports since a time that were not taken back, the
// newest first, eight at most.
func (s *Store) Imports(ctx context.Context, classID int64, since time.Time) ([]RosterImport, error) {
	return all[RosterImport](ctx, s.pool, "imports", `
		SELECT i.no, i.added, i.added_at, p.name AS by_name,
			(SELECT count(*) FROM students t WHERE t.class_id = i.class_id AND t.import_no = i.no AND t.removed_at IS NULL) AS left_over
		FROM roster_imports i JOIN staff p ON p.id = i.added_by
		WHERE i.class_id = $1 AND i.undone_at IS NULL AND i.added_at > $2
		ORDER BY i.no DESC LIMIT 8`, classID, since)
}

// UndoImport takes an import since a time back and gives how many it removed.
// Students without work go altogether; those with a sheet are only taken off
// the roster, so that no work is lost.
func (s *Store) UndoImport(ctx context.Context, classID int64, no int, since, at time.Time) (int, error) {
	removed := 0
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		if _, err := lockRoster(ctx, tx, classID); err != nil {
			return err
		}
		tag, err := tx.Exec(ctx, `
			UPDATE roster_imports SET undone_at = $4
			WHERE class_id = $1 AND no = $2 AND undone_at IS NULL AND added_at > $3`, classID, no, since, at)
		if err == nil && tag.RowsAffected() == 0 {
			err = ErrNotFound
		}
		if err != nil {
			return err
		}
		// Locked, so that no sheet can be given to one of them in between.
		rows, err := tx.Query(ctx, `
			SELECT no FROM students WHERE class_id = $1 AND import_no = $2 AND removed_at IS NULL FOR UPDATE`, classID, no)
		if err != nil {
			return err
		}
		students, err := pgx.CollectRows(rows, pgx.RowTo[int])
		if err != nil {
			return err
		}
		removed = len(students)
		if err := countStudents(ctx, tx, classID, students, -1); err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `
			DELETE FROM students t WHERE t.class_id = $1 AND t.import_no = $2 AND t.removed_at IS NULL
			AND NOT EXISTS (SELECT FROM sheets s WHERE s.class_id = t.class_id AND s.student_no = t.no)`, classID, no)
		if err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `
			UPDATE students SET removed_at = $3 WHERE class_id = $1 AND import_no = $2 AND removed_at IS NULL`, classID, no, at)
		return err
	})
	return removed, fault("undo import", err)
}

// SetStudent changes a student's name and bench.
func (s *Store) SetStudent(ctx context.Context, classID int64, no int, to NewStudent) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE students SET name = $3, bench = $4, large_print = $5
		WHERE class_id = $1 AND no = $2 AND removed_at IS NULL`, classID, no, to.Name, to.Bench, to.LargePrint)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrNotFound
	}
	return fault("set student", err)
}

// RemoveStudent takes a student off the roster and out of the class's counts;
// the work is kept.
func (s *Store) RemoveStudent(ctx context.Context, classID int64, no int, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, `
			UPDATE students SET removed_at = $3
			WHERE class_id = $1 AND no = $2 AND removed_at IS NULL`, classID, no, at)
		if err == nil && tag.RowsAffected() == 0 {
			err = ErrNotFound
		}
		if err != nil {
			return err
		}
		return countStudents(ctx, tx, classID, []int{no}, -1)
	})
	return fault("remove student", err)
}

// RestoreStudent puts a removed student back. ErrChanged: the class is full.
func (s *Store) RestoreStudent(ctx context.Context, classID int64, no, most int) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		roster, err := lockRoster(ctx, tx, classID)
		if err != nil {
			return err
		}
		if len(roster) >= most {
			return ErrChanged
		}
		tag, err := tx.Exec(ctx, `
			UPDATE students SET removed_at = NULL
			WHERE class_id = $1 AND no = $2 AND removed_at IS NOT NULL`, classID, no)
		if err == nil && tag.RowsAffected() == 0 {
			err = ErrNotFound
		}
		if err != nil {
			return err
		}
		return countStudents(ctx, tx, classID, []int{no}, 1)
	})
	return fault("restore student", err)
}
