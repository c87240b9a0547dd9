package server

import (
	"context"
	"testing"

	"arrisbook/lessons"
	"arrisbook/server/store"
)

// shippedLessons loads the lessons that come with the program.
func shippedLessons(t testing.TB) *lessons.Library {
	t.Helper()
	lib, err := lessons.Shipped()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

func TestDemo(t *testing.T) {
	t.Parallel()
	h := startServer(t, func(c *Config) { c.Lessons = shippedLessons(t) })
	ctx := context.Background()
	lines, err := FillDemo(ctx, h.Server.cfg)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		t.Log(l)
	}
	attempts, states := 0, map[string]int{}
	for no := 1; no <= 4; no++ {
		a, err := h.Store.Assignment(ctx, 1, no)
		if err != nil {
			t.Fatal(err)
		}
		ex, err := h.Server.exerciseOf(ctx, a)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := h.Store.Room(ctx, 1, no)
		if err != nil || len(rows) != 18 {
			t.Fatalf("Room(%d) gave %d rows, %v, want 18", no, len(rows), err)
		}
		sent := 0
		for _, r := range rows {
			sent += r.Attempts
		}
		attempts += sent
		for _, l := range arrange(seats(rows, ex, 0), zoneOf(mustClass(t, h, 1))) {
			t.Logf("%d: bench %2d %-10s %-8s %s", no, l.Seat.Bench, l.Seat.Name, l.State.Word, l.Note)
			if no == 4 {
				states[l.State.Word]++
			}
		}
		work, err := h.Store.ClassWork(ctx, 1, no)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range work {
			sent -= len(w.Attempts)
		}
		if sent != 0 {
			t.Errorf("assignment %d: the review has %d attempts fewer than the room", no, sent)
		}
	}
	t.Log(attempts, "attempts", states)
	if attempts < 300 {
		t.Errorf("the demo has %d attempts, want several hundred", attempts)
	}
	for _, word := range []string{"may cut", "waits", "stuck", "working", "not started"} {
		if states[word] == 0 {
			t.Errorf("nobody in the demo's room is %q: %v", word, states)
		}
	}
	if _, err := FillDemo(ctx, h.Server.cfg); err != nil {
		t.Errorf("FillDemo on the demo itself = %v, want a new password and card", err)
	}
}

func mustClass(t testing.TB, h *harness, id int64) store.Class {
	t.Helper()
	class, err := h.Store.ClassByID(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	return class
}
