package server

import (
	"fmt"
	"slices"
	"time"
)

// seat is one student of the room, reduced to what decides about their state.
type seat struct {
	Bench    int
	Name     string // short
	Sheet    int
	Attempts int
	Right    int
	OutOf    int
	// Stale says that the wood was measured after the last numbers were sent.
	Stale     bool
	AskedAt   *time.Time
	ClearedAt *time.Time
	ClearedBy string // "you" or a name
	// Stuck names the step with three wrong answers or more that is not right yet.
	Stuck *stuckStep
}

type stuckStep struct {
	Number int
	Name   string
	Tries  int
}

// stuckAfter is how many wrong answers on one step call the instructor.
const stuckAfter = 3

// personState is a state as the room shows it: a word and the shape's measures.
type personState struct {
	Word  string
	Reach int // of 36, how far the scribed line of "working" is thick
	Place int // in the queue
}

// roomLine is one bench in the list.
type roomLine struct {
	Seat  seat
	State personState
	Note  string
	Call  bool // somebody has to come
	Next  bool // the one to go to now
}

// arrange puts the seats in bench order and says of each what is to be done.
func arrange(seats []seat, zone *time.Location) []roomLine {
	seats = slices.Clone(seats)
	slices.SortStableFunc(seats, func(a, b seat) int { return a.Bench - b.Bench })
	places := queue(seats)
	lines := make([]roomLine, len(seats))
	for i, s := range seats {
		lines[i] = s.line(places[s.Sheet], zone)
	}
	if n := firstCall(lines); n >= 0 {
		lines[n].Next = true
	}
	return lines
}

// queue numbers those who wait for a check by when they asked.
func queue(seats []seat) map[int]int {
	var waiting []seat
	for _, s := range seats {
		if s.waits() {
			waiting = append(waiting, s)
		}
	}
	slices.SortStableFunc(waiting, func(a, b seat) int { return a.AskedAt.Compare(*b.AskedAt) })
	places := map[int]int{}
	for i, s := range waiting {
		places[s.Sheet] = i + 1
	}
	return places
}

func (s seat) waits() bool { return s.ClearedAt == nil && s.AskedAt != nil }

func (s seat) line(place int, zone *time.Location) roomLine {
	l := roomLine{Seat: s}
	switch {
	case s.ClearedAt != nil:
		l.State.Word = "may cut"
		l.Note = fmt.Sprintf("cleared %s by %s", s.ClearedAt.In(zone).Format("15:04"), s.ClearedBy)
	case s.waits():
		l.State = personState{Word: "waits", Place: place}
		l.Note, l.Call = "asked "+s.AskedAt.In(zone).Format("15:04"), true
	case s.Stale:
		l.State.Word = "working"
		l.Note = "wood measured, numbers to be sent again"
	case s.Stuck != nil:
		l.State.Word = "stuck"
		l.Note, l.Call = fmt.Sprintf("%d %s, %d tries", s.Stuck.Number, s.Stuck.Name, s.Stuck.Tries), true
	case s.Attempts == 0:
		l.State.Word = "not started"
	default:
		l.State = personState{Word: "working", Reach: 36 * s.Right / max(1, s.OutOf)}
		l.Note = fmt.Sprintf("%d of %d right", s.Right, s.OutOf)
	}
	return l
}

// firstCall is the line to go to next: the head of the queue, else the first
// who is stuck; -1 when nobody calls.
func firstCall(lines []roomLine) int {
	stuck := -1
	for i, l := range lines {
		if l.State.Place == 1 {
			return i
		}
		if stuck < 0 && l.State.Word == "stuck" {
			stuck = i
		}
	}
	return stuck
}

// roomLead is the sentence under the heading.
func roomLead(lines []roomLine) string {
	count := map[string]int{}
	for _, l := range lines {
		count[l.State.Word]++
	}
	var parts []string
	add := func(n int, one, many string) {
		switch {
		case n == 1:
			parts = append(parts, "one "+one)
		case n > 1:
			parts = append(parts, fmt.Sprintf("%s %s", inWords(n), many))
		}
	}
	add(count["waits"], "waits for a check", "wait for a check")
	add(count["stuck"], "is stuck", "are stuck")
	if len(parts) == 0 {
		add(count["may cut"], "may cut", "may cut")
		if len(parts) == 0 {
			return "Nobody waits and nobody is stuck."
		}
		return "Nobody waits. " + sentence(parts)
	}
	return sentence(parts)
}
