package server

import (
	"context"
	"fmt"
	"time"

	"arrisbook/server/store"
)

// assignmentLine is one assignment in the list of a class.
type assignmentLine struct {
	Title, Href string
	Room        string // address of the room; "" when withdrawn
	State       string // one line
	Running     bool
}

// assignmentLines lists a class's assignments, the newest first.
func (s *server) assignmentLines(ctx context.Context, class store.Class) ([]assignmentLine, error) {
	all, err := s.store.Assignments(ctx, class.ID)
	if err != nil {
		return nil, err
	}
	lines := make([]assignmentLine, len(all))
	for i, a := range all {
		lines[i] = lineOf(a, classHref(class), zoneOf(class), s.now())
	}
	return lines, nil
}

func lineOf(a store.AssignmentCount, base string, zone *time.Location, now time.Time) assignmentLine {
	l := assignmentLine{Title: a.Title, Href: fmt.Sprintf("%s/assignments/%d", base, a.No)}
	l.Room = l.Href + "/room"
	switch {
	case a.WithdrawnAt != nil:
		l.Room, l.State = "", "withdrawn, nothing of it is lost"
	case now.Before(a.OpensAt):
		l.State = fmt.Sprintf("%s, begins %s", count(a.Sheets, "sheet"), when(a.OpensAt, zone))
	default:
		l.State = running(a)
		l.Running = a.DueAt == nil || now.Before(*a.DueAt)
		if a.DueAt != nil {
			l.State += ", due " + when(*a.DueAt, zone)
		}
	}
	return l
}

// running says how far a class is with an assignment.
func running(a store.AssignmentCount) string {
	state := fmt.Sprintf("%d of %d begun", a.Begun, a.Sheets)
	if a.Waiting > 0 {
		state += fmt.Sprintf(", %d waiting for a check", a.Waiting)
	}
	if a.Cleared > 0 {
		state += fmt.Sprintf(", %d may cut", a.Cleared)
	}
	return state
}

// count writes a number with its noun: "1 sheet", "18 sheets".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
