package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// Class is a class with its settings.
type Class struct {
	ID         int64     `db:"id"`
	Name       string    `db:"name"`
	Code       string    `db:"code"`
	Zone       string    `db:"zone"`       // IANA name
	Units      string    `db:"units"`      // mm, inch
	Projection string    `db:"projection"` // first, third
	FitWord    string    `db:"fit_word"`   // tight, close, open
	LengthStep float64   `db:"length_step"`
	AngleStep  float64   `db:"angle_step"`
	Paper      string    `db:"paper"` // A4, Letter
	CreatedAt  time.Time `db:"created_at"`
}

const classColumns = `id, name, code, zone, units, projection, fit_word, length_step, angle_step, paper, created_at`

// Member is what one person of the staff may do in one class.
type Member struct {
	StaffID  int64  `db:"staff_id"`
	Name     string `db:"name"`
	Role     string `db:"role"` // instructor, assistant
	MayClear bool   `db:"may_clear"`
}

// ClassFor gives a class and what a person of its staff may do there;
// ErrNotFound for everybody else.
func (s *Store) ClassFor(ctx context.Context, classID, staffID int64) (Class, Member, error) {
	class, err := s.ClassByID(ctx, classID)
	if err != nil {
		return Class{}, Member{}, err
	}
	rows, err := s.pool.Query(ctx, `
		SELECT m.staff_id, p.name, m.role, m.may_clear
		FROM class_staff m JOIN staff p ON p.id = m.staff_id
		WHERE m.class_id = $1 AND m.staff_id = $2`, classID, staffID)
	if err != nil {
		return Class{}, Member{}, fault("class for staff", err)
	}
	m, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Member])
	return class, m, fault("class for staff", err)
}

// ClassByID gives a class.
func (s *Store) ClassByID(ctx context.Context, id int64) (Class, error) {
	rows, err := s.pool.Query(ctx, `SELECT `+classColumns+` FROM classes WHERE id = $1`, id)
	if err != nil {
		return Class{}, fault("class", err)
	}
	c, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Class])
	return c, fault("class", err)
}
