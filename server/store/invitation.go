package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// Invitation is a one-time link that makes somebody staff. Only the SHA-256 of
// the link is kept.
type Invitation struct {
	// ClassID is nil for the link that makes the first instructor.
	ClassID   *int64    `db:"class_id"`
	ClassName *string   `db:"class_name"`
	Role      string    `db:"role"` // instructor, assistant
	MayClear  bool      `db:"may_clear"`
	ExpiresAt time.Time `db:"expires_at"`
}

// NewStaff is an account to be made.
type NewStaff struct {
	Email, Name, PasswordHash string
	MayTeach                  bool
	At                        time.Time
}

// HasStaff says whether anybody can sign in with a password.
func (s *Store) HasStaff(ctx context.Context) (bool, error) {
	var has bool
	err := s.pool.QueryRow(ctx, `SELECT EXISTS (SELECT FROM staff)`).Scan(&has)
	return has, fault("has staff", err)
}

// InviteFirst makes the link for the first instructor in place of an earlier
// one. It makes none, and says false, once there is staff.
func (s *Store) InviteFirst(ctx context.Context, hash []byte, expires time.Time) (bool, error) {
	made := false
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `DELETE FROM invitations WHERE class_id IS NULL AND used_at IS NULL`); err != nil {
			return err
		}
		tag, err := tx.Exec(ctx, `
			INSERT INTO invitations (token_hash, class_id, role, may_clear, expires_at)
			SELECT $1, NULL, 'instructor', true, $2
			WHERE NOT EXISTS (SELECT FROM staff)`, hash, expires)
		made = tag.RowsAffected() == 1
		return err
	})
	return made, fault("invite the first instructor", err)
}

// Invite makes a link into a class.
func (s *Store) Invite(ctx context.Context, classID int64, hash []byte, role string, mayClear bool, expires time.Time) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO invitations (token_hash, class_id, role, may_clear, expires_at) VALUES ($1, $2, $3, $4, $5)`,
		hash, classID, role, mayClear, expires)
	return fault("invite", err)
}

// InvitationByHash gives an invitation that can still be used.
func (s *Store) InvitationByHash(ctx context.Context, hash []byte, now time.Time) (Invitation, error) {
	return one[Invitation](ctx, s.pool, "invitation", `
		SELECT i.class_id, c.name AS class_name, i.role, i.may_clear, i.expires_at
		FROM invitations i LEFT JOIN classes c ON c.id = i.class_id
		WHERE i.token_hash = $1 AND i.used_at IS NULL AND i.expires_at > $2
		AND (i.class_id IS NOT NULL OR NOT EXISTS (SELECT FROM staff))`, hash, now)
}

// Invitations gives the links into a class that can still be used, the one
// that ends first before.
func (s *Store) Invitations(ctx context.Context, classID int64, now time.Time) ([]Invitation, error) {
	return all[Invitation](ctx, s.pool, "invitations", `
		SELECT i.class_id, NULL AS class_name, i.role, i.may_clear, i.expires_at
		FROM invitations i
		WHERE i.class_id = $1 AND i.used_at IS NULL AND i.expires_at > $2
		ORDER BY i.expires_at`, classID, now)
}

// EndInvitations makes every unused link into a class useless.
func (s *Store) EndInvitations(ctx context.Context, classID int64) error {
	_, err := s.pool.Exec(ctx, `DELETE FROM invitations WHERE class_id = $1 AND used_at IS NULL`, classID)
	return fault("end invitations", err)
}

// JoinNew uses an invitation up and makes the account in one transaction.
// ErrNotFound: the link cannot be used any more; ErrTaken: the e-mail address
// has an account already.
func (s *Store) JoinNew(ctx context.Context, hash []byte, p NewStaff) (Staff, error) {
	var made Staff
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		i, err := useInvitation(ctx, tx, hash, p.At)
		if err != nil {
			return err
		}
		p.MayTeach = i.Role == "instructor"
		made, err = insertStaff(ctx, tx, p)
		if err != nil || i.ClassID == nil {
			return err
		}
		return insertMember(ctx, tx, i, made.ID)
	})
	return made, fault("join with a new account", err)
}

// JoinAs uses an invitation up for somebody who has an account. ErrTaken: the
// person is in that class already; the link stays usable.
func (s *Store) JoinAs(ctx context.Context, hash []byte, staffID int64, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		i, err := useInvitation(ctx, tx, hash, at)
		if err != nil {
			return err
		}
		if i.ClassID == nil {
			return ErrNotFound
		}
		if i.Role == "instructor" {
			_, err = tx.Exec(ctx, `UPDATE staff SET may_teach = true WHERE id = $1`, staffID)
			if err != nil {
				return err
			}
		}
		return insertMember(ctx, tx, i, staffID)
	})
	return fault("join", err)
}

// useInvitation marks an invitation as used; of two at once only one gets it.
func useInvitation(ctx context.Context, tx pgx.Tx, hash []byte, at time.Time) (Invitation, error) {
	rows, err := tx.Query(ctx, `
		UPDATE invitations SET used_at = $2
		WHERE token_hash = $1 AND used_at IS NULL AND expires_at > $2
		AND (class_id IS NOT NULL OR NOT EXISTS (SELECT FROM staff))
		RETURNING class_id, NULL AS class_name, role, may_clear, expires_at`, hash, at)
	if err != nil {
		return Invitation{}, err
	}
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Invitation])
}

func insertMember(ctx context.Context, tx pgx.Tx, i Invitation, staffID int64) error {
	_, err := tx.Exec(ctx, `
		INSERT INTO class_staff (class_id, staff_id, role, may_clear) VALUES ($1, $2, $3, $4)`,
		*i.ClassID, staffID, i.Role, i.MayClear)
	return err
}

// AddStaff makes an account without an invitation.
func (s *Store) AddStaff(ctx context.Context, p NewStaff) (Staff, error) {
	var made Staff
	err := s.InTx(ctx, func(tx pgx.Tx) (err error) {
		made, err = insertStaff(ctx, tx, p)
		return err
	})
	return made, fault("add staff", err)
}

func insertStaff(ctx context.Context, tx pgx.Tx, p NewStaff) (Staff, error) {
	rows, err := tx.Query(ctx, `
		INSERT INTO staff (email, name, password_hash, may_teach, created_at) VALUES ($1, $2, $3, $4, $5)
		RETURNING `+staffColumns, p.Email, p.Name, p.PasswordHash, p.MayTeach, p.At)
	if err != nil {
		return Staff{}, err
	}
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Staff])
}

// SetPassword stores a new password and ends every session of before. It
// gives the new epoch.
func (s *Store) SetPassword(ctx context.Context, staffID int64, hash string) (int, error) {
	var epoch int
	err := s.pool.QueryRow(ctx, `
		UPDATE staff SET password_hash = $2, epoch = epoch + 1 WHERE id = $1 RETURNING epoch`, staffID, hash).Scan(&epoch)
	return epoch, fault("set password", err)
}
