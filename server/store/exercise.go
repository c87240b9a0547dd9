package store

import "context"

// KeepExercise writes down one version of an exercise the first time it is
// given out, and gives what is written down: a version is never changed
// afterwards, whatever the lesson says by then.
func (s *Store) KeepExercise(ctx context.Context, id string, version int, spec []byte) ([]byte, error) {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO exercises (id, version, spec) VALUES ($1, $2, $3)
		ON CONFLICT ON CONSTRAINT exercises_pkey DO NOTHING`, id, version, spec)
	if err != nil {
		return nil, fault("keep exercise", err)
	}
	return s.ExerciseSpec(ctx, id, version)
}

// ExerciseSpec gives a version as it was written down.
func (s *Store) ExerciseSpec(ctx context.Context, id string, version int) ([]byte, error) {
	var spec []byte
	err := s.pool.QueryRow(ctx, `SELECT spec FROM exercises WHERE id = $1 AND version = $2`, id, version).Scan(&spec)
	return spec, fault("exercise", err)
}
