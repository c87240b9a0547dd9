package store

import (
	"context"
	"time"
)

// Search is what a search for shared wrong formulas found on one number of an
// assignment.
type Search struct {
	Step     string    `db:"step"`
	Answers  int       `db:"answers"` // wrong ones that it was given, one a sheet
	Findings []Finding `db:"findings"`
	AskedBy  int64     `db:"asked_by"`
	EndedAt  time.Time `db:"ended_at"`
}

// Finding is a formula that several answers come from.
type Finding struct {
	Formula string `json:"formula"` // over the exercise's givens
	Says    string `json:"says"`
	Sheets  []int  `json:"sheets"` // whose answers it gives
	Of      int    `json:"of"`     // answers that were searched
	Decoy   int    `json:"decoy"`  // that formulas of its kind give by chance, at best
}

// KeepSearch writes down what a search found, in place of the one before.
func (s *Store) KeepSearch(ctx context.Context, classID int64, assignment int, found Search) error {
	if found.Findings == nil {
		found.Findings = []Finding{}
	}
	_, err := s.pool.Exec(ctx, `
		INSERT INTO searches (class_id, assignment_no, step, answers, findings, asked_by, ended_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7)
		ON CONFLICT ON CONSTRAINT searches_pkey DO UPDATE SET answers = excluded.answers, findings = excluded.findings,
			asked_by = excluded.asked_by, ended_at = excluded.ended_at`,
		classID, assignment, found.Step, found.Answers, found.Findings, found.AskedBy, found.EndedAt)
	return fault("keep search", err)
}

// Searches gives what was found on an assignment, by step; none before the
// first search.
func (s *Store) Searches(ctx context.Context, classID int64, assignment int) ([]Search, error) {
	return all[Search](ctx, s.pool, "searches", `
		SELECT step, answers, findings, asked_by, ended_at
		FROM searches WHERE class_id = $1 AND assignment_no = $2 ORDER BY step`, classID, assignment)
}
