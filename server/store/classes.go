package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// ClassSettings are what an instructor decides about a class.
type ClassSettings struct {
	Name       string
	Zone       string // IANA name
	Units      string // mm, inch
	Projection string // first, third
	FitWord    string // tight, close, open
	LengthStep float64
	AngleStep  float64
	Paper      string // A4, Letter; empty: A4
}

// ClassLine is a class in the list of somebody's classes.
type ClassLine struct {
	ID       int64  `db:"id"`
	Name     string `db:"name"`
	Zone     string `db:"zone"`
	Role     string `db:"role"`
	Students int    `db:"students"`
}

// ClassesOf gives the classes of a person of the staff, the newest first.
func (s *Store) ClassesOf(ctx context.Context, staffID int64) ([]ClassLine, error) {
	return all[ClassLine](ctx, s.pool, "classes", `
		SELECT c.id, c.name, c.zone, m.role,
			(SELECT count(*) FROM students p WHERE p.class_id = c.id AND p.removed_at IS NULL) AS students
		FROM class_staff m JOIN classes c ON c.id = m.class_id
		WHERE m.staff_id = $1
		ORDER BY c.id DESC`, staffID)
}

// AddClass makes a class with its first instructor. ErrTaken: the code is had
// by another class.
func (s *Store) AddClass(ctx context.Context, set ClassSettings, code string, instructor int64, at time.Time) (Class, error) {
	var class Class
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		var err error
		class, err = addClass(ctx, tx, set, code, instructor, at)
		return err
	})
	return class, fault("add class", err)
}

func addClass(ctx context.Context, tx pgx.Tx, set ClassSettings, code string, instructor int64, at time.Time) (Class, error) {
	rows, err := tx.Query(ctx, `
		INSERT INTO classes (name, code, zone, units, projection, fit_word, length_step, angle_step, paper, created_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, coalesce(nullif($9, ''), 'A4'), $10)
		RETURNING `+classColumns, set.Name, code, set.Zone, set.Units, set.Projection, set.FitWord,
		set.LengthStep, set.AngleStep, set.Paper, at)
	if err != nil {
		return Class{}, err
	}
	class, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Class])
	if err != nil {
		return Class{}, err
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO class_staff (class_id, staff_id, role, may_clear) VALUES ($1, $2, 'instructor', true)`,
		class.ID, instructor)
	return class, err
}

// SetClass changes the settings of a class.
func (s *Store) SetClass(ctx context.Context, classID int64, set ClassSettings) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE classes SET name = $2, zone = $3, units = $4, projection = $5, fit_word = $6, length_step = $7, angle_step = $8,
			paper = coalesce(nullif($9, ''), 'A4')
		WHERE id = $1`, classID, set.Name, set.Zone, set.Units, set.Projection, set.FitWord, set.LengthStep, set.AngleStep, set.Paper)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrNotFound
	}
	return fault("set class", err)
}
