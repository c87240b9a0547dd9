package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// Person is one of the staff as the people page lists them.
type Person struct {
	StaffID  int64  `db:"staff_id"`
	Name     string `db:"name"`
	Email    string `db:"email"`
	Role     string `db:"role"`
	MayClear bool   `db:"may_clear"`
}

// People gives the staff of a class, instructors first.
func (s *Store) People(ctx context.Context, classID int64) ([]Person, error) {
	return all[Person](ctx, s.pool, "people", `
		SELECT m.staff_id, p.name, p.email, m.role, m.may_clear
		FROM class_staff m JOIN staff p ON p.id = m.staff_id
		WHERE m.class_id = $1
		ORDER BY m.role DESC, p.name, p.id`, classID)
}

// SetMayClear says whether an assistant may clear people to cut; instructors
// always may.
func (s *Store) SetMayClear(ctx context.Context, classID, staffID int64, may bool) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE class_staff SET may_clear = $3
		WHERE class_id = $1 AND staff_id = $2 AND role = 'assistant'`, classID, staffID, may)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrNotFound
	}
	return fault("set leave to clear", err)
}

// RemovePerson takes somebody off the staff of a class. ErrChanged: that would
// leave the class without an instructor.
func (s *Store) RemovePerson(ctx context.Context, classID, staffID int64) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		// Two instructors who remove each other at once must not both go.
		if _, err := tx.Exec(ctx, `SELECT FROM classes WHERE id = $1 FOR UPDATE`, classID); err != nil {
			return err
		}
		tag, err := tx.Exec(ctx, `DELETE FROM class_staff WHERE class_id = $1 AND staff_id = $2`, classID, staffID)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return ErrNotFound
		}
		var left bool
		err = tx.QueryRow(ctx, `
			SELECT EXISTS (SELECT FROM class_staff WHERE class_id = $1 AND role = 'instructor')`, classID).Scan(&left)
		if err == nil && !left {
			err = ErrChanged
		}
		return err
	})
	return fault("remove person", err)
}
