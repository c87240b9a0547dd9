package server

import (
	"strings"
	"testing"
	"time"

	"arrisbook/server/store"
)

func TestReleased(t *testing.T) {
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	before, after := now.Add(-time.Second), now.Add(time.Second)
	for _, c := range []struct {
		name    string
		release string
		hand    *time.Time
		due     *time.Time
		cleared bool
		want    bool
	}{
		{"by hand, not yet", "hand", nil, nil, false, false},
		{"by hand, cleared does not count", "hand", nil, nil, true, false},
		{"by hand, due does not count", "hand", nil, &before, true, false},
		{"by hand, done", "hand", &before, nil, false, true},
		{"by hand, this very moment", "hand", &now, nil, false, true},
		{"by hand, a moment that is still to come", "hand", &after, nil, false, false},
		{"when cleared, not cleared", "cleared", nil, &before, false, false},
		{"when cleared, cleared", "cleared", nil, nil, true, true},
		{"when cleared, released by hand all the same", "cleared", &before, nil, false, true},
		{"at the due time, a second before", "due", nil, &after, true, false},
		{"at the due time, sharp", "due", nil, &now, false, true},
		{"at the due time, after", "due", nil, &before, false, true},
		{"at the due time, earlier by hand", "due", &before, &after, false, true},
		{"at the due time, none set", "due", nil, nil, true, false},
		{"a word that is none", "", nil, &before, true, false},
	} {
		a := store.Assignment{Release: c.release, ReleasedAt: c.hand, DueAt: c.due}
		if got := released(a, c.cleared, now); got != c.want {
			t.Errorf("%s: released(%q) = %v, want %v", c.name, c.release, got, c.want)
		}
	}
}

func TestShut(t *testing.T) {
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	before, after := now.Add(-time.Second), now.Add(time.Second)
	open := store.Assignment{OpensAt: before}
	for _, c := range []struct {
		name     string
		change   func(*store.Assignment)
		attempts int
		want     string
	}{
		{"runs", func(*store.Assignment) {}, 40, ""},
		{"opens this moment", func(a *store.Assignment) { a.OpensAt = now }, 0, ""},
		{"not yet", func(a *store.Assignment) { a.OpensAt = after }, 0, "not begun"},
		{"a second before due", func(a *store.Assignment) { a.DueAt = &after }, 0, ""},
		{"due", func(a *store.Assignment) { a.DueAt = &now }, 0, "due time"},
		{"one attempt left", func(a *store.Assignment) { a.Attempts = 3 }, 2, ""},
		{"none left", func(a *store.Assignment) { a.Attempts = 3 }, 3, "attempts are used"},
		{"withdrawn", func(a *store.Assignment) { a.WithdrawnAt = &before }, 0, "withdrawn"},
		{"key out", func(a *store.Assignment) { a.ReleasedAt = &before }, 0, "key is released"},
	} {
		a := open
		c.change(&a)
		got := shut(a, c.attempts, now)
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: shut = %q, want %q", c.name, got, c.want)
		}
	}
}
