package server

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/server/store"
)

var roomRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/:assignment/room", forClassStaff, (*server).getRoom},
}

// roomPage is the walk round the class, bench by bench.
type roomPage struct {
	Frame
	Assignment string
	Clock      string
	Lead       string
	Base       string // address of the class
	Lines      []roomLine
	Check      *roomCall // who waits longest
	Help       *roomCall // who is stuck
}

// roomCall is one of the two buttons under the thumb.
type roomCall struct {
	Bench int
	Href  string
	Note  string
}

func (s *server) getRoom(c echo.Context) error {
	class, ctx := where(c).Class, c.Request().Context()
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	rows, err := s.store.Room(ctx, class.ID, a.No)
	if err != nil {
		return err
	}
	page := s.roomPage(c, class, a)
	page.Lines = arrange(seats(rows, ex, who(c).Staff.ID), zoneOf(class))
	page.Lead = roomLead(page.Lines)
	page.Check, page.Help = calls(page.Base, page.Lines, s.now())
	return s.show(c, "room", &page.Frame, &page)
}

// assignmentOf loads the assignment of the address and its exercise.
func (s *server) assignmentOf(c echo.Context) (store.Assignment, *grading.Exercise, error) {
	no, err := number(c, "assignment")
	if err != nil {
		return store.Assignment{}, nil, err
	}
	return s.loadAssignment(c.Request().Context(), where(c).Class.ID, no)
}

func (s *server) loadAssignment(ctx context.Context, class int64, no int) (store.Assignment, *grading.Exercise, error) {
	a, err := s.store.Assignment(ctx, class, no)
	if err != nil {
		return store.Assignment{}, nil, err
	}
	ex, err := s.exerciseOf(ctx, a)
	return a, ex, err
}

func (s *server) roomPage(c echo.Context, class store.Class, a store.Assignment) roomPage {
	now := s.now().In(zoneOf(class))
	page := roomPage{
		Frame:      s.frame(c, "Room: "+a.Title),
		Assignment: a.Title,
		Clock:      now.Format("15:04"),
		Base:       classHref(class),
	}
	page.Rail = roomRail(class, a, "room")
	page.Script = "room.js"
	page.Block = []BlockField{
		{Label: "Class", Text: class.Name, Wide: true},
		{Label: "Exercise", Text: a.Title, Wide: true},
		{Label: "Brought up to date", Text: now.Format("15:04:05"), Wide: true},
	}
	return page
}

// roomRail leads between the pages of one assignment.
func roomRail(class store.Class, a store.Assignment, here string) []Link {
	base := classHref(class)
	one := fmt.Sprintf("%s/assignments/%d", base, a.No)
	return []Link{
		{Text: "Class", Href: base},
		{Text: "Sheets", Href: one, Here: here == "assignment"},
		{Text: "Room", Href: one + "/room", Here: here == "room"},
		{Text: "Review", Href: one + "/review", Here: here == "review"},
		{Text: "Paper", Href: one + "/paper", Here: here == "paper"},
	}
}

func classHref(class store.Class) string { return fmt.Sprintf("/classes/%d", class.ID) }

// seats reduces the rows of the store to what decides about a state.
func seats(rows []store.RoomRow, ex *grading.Exercise, reader int64) []seat {
	all := make([]seat, len(rows))
	for i, r := range rows {
		all[i] = seatOf(r, ex, reader)
	}
	return all
}

func seatOf(r store.RoomRow, ex *grading.Exercise, reader int64) seat {
	s := seat{
		Bench: r.Bench, Name: shortName(r.Name), Sheet: r.SheetNo, Attempts: r.Attempts,
		OutOf: len(r.Sheet().Steps), AskedAt: r.AskedAt, ClearedAt: r.ClearedAt,
		Stale: r.SentWood != nil && *r.SentWood != r.Wood,
	}
	if r.Score != nil {
		s.Right = *r.Score
	}
	if r.ClearedBy != nil && r.ClearedName != nil {
		s.ClearedBy = *r.ClearedName
		if *r.ClearedBy == reader {
			s.ClearedBy = "you"
		}
	}
	if r.WrongStep != nil && *r.WrongTries >= stuckAfter {
		s.Stuck = stuckOn(ex, r.Sheet(), *r.WrongStep, *r.WrongTries)
	}
	return s
}

func stuckOn(ex *grading.Exercise, sheet grading.Sheet, step string, tries int) *stuckStep {
	for i, st := range sheet.Steps {
		if st.ID == step {
			return &stuckStep{Number: i + 1, Name: lowerFirst(stepName(ex, step)), Tries: tries}
		}
	}
	return nil
}

// stepName is the name of an asked number as the exercise words it.
func stepName(ex *grading.Exercise, id string) string {
	for _, st := range ex.Steps {
		if st.ID == id {
			return st.Name
		}
	}
	return id
}

// calls finds who to go to: the head of the queue, and the first who is stuck.
func calls(base string, lines []roomLine, now time.Time) (check, help *roomCall) {
	second := 0
	for _, l := range lines {
		if l.State.Place == 2 {
			second = l.Seat.Bench
		}
	}
	for _, l := range lines {
		href := fmt.Sprintf("%s/sheets/%d/bench", base, l.Seat.Sheet)
		switch {
		case l.State.Place == 1:
			check = &roomCall{Bench: l.Seat.Bench, Href: href, Note: waited(now.Sub(*l.Seat.AskedAt), second)}
		case help == nil && l.State.Word == "stuck":
			help = &roomCall{Bench: l.Seat.Bench, Href: href, Note: fmt.Sprintf("stuck on number %d", l.Seat.Stuck.Number)}
		}
	}
	return check, help
}

func waited(d time.Duration, then int) string {
	text := "just asked"
	if d >= time.Minute {
		text = fmt.Sprintf("waits %d min", int(d.Minutes()))
	}
	if then > 0 {
		text += fmt.Sprintf(", then bench %d", then)
	}
	return text
}
