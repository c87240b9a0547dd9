package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
)

// Sessions keeps scs sessions in PostgreSQL. It satisfies scs.CtxStore.
type Sessions struct {
	s   *Store
	now func() time.Time
}

// Sessions gives the session store; now is the clock that ends sessions.
func (s *Store) Sessions(now func() time.Time) *Sessions { return &Sessions{s, now} }

// FindCtx gives the data of a session that has not ended.
func (k *Sessions) FindCtx(ctx context.Context, token string) ([]byte, bool, error) {
	var data []byte
	err := k.s.pool.QueryRow(ctx, `SELECT data FROM sessions WHERE token = $1 AND expiry > $2`, token, k.now()).Scan(&data)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, false, nil
	}
	return data, err == nil, fault("find session", err)
}

// CommitCtx stores a session until its expiry, and now and then sweeps out
// what has ended. A session that was ended stays ended: a request that was
// still under way must not bring it back.
func (k *Sessions) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	_, err := k.s.pool.Exec(ctx, `
		WITH swept AS (
			DELETE FROM sessions WHERE token IN (SELECT token FROM sessions WHERE expiry < $4 LIMIT 20 FOR UPDATE SKIP LOCKED))
		INSERT INTO sessions (token, data, expiry) VALUES ($1, $2, $3)
		ON CONFLICT ON CONSTRAINT sessions_pkey DO UPDATE SET data = excluded.data, expiry = excluded.expiry
			WHERE sessions.expiry > $5`,
		token, data, expiry, k.now().Add(-time.Hour), k.now())
	return fault("keep session", err)
}

// DeleteCtx ends a session. Its row stays, empty, until it is swept out.
func (k *Sessions) DeleteCtx(ctx context.Context, token string) error {
	_, err := k.s.pool.Exec(ctx, `UPDATE sessions SET data = '', expiry = $2 WHERE token = $1`, token, k.now())
	return fault("end session", err)
}

// Find is FindCtx without a request.
func (k *Sessions) Find(token string) ([]byte, bool, error) {
	return k.FindCtx(context.Background(), token)
}

// Commit is CommitCtx without a request.
func (k *Sessions) Commit(token string, data []byte, expiry time.Time) error {
	return k.CommitCtx(context.Background(), token, data, expiry)
}

// Delete is DeleteCtx without a request.
func (k *Sessions) Delete(token string) error { return k.DeleteCtx(context.Background(), token) }
