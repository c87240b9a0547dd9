package server

import (
	"context"
	"testing"
)

func TestMakeAndChangeClass(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	page := b.get("/classes/new").want(t, 200, "A new class")
	bad := b.press(page, "/classes", "name", " ", "zone", "Nowhere", "units", "cubits", "length_step", "-1", "angle_step", "NaN")
	bad.want(t, 422, "Give the class a name", "No time zone is called so", "Choose one of the list")
	if got := attr(bad.field("zone"), "value"); got != "Nowhere" {
		t.Errorf("the zone typed came back as %q", got)
	}
	hub := b.press(page, "/classes", "name", "Thursday  morning", "zone", "lisbon", "units", "inch").
		want(t, 200, "The class is made.", "Nobody stands on the roster yet.", "Next: write the roster", "Europe/Lisbon", "inches")
	classes, err := h.Store.ClassesOf(context.Background(), staff.ID)
	if err != nil || len(classes) != 1 || classes[0].Name != "Thursday morning" {
		t.Fatalf("ClassesOf = %+v, %v", classes, err)
	}
	class, err := h.Store.ClassByID(context.Background(), classes[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	if class.LengthStep != 0.1 || class.AngleStep != 0.1 || class.FitWord != "tight" || class.Projection != "first" || class.Units != "inch" {
		t.Errorf("class = %+v", class)
	}
	settings := hub.link("Settings")
	b.press(b.get(settings), settings, "length_step", "0.396875", "angle_step", "0.5", "fit_word", "close", "projection", "third").
		want(t, 200, "The settings are kept")
	if class, err = h.Store.ClassByID(context.Background(), class.ID); err != nil || class.LengthStep != 0.396875 || class.AngleStep != 0.5 ||
		class.FitWord != "close" || class.Projection != "third" || class.Units != "inch" {
		t.Errorf("class = %+v, %v", class, err)
	}
	// The next class proposes the same zone.
	if got := attr(b.get("/classes/new").field("zone"), "value"); got != "Europe/Lisbon" {
		t.Errorf("the next class proposes %q", got)
	}
}

// The hub names the one next thing.
func TestClassNext(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	hub := classPath(class, "")
	b.get(hub).want(t, 200, "Next: write the roster")
	st := h.students(class, staff, "Wanda Petersen")[0]
	b.get(hub).want(t, 200, "Next: print the cards")
	h.card(class, st)
	b.get(hub).want(t, 200, "Next: assign an exercise", "everybody has one")
}

func TestClassOfSomebodyElse(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	other, _ := h.staff("bo", true)
	for _, rest := range []string{"", "/settings", "/people", "/roster", "/cards", "/cards/again", "/students/1"} {
		other.get(classPath(class, rest)).want(t, 404)
	}
	h.browser().get(classPath(class, "/roster")).want(t, 200, "Sign in to teach")
	h.browser().post(classPath(class, "/roster"), "name", "Eve").want(t, 404)
}
