package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// CountFault is a count that is not what the attempts themselves give.
type CountFault struct {
	ClassID int64
	Table   string // answers, progress, tallies
	Surplus bool   // the row stands there and should not; else it is missing
	Row     string // as PostgreSQL writes it
}

// Counted says what a check or a recount of one class found.
type Counted struct {
	ClassID  int64
	Attempts int
	Faults   []CountFault // as they were before a recount
}

// rawAnswers works the answers of a class out of its attempts as they stand:
// those whose text is not that of the attempt before, on the same wood, and on
// other wood all that are not empty.
const rawAnswers = `
	SELECT a.class_id, sh.assignment_no, r.step->>'id' AS step, a.sheet_no, a.no AS attempt_no, r.step->>'verdict' AS verdict,
	       coalesce(r.step->'pattern'->>'id', '') AS pattern, coalesce(r.step->'pattern'->>'detail', '') AS detail
	FROM judged a
	JOIN sheets sh ON sh.class_id = a.class_id AND sh.no = a.sheet_no
	LEFT JOIN attempts p ON p.class_id = a.class_id AND p.sheet_no = a.sheet_no AND p.no = a.no - 1
	CROSS JOIN LATERAL jsonb_array_elements(a.result->'steps') AS r(step)
	WHERE a.class_id = $1 AND CASE WHEN p.wood = a.wood THEN coalesce(p.answers->>(r.step->>'id'), '') <> r.step->>'given'
	                               ELSE r.step->>'verdict' <> 'blank' END`

const answerRows = `
	SELECT class_id, assignment_no, step, sheet_no, attempt_no, verdict, pattern, detail FROM answers WHERE class_id = $1`

// rawTallies and rawProgress count answers; that those are right is looked at
// first.
const rawTallies = tallyColumns + `
	JOIN sheets sh ON sh.class_id = c.class_id AND sh.no = c.sheet_no
	JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
	WHERE c.class_id = $1
	GROUP BY 1, 2, 3, 4, 5, 6, 7, 8`

const tallyRows = `
	SELECT class_id, assignment_no, step, verdict, pattern, detail, turn, slot, answers, sheets
	FROM tallies WHERE class_id = $1 AND answers > 0`

const rawProgress = `
	SELECT c.class_id, c.assignment_no, c.sheet_no, c.step, max(c.attempt_no) AS attempt_no,
	       (array_agg(c.verdict ORDER BY c.attempt_no DESC))[1] AS verdict, (array_agg(c.pattern ORDER BY c.attempt_no DESC))[1] AS pattern,
	       (array_agg(c.detail ORDER BY c.attempt_no DESC))[1] AS detail, count(*)::int AS answers,
	       (count(*) FILTER (WHERE c.verdict = 'wrong'))::int AS wrong
	FROM answered c WHERE c.class_id = $1
	GROUP BY c.class_id, c.assignment_no, c.sheet_no, c.step`

const progressRows = `
	SELECT class_id, assignment_no, sheet_no, step, attempt_no, verdict, pattern, detail, answers, wrong
	FROM progress WHERE class_id = $1`

// countTables are the counts in the order in which they are built on each
// other.
var countTables = []struct{ name, kept, raw string }{
	{"answers", answerRows, rawAnswers},
	{"progress", progressRows, rawProgress},
	{"tallies", tallyRows, rawTallies},
}

// ClassIDs gives all classes.
func (s *Store) ClassIDs(ctx context.Context) ([]int64, error) {
	rows, err := s.pool.Query(ctx, `SELECT id FROM classes ORDER BY id`)
	if err != nil {
		return nil, fault("classes", err)
	}
	ids, err := pgx.CollectRows(rows, pgx.RowTo[int64])
	return ids, fault("classes", err)
}

// CheckCounts holds a class's counts against its attempts, as both are at one
// moment. It locks nothing.
func (s *Store) CheckCounts(ctx context.Context, classID int64) (Counted, error) {
	out := Counted{ClassID: classID}
	tx, err := s.pool.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly})
	if err != nil {
		return out, fault("check counts", err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx))
	err = out.check(ctx, tx)
	return out, fault("check counts", err)
}

// Recount makes a class's counts anew from its attempts, and says which were
// wrong. Nobody of the class can send anything meanwhile.
func (s *Store) Recount(ctx context.Context, classID int64) (Counted, error) {
	var out Counted
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		out = Counted{ClassID: classID}
		for _, lock := range []string{
			`SELECT FROM assignments WHERE class_id = $1 ORDER BY no FOR NO KEY UPDATE`,
			`SELECT FROM sheets WHERE class_id = $1 ORDER BY no FOR UPDATE`,
		} {
			if _, err := tx.Exec(ctx, lock, classID); err != nil {
				return err
			}
		}
		if err := out.check(ctx, tx); err != nil {
			return err
		}
		for _, sql := range []string{
			`DELETE FROM tallies WHERE class_id = $1`,
			`DELETE FROM progress WHERE class_id = $1`,
			`DELETE FROM answers WHERE class_id = $1`,
			`INSERT INTO answers (class_id, assignment_no, step, sheet_no, attempt_no, verdict, pattern, detail) ` + rawAnswers,
			`INSERT INTO progress (class_id, assignment_no, sheet_no, step, attempt_no, verdict, pattern, detail, answers, wrong) ` + rawProgress,
			tallyInto + rawTallies,
		} {
			if _, err := tx.Exec(ctx, sql, classID); err != nil {
				return err
			}
		}
		return nil
	})
	return out, fault("recount", err)
}

// faultsShown is how many wrong counts of a table are named.
const faultsShown = 100

// check compares what is kept with what the attempts give. A large class takes
// longer than a page may.
func (c *Counted) check(ctx context.Context, tx pgx.Tx) error {
	if _, err := tx.Exec(ctx, `SET LOCAL statement_timeout = 0`); err != nil {
		return err
	}
	if err := tx.QueryRow(ctx, `SELECT count(*)::int FROM attempts WHERE class_id = $1`, c.ClassID).Scan(&c.Attempts); err != nil {
		return err
	}
	for _, t := range countTables {
		rows, err := tx.Query(ctx, `
			WITH kept AS MATERIALIZED (`+t.kept+`), raw AS MATERIALIZED (`+t.raw+`)
			SELECT true, x::text FROM (SELECT * FROM kept EXCEPT ALL SELECT * FROM raw) x
			UNION ALL
			SELECT false, x::text FROM (SELECT * FROM raw EXCEPT ALL SELECT * FROM kept) x
			LIMIT $2`, c.ClassID, faultsShown)
		if err != nil {
			return err
		}
		for rows.Next() {
			f := CountFault{ClassID: c.ClassID, Table: t.name}
			if err := rows.Scan(&f.Surplus, &f.Row); err != nil {
				return err
			}
			c.Faults = append(c.Faults, f)
		}
		if err := rows.Err(); err != nil {
			return err
		}
	}
	return nil
}
