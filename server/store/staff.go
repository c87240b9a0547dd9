package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// Staff is a person who signs in with e-mail and password.
type Staff struct {
	ID           int64  `db:"id"`
	Email        string `db:"email"`
	Name         string `db:"name"`
	PasswordHash string `db:"password_hash"`
	MayTeach     bool   `db:"may_teach"`
	Epoch        int    `db:"epoch"`
}

const staffColumns = `id, email, name, password_hash, may_teach, epoch`

// StaffByID gives a person of the staff.
func (s *Store) StaffByID(ctx context.Context, id int64) (Staff, error) {
	return s.oneStaff(ctx, `SELECT `+staffColumns+` FROM staff WHERE id = $1`, id)
}

// StaffByEmail gives a person of the staff; letter case does not matter.
func (s *Store) StaffByEmail(ctx context.Context, email string) (Staff, error) {
	return s.oneStaff(ctx, `SELECT `+staffColumns+` FROM staff WHERE lower(email) = lower($1)`, email)
}

func (s *Store) oneStaff(ctx context.Context, sql string, arg any) (Staff, error) {
	rows, err := s.pool.Query(ctx, sql, arg)
	if err != nil {
		return Staff{}, fault("staff", err)
	}
	p, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Staff])
	return p, fault("staff", err)
}
