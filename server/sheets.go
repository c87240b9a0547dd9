package server

import (
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var sheetsRoutes = []route{
	{http.MethodGet, "/sheets", forStudents, (*server).getSheets},
}

// sheetsPage lists a student's own sheets.
type sheetsPage struct {
	Frame
	Heading, Lead string
	Next          *Link
	Lines         []ownLine
}

// ownLine is one sheet of the list.
type ownLine struct {
	Title, Href, Note string
	State             personState
	Next              bool
}

func (s *server) getSheets(c echo.Context) error {
	ctx, st := c.Request().Context(), who(c).Student
	class, err := s.store.ClassByID(ctx, st.ClassID)
	if err != nil {
		return err
	}
	own, err := s.store.SheetsOf(ctx, st.ClassID, st.No, s.now())
	if err != nil {
		return err
	}
	page := sheetsPage{Frame: s.frame(c, "My sheets")}
	next := nextSheet(own, s.now())
	for i, o := range own {
		l := ownLineOf(o, class, s.now())
		l.Next = i == next
		if l.State.Word == "waits" {
			if l.State.Place, err = s.store.PlaceInQueue(ctx, st.ClassID, o.Sheet.No); err != nil {
				return err
			}
		}
		if l.Next {
			page.Next = &Link{Text: fmt.Sprintf("sheet %d, %s", o.Sheet.No, midName(o.Assignment.Title)), Href: l.Href}
		}
		page.Lines = append(page.Lines, l)
	}
	page.Heading, page.Lead = sheetsHeading(own, st, s.now())
	page.Block = []BlockField{
		{Label: "Student", Text: st.Name, Wide: true}, {Label: "Class", Text: class.Name, Wide: true},
		{Label: "Bench", Text: fmt.Sprint(st.Bench), Wide: true},
	}
	return s.show(c, "sheets", &page.Frame, &page)
}

// nextSheet is the index of the sheet to work on: of those that can still be
// sent and are not done, the one that is due first, else the newest.
func nextSheet(own []store.OwnSheet, now time.Time) int {
	next := -1
	for i, o := range own {
		a := o.Assignment
		if o.Cleared || o.Sheet.AskedAt != nil || shut(a, o.Sheet.Attempts, now) != "" {
			continue
		}
		switch {
		case next < 0:
			next = i
		case a.DueAt == nil:
		case own[next].Assignment.DueAt == nil || a.DueAt.Before(*own[next].Assignment.DueAt):
			next = i
		}
	}
	return next
}

func ownLineOf(o store.OwnSheet, class store.Class, now time.Time) ownLine {
	zone := zoneOf(class)
	l := ownLine{
		Title: o.Assignment.Title, Href: fmt.Sprintf("%s/sheets/%d", classHref(class), o.Sheet.No),
		Note: fmt.Sprintf("Sheet %d", o.Sheet.No), State: stateOf(o),
	}
	switch why := shut(o.Assignment, o.Sheet.Attempts, now); {
	case o.OutOf > 0:
		l.Note += fmt.Sprintf(", %d of %d right", o.Score, o.OutOf)
	case o.Sheet.Attempts > 0:
		l.Note += ", wood measured: send the numbers again"
	case why == "":
		l.Note += ", " + count(len(o.Sheet.Issued.Steps), "number")
	}
	if due := o.Assignment.DueAt; due != nil {
		if now.Before(*due) {
			l.Note += ", due " + onDay(*due, now, zone)
		} else {
			l.Note += ", was due " + onDay(*due, now, zone)
		}
	}
	if released(o.Assignment, o.Cleared, now) {
		l.Note += ", key released"
	}
	return l
}

// stateOf is a sheet's state as a word and a shape.
func stateOf(o store.OwnSheet) personState {
	switch {
	case o.Cleared:
		return personState{Word: "may cut"}
	case o.Sheet.AskedAt != nil:
		return personState{Word: "waits"}
	case o.Sheet.Attempts == 0:
		return personState{Word: "not started"}
	}
	return personState{Word: "working", Reach: 36 * o.Score / max(1, o.OutOf)}
}

func sheetsHeading(own []store.OwnSheet, st *store.Student, now time.Time) (heading, lead string) {
	var todo int
	for _, o := range own {
		if !o.Cleared && shut(o.Assignment, o.Sheet.Attempts, now) == "" {
			todo++
		}
	}
	lead = fmt.Sprintf("%s, bench %d.", st.Name, st.Bench)
	switch {
	case len(own) == 0:
		return "No sheet yet", lead + " Your instructor has given out nothing that has begun."
	case todo == 0:
		return "Nothing left to set out", lead
	case todo == 1:
		return "One sheet to set out", lead
	}
	return upperFirst(inWords(todo)) + " sheets to set out", lead
}
