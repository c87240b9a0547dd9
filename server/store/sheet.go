package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// Sheet is one student's own instance of an exercise.
type Sheet struct {
	ClassID      int64          `db:"class_id"`
	No           int            `db:"no"`
	AssignmentNo int            `db:"assignment_no"`
	StudentNo    int            `db:"student_no"`
	StudentName  string         `db:"student_name"`
	Bench        int            `db:"bench"`
	Issued       grading.Sheet  `db:"issued"`  // as first given out
	OnWood       *grading.Sheet `db:"on_wood"` // on the measured blank; nil: not measured
	Keyed        *grading.Sheet `db:"keyed"`   // under a key made later; nil: none, or it changes nothing here
	Wood         int            `db:"wood"`    // times the blank was measured
	Attempts     int            `db:"attempts"`
	AskedAt      *time.Time     `db:"asked_at"`
}

// Current is the sheet that counts now: under the newest key, on the measured
// wood if there is one.
func (s Sheet) Current() grading.Sheet {
	if s.Keyed != nil {
		return *s.Keyed
	}
	return s.Plain()
}

// Plain is the sheet with the class's own tolerances, on the measured wood if
// there is one: what a key is put on.
func (s Sheet) Plain() grading.Sheet {
	if s.OnWood != nil {
		return *s.OnWood
	}
	return s.Issued
}

const sheetQuery = `
	SELECT sh.class_id, sh.no, sh.assignment_no, sh.student_no, st.name AS student_name, st.bench,
	       sh.issued, sh.on_wood, sh.keyed, sh.wood, sh.attempts, sh.asked_at
	FROM sheets sh JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no`

// Sheet gives one sheet of a class.
func (s *Store) Sheet(ctx context.Context, classID int64, no int) (Sheet, error) {
	return oneSheet(ctx, s.pool, classID, no)
}

func oneSheet(ctx context.Context, q querier, classID int64, no int) (Sheet, error) {
	return one[Sheet](ctx, q, "sheet", sheetQuery+` WHERE sh.class_id = $1 AND sh.no = $2`, classID, no)
}

// OwnSheet is a student's sheet with its assignment and how it stands.
type OwnSheet struct {
	Sheet      Sheet
	Assignment Assignment
	// Score and OutOf are the last attempt's; OutOf 0: none, or none on this wood.
	Score, OutOf int
	Cleared      bool
}

// SheetsOf gives a student's sheets of assignments that are open at a time and
// not withdrawn, the newest first.
func (s *Store) SheetsOf(ctx context.Context, classID int64, student int, now time.Time) ([]OwnSheet, error) {
	rows, err := s.pool.Query(ctx, `
		SELECT sh.class_id, sh.no, sh.assignment_no, sh.student_no, st.name, st.bench, sh.issued, sh.on_wood, sh.keyed, sh.wood, sh.attempts, sh.asked_at,
		       a.exercise, a.version, a.title, a.opens_at, a.due_at, a.attempts, a.release, a.released_at, a.key_no,
		       coalesce(l.score, 0), coalesce(l.out_of, 0), c.no IS NOT NULL
		FROM sheets sh
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no
		JOIN assignments a ON a.class_id = sh.class_id AND a.no = sh.assignment_no
		LEFT JOIN judged l ON l.class_id = sh.class_id AND l.sheet_no = sh.no AND l.no = sh.attempts AND l.wood = sh.wood
		LEFT JOIN clearances c ON c.class_id = sh.class_id AND c.sheet_no = sh.no AND c.revoked_at IS NULL
		WHERE sh.class_id = $1 AND sh.student_no = $2 AND a.opens_at <= $3 AND a.withdrawn_at IS NULL
		ORDER BY sh.no DESC`, classID, student, now)
	if err != nil {
		return nil, fault("sheets of student", err)
	}
	all, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (OwnSheet, error) {
		var o OwnSheet
		sh, a := &o.Sheet, &o.Assignment
		err := row.Scan(&sh.ClassID, &sh.No, &sh.AssignmentNo, &sh.StudentNo, &sh.StudentName, &sh.Bench, &sh.Issued, &sh.OnWood, &sh.Keyed, &sh.Wood, &sh.Attempts, &sh.AskedAt,
			&a.Exercise, &a.Version, &a.Title, &a.OpensAt, &a.DueAt, &a.Attempts, &a.Release, &a.ReleasedAt, &a.KeyNo,
			&o.Score, &o.OutOf, &o.Cleared)
		a.ClassID, a.No = sh.ClassID, sh.AssignmentNo
		return o, err
	})
	return all, fault("sheets of student", err)
}

// Measured is a sheet on the blank as measured.
type Measured struct {
	From  int            // the measuring that the student saw
	Key   int            // the key that both sheets are made by
	On    grading.Sheet  // with the class's own tolerances
	Keyed *grading.Sheet // under the key, where that changes it
}

// Measure puts a sheet on the blank as measured. Numbers sent before belong to
// the old sizes, so a standing clearance ends and a question for a check is
// taken back. ErrChanged: another measuring or another key came in between.
func (s *Store) Measure(ctx context.Context, classID int64, sheet int, m Measured, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, `
			UPDATE sheets SET on_wood = $4, keyed = $5, wood = wood + 1, asked_at = NULL
			WHERE class_id = $1 AND no = $2 AND wood = $3`, classID, sheet, m.From, m.On, m.Keyed)
		if err == nil && tag.RowsAffected() == 0 {
			err = ErrChanged
		}
		if err != nil {
			return err
		}
		// Read after the row is locked: a new key locks all sheets first.
		var key int
		err = tx.QueryRow(ctx, `
			SELECT a.key_no FROM sheets sh JOIN assignments a ON a.class_id = sh.class_id AND a.no = sh.assignment_no
			WHERE sh.class_id = $1 AND sh.no = $2`, classID, sheet).Scan(&key)
		if err == nil && key != m.Key {
			err = ErrChanged
		}
		if err != nil {
			return err
		}
		return revokeIn(ctx, tx, classID, sheet, "the blank was measured again", at)
	})
	return fault("measure blank", err)
}

// revokeIn ends a standing clearance, if there is one, with the reason that
// the student reads.
func revokeIn(ctx context.Context, tx pgx.Tx, classID int64, sheet int, why string, at time.Time) error {
	_, err := tx.Exec(ctx, `
		UPDATE clearances SET revoked_at = $3, revoked_why = $4
		WHERE class_id = $1 AND sheet_no = $2 AND revoked_at IS NULL`, classID, sheet, at, why)
	return err
}

// Ask puts a sheet in the queue for a check. attempt and wood are what the
// question is about: ErrChanged when the sheet has moved on. Asking twice
// keeps the place.
func (s *Store) Ask(ctx context.Context, classID int64, sheet, attempt, wood int, at time.Time) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE sheets SET asked_at = coalesce(asked_at, $5)
		WHERE class_id = $1 AND no = $2 AND attempts = $3 AND wood = $4
		  AND NOT EXISTS (SELECT FROM clearances WHERE class_id = $1 AND sheet_no = $2 AND revoked_at IS NULL)`,
		classID, sheet, attempt, wood, at)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrChanged
	}
	return fault("ask for a check", err)
}

// Unask takes the question back.
func (s *Store) Unask(ctx context.Context, classID int64, sheet int) error {
	_, err := s.pool.Exec(ctx, `UPDATE sheets SET asked_at = NULL WHERE class_id = $1 AND no = $2`, classID, sheet)
	return fault("take back the question", err)
}

// PlaceInQueue says how many sheets of the assignment wait for a check up to
// and with this one; 0: this one does not wait.
func (s *Store) PlaceInQueue(ctx context.Context, classID int64, sheet int) (int, error) {
	var place int
	err := s.pool.QueryRow(ctx, `
		SELECT count(*)::int
		FROM sheets me
		JOIN sheets o ON o.class_id = me.class_id AND o.assignment_no = me.assignment_no
		     AND (o.asked_at, o.no) <= (me.asked_at, me.no)
		JOIN students st ON st.class_id = o.class_id AND st.no = o.student_no AND st.removed_at IS NULL
		WHERE me.class_id = $1 AND me.no = $2`, classID, sheet).Scan(&place)
	return place, fault("place in queue", err)
}
