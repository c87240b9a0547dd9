package server

import (
	"context"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"arrisbook/server/store"
)

// twinMark stands in every text of the twin class.
const twinMark = "Zwilling"

// makeTwin makes the twin class and looks how it is kept.
func (s *school) makeTwin() {
	ctx := context.Background()
	by := s.account(strings.ToLower(twinMark), true)
	s.twin = s.harness.class(by)
	s.must(s.Store.SetClass(ctx, s.twin.ID, store.ClassSettings{
		Name: twinMark, Zone: "UTC", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1,
	}))
	var names []string
	for i := range 40 { // as many as the sweep may add to the other one
		names = append(names, fmt.Sprintf("%s %02d", twinMark, i))
	}
	students := s.harness.students(s.twin, by, names...)
	var last given
	for range 3 {
		last = s.give(s.twin, by, s.work.exercise.ID, students, 500, func(a *store.Assignment) { a.Title = twinMark })
	}
	for no := range 4 {
		for range 3 {
			attempt := s.complete(given{s.twinAssignment(1), last.exercise}, no+1)
			s.must(s.Store.Clear(ctx, s.twin.ID, no+1, attempt, 0, by.ID, s.Now()))
		}
	}
	for no := 10; no < 15; no++ { // they wait longer than anybody else
		attempt := s.complete(given{s.twinAssignment(1), last.exercise}, no)
		s.must(s.Store.Ask(ctx, s.twin.ID, no, attempt, 0, s.Now().Add(-time.Hour)))
	}
	for no := range 3 {
		for range 2 {
			s.must(s.Store.ReleaseKey(ctx, s.twin.ID, no+1, store.Act{By: by.ID, At: s.Now()}))
			s.must(s.Store.TakeKeyBack(ctx, s.twin.ID, no+1, store.Act{By: by.ID, At: s.Now(), Note: twinMark}))
		}
	}
	s.must(s.Store.RemoveStudent(ctx, s.twin.ID, students[30].No, s.Now()))
	s.card(s.twin, students[0])
	_, link := newToken()
	s.must(s.Store.Invite(ctx, s.twin.ID, link, "assistant", false, s.Now().Add(time.Hour)))
	s.twinSum = s.checksumOf(`SELECT table_name::text FROM information_schema.columns
		WHERE table_schema = 'public' AND column_name = 'class_id' ORDER BY 1`, fmt.Sprintf("class_id = %d", s.twin.ID))
}

func (s *school) twinAssignment(no int) store.Assignment {
	a, err := s.Store.Assignment(context.Background(), s.twin.ID, no)
	s.must(err)
	return a
}

// keepsTwin sees that a request that was let in has neither read nor written
// in the twin class.
func (s *school) keepsTwin(t *testing.T, p *page, before string) {
	t.Helper()
	if strings.Contains(p.Body+p.Header.Get("Location"), twinMark) {
		t.Errorf("%s shows what belongs to another class:\n%s", p.Path, p.text())
	}
	if queryOne[string](s.world, s.twinSum) != before {
		t.Errorf("%s has written in another class", p.Path)
	}
}

// pagesOfAll asks for every page that somebody may see. Keys of presses, which
// are new each time, are left out.
func (s *school) pagesOfAll(people []actor) map[string]string {
	pages := map[string]string{}
	for _, r := range routes() {
		rw := matrix[r.Method+" "+r.Path]
		if r.Method != http.MethodGet || rw.set != nil {
			continue
		}
		for _, a := range people {
			if rw.open.admits(a) {
				p := s.ask(call{Method: r.Method, Token: a.token(), Path: s.address(r.Path, nil, a)})
				pages[a.name+" "+r.Path] = fmt.Sprint(p.Status, p.Header.Get("Location"), uuidAnywhere.ReplaceAllString(p.Body, "KEY"))
			}
		}
	}
	return pages
}

var uuidAnywhere = regexp.MustCompile(`[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}`)

// A class with the same numbers changes nothing on anybody's pages: no count,
// no place in a queue, no state.
func TestTwinChangesNoPage(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	people := s.actors()
	// The first student waits for a check; the second is cleared and has the
	// clearance taken back; everything in the twin class is later.
	asked := s.complete(s.work, s.sheet)
	s.must(s.Store.Ask(context.Background(), s.class.ID, s.sheet, asked, 0, s.Now()))
	second := s.sheetOf(s.class, s.students[1].No)
	s.must(s.Store.Clear(context.Background(), s.class.ID, second, s.complete(s.work, second), s.keyNo(), s.instructor.ID, s.Now()))
	s.must(s.Store.Revoke(context.Background(), s.class.ID, second, "Show me the far edge.", s.Now()))
	before := s.pagesOfAll(people)
	s.makeTwin()
	after := s.pagesOfAll(people)
	if len(before) < 60 {
		t.Errorf("only %d pages", len(before))
	}
	for name, body := range before {
		if after[name] != body {
			t.Errorf("%s is another page once there is a class with the same numbers:\n%s", name, firstDifference(body, after[name]))
		}
	}
}

func firstDifference(a, b string) string {
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	from := max(0, i-80)
	return a[from:min(len(a), i+80)] + "\n--- now ---\n" + b[from:min(len(b), i+80)]
}
