package store

import "context"

// Fact gives a fact about the whole installation; ErrNotFound if it was never
// set.
func (s *Store) Fact(ctx context.Context, id string) (string, error) {
	var value string
	err := s.pool.QueryRow(ctx, `SELECT value FROM facts WHERE id = $1`, id).Scan(&value)
	return value, fault("fact", err)
}

// SetFact keeps a fact about the whole installation.
func (s *Store) SetFact(ctx context.Context, id, value string) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO facts (id, value) VALUES ($1, $2)
		ON CONFLICT ON CONSTRAINT facts_pkey DO UPDATE SET value = excluded.value`, id, value)
	return fault("set fact", err)
}
