package server

import (
	"fmt"
	"net/url"
	"strings"
	"testing"
	"time"

	"arrisbook/grading"
	"arrisbook/server/store"
)

func TestParseAssignment(t *testing.T) {
	t.Parallel()
	zone := zone(t, "Europe/Berlin")
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	students := []store.Student{{No: 1, Name: "Abel", Bench: 1}, {No: 4, Name: "Bruna", Bench: 2}}
	exercises := []*grading.Exercise{{ID: "a", Title: "First"}, {ID: "b", Title: "Second"}}
	good := url.Values{"exercise": {"b"}, "who": {"all"}, "attempts": {"3"}, "release": {"hand"}}
	for _, c := range []struct {
		name   string
		change url.Values
		fault  string // "" when the form is good
		want   string // what was understood
	}{
		{"everybody, at once", nil, "", "Second; 2 students; opens 2026-03-02T08:00:00Z; due never; 3 attempts; hand"},
		{"some", url.Values{"who": {"some"}, "student": {"4"}}, "", "Second; 1 students; opens 2026-03-02T08:00:00Z; due never; 3 attempts; hand"},
		{"some, one of them of another class", url.Values{"who": {"some"}, "student": {"4", "9"}}, "", "Second; 1 students; opens 2026-03-02T08:00:00Z; due never; 3 attempts; hand"},
		{"own title", url.Values{"title": {"  In\tpine  "}}, "", "In pine; 2 students; opens 2026-03-02T08:00:00Z; due never; 3 attempts; hand"},
		{"times of the class", url.Values{"opens": {"2026-03-03T18:00"}, "due": {"2026-04-03T18:00"}}, "", "Second; 2 students; opens 2026-03-03T17:00:00Z; due 2026-04-03T16:00:00Z; 3 attempts; hand"},
		{"due in the hour that comes twice", url.Values{"due": {"2026-10-25T02:30"}}, "", "Second; 2 students; opens 2026-03-02T08:00:00Z; due 2026-10-25T01:30:00Z; 3 attempts; hand"},
		{"opens in the hour that comes twice", url.Values{"opens": {"2026-10-25T02:30"}}, "", "Second; 2 students; opens 2026-10-25T00:30:00Z; due never; 3 attempts; hand"},
		{"no attempts given is as many as wanted", url.Values{"attempts": {""}}, "", "Second; 2 students; opens 2026-03-02T08:00:00Z; due never; 0 attempts; hand"},
		{"key at the due time", url.Values{"release": {"due"}, "due": {"2026-03-03T18:00"}}, "", "Second; 2 students; opens 2026-03-02T08:00:00Z; due 2026-03-03T17:00:00Z; 3 attempts; due"},

		{"no exercise", url.Values{"exercise": {""}}, "Choose one of the exercises", ""},
		{"an exercise that is none", url.Values{"exercise": {"../a"}}, "Choose one of the exercises", ""},
		{"long title", url.Values{"title": {strings.Repeat("x", 61)}}, "Keep the title under 60 letters", ""},
		{"nobody ticked", url.Values{"who": {"some"}}, "Tick at least one student", ""},
		{"ticked nonsense", url.Values{"who": {"some"}, "student": {"x", "-1", "9"}}, "Tick at least one student", ""},
		{"neither all nor some", url.Values{"who": {""}}, "Choose everybody, or some", ""},
		{"opens when there is no such time", url.Values{"opens": {"2026-03-29T02:30"}}, "There is no 02:30 on 29 March 2026", ""},
		{"due when there is no such time", url.Values{"due": {"2026-03-29T02:30"}}, "There is no 02:30 on 29 March 2026", ""},
		{"due before it opens", url.Values{"opens": {"2026-03-05T10:00"}, "due": {"2026-03-05T10:00"}}, "has to come after the beginning", ""},
		{"due in the past", url.Values{"due": {"2026-03-01T10:00"}}, "has to come after the beginning", ""},
		{"minus attempts", url.Values{"attempts": {"-1"}}, "whole number from 0 to 99", ""},
		{"half attempts", url.Values{"attempts": {"1.5"}}, "whole number from 0 to 99", ""},
		{"many attempts", url.Values{"attempts": {"100"}}, "whole number from 0 to 99", ""},
		{"no release", url.Values{"release": {""}}, "Choose when the key is released", ""},
		{"a release that is none", url.Values{"release": {"never"}}, "Choose when the key is released", ""},
		{"key at a due time that is none", url.Values{"release": {"due"}}, "Set a due time", ""},
	} {
		v := url.Values{}
		for _, from := range []url.Values{good, c.change} {
			for name, values := range from {
				v[name] = values
			}
		}
		f, p, ok := parseAssignment(v, students, exercises, zone, now)
		faults := strings.Join([]string{f.ExerciseFault, f.TitleFault, f.WhoFault, f.OpensFault, f.Terms.DueFault, f.Terms.AttemptsFault, f.Terms.ReleaseFault}, "")
		if ok != (c.fault == "") || !strings.Contains(faults, c.fault) || (c.fault == "") != (faults == "") {
			t.Errorf("%s: parseAssignment = %v %q, want %q", c.name, ok, faults, c.fault)
		}
		if ok && understood(p) != c.want {
			t.Errorf("%s: parseAssignment = %s, want %s", c.name, understood(p), c.want)
		}
	}
}

func understood(p assignmentPlan) string {
	due := "never"
	if p.terms.DueAt != nil {
		due = p.terms.DueAt.Format(time.RFC3339)
	}
	return fmt.Sprintf("%s; %d students; opens %s; due %s; %d attempts; %s", p.title, len(p.students),
		p.opens.Format(time.RFC3339), due, p.terms.Attempts, p.terms.Release)
}

// Nothing typed into the form is lost when something is wrong with it, and an
// empty class is told so.
func TestAssignmentFormKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	h := startServer(t, withLessons(t))
	b, ada := h.staff("ada", true)
	class := h.class(ada)
	action := classPath(class, "/assignments/new")
	b.press(b.get(action), action, "exercise", "head-v-joint", "release", "hand").want(t, 422, "There is nobody in the class yet")
	students := h.students(class, ada, "Wanda Petersen", "Abel Rook")
	p := b.press(b.get(action), action, "exercise", "head-v-joint", "who", "some", "student", "2", "due", "soon", "attempts", "many", "release", "due", "title", "In pine")
	p.want(t, 422, "Nothing was given out yet", "Write the day and the time", "Write a whole number")
	kept := formValues(p.form(action))
	for name, want := range map[string]string{"exercise": "head-v-joint", "who": "some", "student": "2", "due": "soon", "attempts": "many", "release": "due", "title": "In pine"} {
		if kept.Get(name) != want {
			t.Errorf("%s = %q, want %q", name, kept.Get(name), want)
		}
	}
	b.press(p, action, "due", "2026-12-01T10:00", "attempts", "2").want(t, 200, "1 sheet given out", "In pine", "No sheet yet", "Wanda P.")
	h.student(class, students[1]).get("/sheets").want(t, 200, "In pine")
	h.student(class, students[0]).get("/sheets").want(t, 200, "No sheet yet")
}
