package server

import (
	"context"
	"fmt"
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
			s.must(s.Store.Clear(ctx, s.twin.ID, no+1, attempt, by.ID, s.Now()))
		}
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
