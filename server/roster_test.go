package server

import (
	"context"
	"strings"
	"sync"
	"testing"
	"time"

	"arrisbook/server/store"
)

func (h *harness) rosterNames(class store.Class) string {
	h.t.Helper()
	all, err := h.Store.Students(context.Background(), class.ID)
	if err != nil {
		h.t.Fatal(err)
	}
	var names []string
	for _, st := range all {
		names = append(names, st.Name)
	}
	return strings.Join(names, ", ")
}

func TestRosterByList(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	roster := classPath(class, "/roster")
	page := b.get(roster).want(t, 200, "Nobody is on the roster yet")
	b.press(page, roster+"/preview", "list", " \n;;\n").want(t, 422, "Nobody stands in this list")

	const pasted = "Name\tBench\nZoë Łęcka\t3\nWanda Petersen\t\nWanda Petersen\t9\nOskar\tsix\n"
	preview := b.press(page, roster+"/preview", "list", pasted).want(t, 200,
		"Two students would be added, two lines left out", "Line 1 is read as a heading",
		"Zoë Łęcka", "Next free bench", "Wanda Petersen is in line 3", "“six” is no bench number")
	if got := h.rosterNames(class); got != "" {
		t.Fatalf("the preview added %q", got)
	}
	// The list comes back as it was pasted, to be mended.
	if got := rawText(preview.field("list")); strings.TrimPrefix(got, "\n") != strings.TrimPrefix(pasted, "\n") {
		t.Errorf("the list came back as %q", got)
	}
	added := b.press(preview, roster+"/add").want(t, 200, "Two students are on the roster now", "Two students")
	if got := h.rosterNames(class); got != "Wanda Petersen, Zoë Łęcka" {
		t.Fatalf("roster = %q", got)
	}
	// The same button again adds nobody twice.
	b.press(preview, roster+"/add").want(t, 409, "Nobody would be added", "The roster has changed since you looked")

	undo := roster + "/undo/1"
	b.press(added, undo).want(t, 200, "Two names are off the roster again")
	b.post(undo).want(t, 409, "That cannot be taken back any more")
	if got := h.rosterNames(class); got != "" {
		t.Errorf("after undo the roster holds %q", got)
	}
	if log := h.Log.String(); strings.Contains(log, "Wanda") {
		t.Errorf("the log names a student:\n%s", log)
	}
}

// What is confirmed is what was seen: a roster that changed in between makes a
// new preview.
func TestRosterChangesBeforeConfirming(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	roster := classPath(class, "/roster")
	preview := b.post(roster+"/preview", "list", "Wanda Petersen\nOskar Hale").want(t, 200, "Two students would be added")
	h.students(class, staff, "Wanda Petersen")
	again := b.press(preview, roster+"/add").want(t, 409, "One student would be added, one line left out")
	b.press(again, roster+"/add").want(t, 200, "One student is on the roster now")
	if got := h.rosterNames(class); got != "Wanda Petersen, Oskar Hale" {
		t.Errorf("roster = %q", got)
	}
}

// Two presses at the same moment add everybody once.
func TestRosterConfirmedTwiceAtOnce(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	roster := classPath(class, "/roster")
	preview := b.post(roster+"/preview", "list", "Wanda Petersen\nOskar Hale")
	form := formValues(preview.form(roster + "/add"))
	var presses sync.WaitGroup
	for range 4 {
		presses.Go(func() { b.send("POST", roster+"/add", form) })
	}
	presses.Wait()
	if got := h.rosterNames(class); got != "Wanda Petersen, Oskar Hale" {
		t.Errorf("roster = %q", got)
	}
}

func TestUndoEndsAfterADay(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	h.students(class, staff, "Wanda Petersen")
	h.pass(24*time.Hour + time.Minute)
	b := h.browser()
	b.post("/signin", "email", staff.Email, "password", testPassword)
	b.get(classPath(class, "/roster")).lacks(t, "Take back")
	b.post(classPath(class, "/roster/undo/1")).want(t, 409)
	if got := h.rosterNames(class); got != "Wanda Petersen" {
		t.Errorf("roster = %q", got)
	}
}

func TestRosterOneByOne(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	roster := classPath(class, "/roster")
	b.post(roster, "name", "Wanda Petersen", "bench", "7").want(t, 200, "Wanda Petersen is on the roster, at bench 7.")
	b.post(roster, "name", "Oskar Hale", "bench", "7").want(t, 200, "Shares the bench with Wanda Petersen.")
	b.post(roster, "name", "Miro", "bench", "").want(t, 200, "Miro is on the roster, at bench 1. Next free bench.")
	for _, test := range []struct{ name, bench, want string }{
		{"wanda petersen", "8", "on the roster already, at bench 7"},
		{"", "8", "There is no name."},
		{"Edda", "0", "A bench is a whole number from 1 to 999."},
		{"Edda", "seven", "A bench is a whole number from 1 to 999."},
	} {
		p := b.post(roster, "name", test.name, "bench", test.bench).want(t, 422, test.want)
		if attr(p.field("name"), "value") != test.name || attr(p.field("bench"), "value") != test.bench {
			t.Errorf("%q at %q came back as %q at %q", test.name, test.bench, attr(p.field("name"), "value"), attr(p.field("bench"), "value"))
		}
	}
	wanda := classPath(class, "/students/1")
	b.press(b.get(wanda).want(t, 200, "Wanda Petersen, bench 7"), wanda, "name", "oskar hale").want(t, 422, "Somebody at bench 7 is called so")
	b.press(b.get(wanda), wanda, "name", "Wanda Peters", "bench", "1").want(t, 200, "Wanda Peters is at bench 1, together with Miro.")
	b.get(classPath(class, "/students/99")).want(t, 404)
}

// Somebody removed is out with the next press; put back, the card works again
// and the work is there.
func TestRemovedStudent(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	st := h.students(class, staff, "Wanda Petersen")[0]
	token, code := h.card(class, st)
	wanda := h.browser()
	if p := wanda.post("/card/" + token); p.Path != "/sheets" {
		t.Fatalf("the card led to %s: %s", p.Path, p.text())
	}
	href := classPath(class, "/students/1")
	b.press(b.get(href), href+"/remove").want(t, 200, "is off the roster and signed out", "Put back")
	if p := wanda.get("/sheets"); !strings.HasPrefix(p.Path, "/enter") {
		t.Errorf("removed, and /sheets gives %s %d", p.Path, p.Status)
	}
	wanda.get("/card/"+token).want(t, 404, "This card no longer counts")
	wanda.post("/card/"+token).want(t, 404)
	wanda.post("/enter/"+class.Code, "code", code).want(t, 422, "No card has this code")
	b.get(href).want(t, 404)
	b.post(href+"/restore").want(t, 200, "Back on the roster")
	b.post(href+"/restore").want(t, 404)
	if p := wanda.post("/enter/"+class.Code, "code", code); p.Path != "/sheets" {
		t.Errorf("put back, and the code leads to %s: %s", p.Path, p.text())
	}
}
