package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/grading"
)

// RoomRow is one sheet of an assignment with the last that was sent, as the
// room and the review need it.
type RoomRow struct {
	StudentNo   int             `db:"student_no"`
	Name        string          `db:"name"`
	Bench       int             `db:"bench"`
	SheetNo     int             `db:"sheet_no"`
	Issued      grading.Sheet   `db:"issued"`
	OnWood      *grading.Sheet  `db:"on_wood"`
	Keyed       *grading.Sheet  `db:"keyed"`
	Wood        int             `db:"wood"`
	Attempts    int             `db:"attempts"`
	AskedAt     *time.Time      `db:"asked_at"`
	SentAt      *time.Time      `db:"sent_at"`
	SentWood    *int            `db:"sent_wood"` // measuring the last attempt was judged by
	Score       *int            `db:"score"`
	Result      *grading.Result `db:"result"`
	ClearedAt   *time.Time      `db:"cleared_at"`
	ClearedBy   *int64          `db:"cleared_by"`
	ClearedName *string         `db:"cleared_name"`
	// WrongStep is the step with the most wrong answers among those not right
	// yet, and WrongTries their number.
	WrongStep  *string `db:"wrong_step"`
	WrongTries *int    `db:"wrong_tries"`
}

// Sheet is the sheet that counts now.
func (r RoomRow) Sheet() grading.Sheet {
	return Sheet{Issued: r.Issued, OnWood: r.OnWood, Keyed: r.Keyed}.Current()
}

// Room gives the sheets of an assignment in bench order, without students who
// were removed.
func (s *Store) Room(ctx context.Context, classID int64, assignment int) ([]RoomRow, error) {
	rows, err := s.pool.Query(ctx, `
		SELECT st.no AS student_no, st.name, st.bench, sh.no AS sheet_no, sh.issued, sh.on_wood, sh.keyed, sh.wood,
		       sh.attempts, sh.asked_at, a.sent_at, a.wood AS sent_wood, a.score, a.result,
		       c.cleared_at, c.cleared_by, p.name AS cleared_name, w.step AS wrong_step, w.tries AS wrong_tries
		FROM sheets sh
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		LEFT JOIN judged a ON a.class_id = sh.class_id AND a.sheet_no = sh.no AND a.no = sh.attempts
		LEFT JOIN clearances c ON c.class_id = sh.class_id AND c.sheet_no = sh.no AND c.revoked_at IS NULL
		LEFT JOIN staff p ON p.id = c.cleared_by
		LEFT JOIN LATERAL (
			SELECT n.step, (count(*) FILTER (WHERE n.verdict = 'wrong'))::int AS tries
			FROM answers n
			WHERE n.class_id = sh.class_id AND n.assignment_no = sh.assignment_no AND n.sheet_no = sh.no
			GROUP BY n.step
			HAVING (array_agg(n.verdict ORDER BY n.attempt_no DESC))[1] = 'wrong'
			   AND count(*) FILTER (WHERE n.verdict = 'wrong') > 0
			ORDER BY count(*) FILTER (WHERE n.verdict = 'wrong') DESC, n.step
			LIMIT 1) w ON true
		WHERE sh.class_id = $1 AND sh.assignment_no = $2
		ORDER BY st.bench, st.name, st.no`, classID, assignment)
	if err != nil {
		return nil, fault("room", err)
	}
	all, err := pgx.CollectRows(rows, pgx.RowToStructByName[RoomRow])
	return all, fault("room", err)
}

// SheetWork is what was sent on one sheet, oldest first, without a name.
type SheetWork struct {
	SheetNo  int               `db:"sheet_no"`
	Attempts []grading.Attempt `db:"attempts"`
}

// ClassWork gives everything a class sent on an assignment, without students
// who were removed and in no order that would tell who is who.
func (s *Store) ClassWork(ctx context.Context, classID int64, assignment int) ([]SheetWork, error) {
	rows, err := s.pool.Query(ctx, `
		SELECT sh.no AS sheet_no, coalesce(a.attempts, '[]') AS attempts
		FROM sheets sh
		JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
		LEFT JOIN LATERAL (
			SELECT jsonb_agg(jsonb_build_object('Sheet', a.sheet, 'Result', a.result) ORDER BY a.no) AS attempts
			FROM judged a WHERE a.class_id = sh.class_id AND a.sheet_no = sh.no) a ON true
		WHERE sh.class_id = $1 AND sh.assignment_no = $2
		ORDER BY md5(sh.class_id || '/' || sh.no)`, classID, assignment)
	if err != nil {
		return nil, fault("class work", err)
	}
	all, err := pgx.CollectRows(rows, pgx.RowToStructByName[SheetWork])
	return all, fault("class work", err)
}
