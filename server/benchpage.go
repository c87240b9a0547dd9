package server

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

func (s *server) benchPage(c echo.Context, b benchCase) (benchPage, error) {
	zone := zoneOf(b.class)
	page := benchPage{
		Turn:       b.turn(),
		Frame:      s.frame(c, fmt.Sprintf("Bench %d: %s", b.sheet.Bench, b.assignment.Title)),
		Assignment: b.assignment.Title, Sheet: b.sheet.No, Bench: b.sheet.Bench, Name: shortName(b.sheet.StudentName),
		Base:     fmt.Sprintf("%s/sheets/%d", classHref(b.class), b.sheet.No),
		RoomHref: fmt.Sprintf("%s/assignments/%d/room", classHref(b.class), b.assignment.No),
		Measured: b.sheet.OnWood != nil,
		Givens:   shownGivens(b.exercise, b.sheet.Current(), unitsOf(b.class)),
		History:  b.history(zone),
	}
	page.Rail = roomRail(b.class, b.assignment, "")
	page.Rows = b.rows()
	page.Last = b.lastSlip()
	page.Heading, page.Lead = b.heading()
	page.Block = []BlockField{
		{Label: "Student", Text: b.sheet.StudentName, Wide: true}, {Label: "Class", Text: b.class.Name, Wide: true},
		{Label: "Sheet", Text: strconv.Itoa(b.sheet.No)}, {Label: "Scale", Text: "true shape"},
	}
	if last, ok := b.last(); ok {
		page.Attempt = last.No
	}
	b.clearing(&page, where(c).Member.MayClear, zone)
	var err error
	if page.Views, err = keyViews(b); err != nil {
		return page, err
	}
	if b.hasFit() {
		if page.Fit, err = b.fit(); err != nil {
			return page, err
		}
	}
	return page, s.follow(c, b, &page)
}

func (b benchCase) heading() (heading, lead string) {
	name := shortName(b.sheet.StudentName)
	if _, ok := b.standing(); ok {
		return name + " may cut", "Any later change ends it."
	}
	last, sent := b.last()
	if !sent {
		return name + " has not started", "The blank and the key are below."
	}
	lead = fmt.Sprintf("%d of %d right in attempt %d.", last.Score, last.OutOf, last.No)
	switch ok, _ := b.clearable(); {
	case ok && b.sheet.AskedAt != nil:
		return name + " waits for a check", lead
	case ok:
		return name + " has all numbers right", lead
	}
	return name + " is working", lead
}

func (b benchCase) rows() []benchRow {
	units := unitsOf(b.class)
	key := grading.Key(b.exercise, b.sheet.Current().Parameters)
	last, _ := b.last()
	results := askedResults(last, b.sheet)
	rows := make([]benchRow, len(results))
	for i, r := range results {
		step, _ := stepOf(b.exercise, r.ID)
		row := benchRow{Number: i + 1, Name: step.Name, From: step.From, Given: r.Given, Verdict: string(r.Verdict)}
		if v, ok := key[r.ID]; ok {
			row.Key = grading.Print(v, step.Unit, units)
		}
		if r.Reading != nil {
			row.Reading = grading.Print(r.Reading.Value, r.Reading.Unit, units)
		}
		if r.Pattern != nil {
			row.Slip, row.Wrong = slipClause(r.Pattern.Says), true
		}
		row.Wrong = r.Verdict == grading.Wrong
		rows[i] = row
	}
	return rows
}

func stepOf(ex *grading.Exercise, id string) (grading.Step, bool) {
	for _, st := range ex.Steps {
		if st.ID == id {
			return st, true
		}
	}
	return grading.Step{ID: id, Name: id, Unit: joint.One}, false
}

// lastSlip is the newest slip that has a name, from the newest attempt back.
func (b benchCase) lastSlip() *benchSlip {
	for _, a := range b.attempts {
		for i, r := range askedResults(a, b.sheet) {
			if r.Pattern != nil {
				return &benchSlip{Number: i + 1, Says: r.Pattern.Says}
			}
		}
	}
	return nil
}

// slipClause is the slip's own part of its sentence: what stands between
// "This is the number you get if" and the question.
func slipClause(says string) string {
	clause, _, _ := strings.Cut(says, ".")
	_, after, found := strings.Cut(clause, " if ")
	if !found {
		return clause
	}
	return after
}

func (b benchCase) history(zone *time.Location) []benchEvent {
	var all []benchEvent
	add := func(at time.Time, text string) { all = append(all, benchEvent{text, when(at, zone), at}) }
	for _, a := range b.attempts {
		add(a.SentAt, fmt.Sprintf("Attempt %d%s: %d of %d right", a.No, fromPaper(a), a.Score, a.OutOf))
	}
	for _, c := range b.clearances {
		add(c.ClearedAt, fmt.Sprintf("Cleared by %s for attempt %d", c.ByName, c.AttemptNo))
		if !c.Stands() {
			add(*c.RevokedAt, "Clearance ended: "+*c.RevokedWhy)
		}
	}
	slices.SortStableFunc(all, func(a, b benchEvent) int { return b.when.Compare(a.when) })
	return all
}

// follow leads to the next bench that calls, so that a walk needs no way back.
func (s *server) follow(c echo.Context, b benchCase, page *benchPage) error {
	rows, err := s.store.Room(c.Request().Context(), b.class.ID, b.assignment.No)
	if err != nil {
		return err
	}
	rows = slices.DeleteFunc(rows, func(r store.RoomRow) bool { return r.SheetNo == b.sheet.No })
	lines := arrange(seats(rows, b.exercise, who(c).Staff.ID), zoneOf(b.class))
	if n := firstCall(lines); n >= 0 {
		l := lines[n]
		page.Following = &benchLink{
			Href: benchHref(b.class, l.Seat.Sheet),
			Text: fmt.Sprintf("Bench %d %s", l.Seat.Bench, l.State.Word), Note: l.Note,
		}
	}
	return nil
}
