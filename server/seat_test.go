package server

import (
	"testing"
	"time"
)

func TestArrange(t *testing.T) {
	at := func(h, m int) *time.Time {
		v := time.Date(2026, 11, 24, h, m, 0, 0, time.UTC)
		return &v
	}
	seats := []seat{
		{Bench: 7, Name: "Greta S.", Sheet: 70, Attempts: 2, Right: 6, OutOf: 6, AskedAt: at(18, 31)},
		{Bench: 1, Name: "Abel R.", Sheet: 10, Attempts: 1, Right: 3, OutOf: 6},
		{Bench: 2, Name: "Bruna T.", Sheet: 20, Attempts: 3, Right: 6, OutOf: 6, AskedAt: at(18, 20), ClearedAt: at(18, 22), ClearedBy: "you"},
		{Bench: 4, Name: "Delphine O.", Sheet: 40, Attempts: 5, Right: 2, OutOf: 6, Stuck: &stuckStep{3, "tip depth", 5}},
		{Bench: 15, Name: "Oskar H.", Sheet: 150, Attempts: 2, Right: 6, OutOf: 6, AskedAt: at(18, 29)},
		{Bench: 9, Name: "Ines B.", Sheet: 90, OutOf: 6},
		{Bench: 5, Name: "Edda K.", Sheet: 50, Attempts: 1, Right: 4, OutOf: 6, Stale: true, Stuck: &stuckStep{1, "half angle", 3}},
	}
	want := []struct {
		bench int
		state personState
		note  string
		call  bool
		next  bool
	}{
		{1, personState{Word: "working", Reach: 18}, "3 of 6 right", false, false},
		{2, personState{Word: "may cut"}, "cleared 18:22 by you", false, false},
		{4, personState{Word: "stuck"}, "3 tip depth, 5 tries", true, false},
		{5, personState{Word: "working"}, "wood measured, numbers to be sent again", false, false},
		{7, personState{Word: "waits", Place: 2}, "asked 18:31", true, false},
		{9, personState{Word: "not started"}, "", false, false},
		{15, personState{Word: "waits", Place: 1}, "asked 18:29", true, true},
	}
	got := arrange(seats, time.UTC)
	for i, w := range want {
		l := got[i]
		if l.Seat.Bench != w.bench || l.State != w.state || l.Note != w.note || l.Call != w.call || l.Next != w.next {
			t.Errorf("arrange()[%d] = bench %d %+v %q call %v next %v, want %+v", i, l.Seat.Bench, l.State, l.Note, l.Call, l.Next, w)
		}
	}
	if seats[0].Bench != 7 {
		t.Error("arrange changed the seats it was given")
	}
	if got, want := roomLead(got), "Two wait for a check and one is stuck."; got != want {
		t.Errorf("roomLead = %q, want %q", got, want)
	}
	check, help := calls("/classes/1", got, *at(18, 40))
	if check == nil || check.Bench != 15 || check.Note != "waits 11 min, then bench 7" {
		t.Errorf("calls: check = %+v, want bench 15 that waits 11 min", check)
	}
	if help == nil || help.Bench != 4 || help.Note != "stuck on number 3" {
		t.Errorf("calls: help = %+v, want bench 4", help)
	}
}

// Whoever is stuck is the next to go to when nobody waits.
func TestFirstCallWithoutQueue(t *testing.T) {
	lines := arrange([]seat{{Bench: 1, Sheet: 1}, {Bench: 2, Sheet: 2, Stuck: &stuckStep{1, "half angle", 3}}}, time.UTC)
	if got := firstCall(lines); got != 1 {
		t.Errorf("firstCall = %d, want 1", got)
	}
	if got := firstCall(lines[:1]); got != -1 {
		t.Errorf("firstCall with nobody calling = %d, want -1", got)
	}
}

func TestQuestionOf(t *testing.T) {
	tests := []struct{ name, says, clause, question string }{
		{"slip", "This is the number you get if the tilt is left out. Which face is it square to?", "the tilt is left out", "Which face is it square to?"},
		{"no question", "This is the number you get if it is halved.", "it is halved", "This is the number you get if it is halved."},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := questionOf(tt.says); got != tt.question {
				t.Errorf("questionOf(%q) = %q, want %q", tt.says, got, tt.question)
			}
			if got := slipClause(tt.says); got != tt.clause {
				t.Errorf("slipClause(%q) = %q, want %q", tt.says, got, tt.clause)
			}
		})
	}
}
