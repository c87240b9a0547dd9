package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"arrisbook/grading"
)

// The counts that were kept with each attempt tell the same as counting all
// attempts anew, for every number and slip.
func TestReviewCounts(t *testing.T) {
	t.Parallel()
	l := newLargeClass(t, 1, 4)
	ctx := context.Background()
	a, ex, err := l.Server.loadAssignment(ctx, l.class.ID, l.given[0].assignment.No)
	l.must(err)
	d, err := l.Server.reviewData(ctx, l.class, a, ex)
	l.must(err)
	sheets, err := l.Store.ClassWork(ctx, l.class.ID, a.No)
	l.must(err)
	var work []grading.Work
	for _, sh := range sheets {
		work = append(work, grading.Work{No: int64(sh.SheetNo), Attempts: sh.Attempts})
	}
	got, want := d.tally(), grading.NewTally(ex, work)
	if got.Sheets != largeStudents || want.Sheets != got.Sheets {
		t.Fatalf("tally: %d sheets, counted anew %d, want %d", got.Sheets, want.Sheets, largeStudents)
	}
	slips := 0
	for i, st := range want.Steps {
		if g := got.Steps[i]; fmt.Sprintf("%+v", g) != fmt.Sprintf("%+v", st) {
			t.Errorf("step %s = %+v, counted anew %+v", st.ID, g, st)
		}
		slips += len(st.Slips)
	}
	if slips == 0 {
		t.Error("no slip in the class: nothing was compared")
	}
	for _, st := range ex.Steps {
		for _, m := range d.slips(st.ID) {
			if m.last > m.people() || m.first > m.people() || m.people() > m.answers {
				t.Errorf("%s: %d answers, %d people, %d at first, %d at last: want no more people than answers, and of them the others", st.ID, m.answers, m.people(), m.first, m.last)
			}
		}
	}
}

// A slip that two had and one has left is told as such; the page has no names,
// and the one for the wall no right number either.
func TestReviewPage(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	href := reviewHref(k.class, k.given.assignment.No)
	k.get(href).want(t, http.StatusOK, "No answers yet")
	k.send(1, map[string]string{"half_angle": k.slipText(1, "half_angle", 1)})
	k.send(2, map[string]string{"half_angle": k.slipText(2, "half_angle", 1)})
	k.send(3, map[string]string{"half_angle": k.off(3, "half_angle", 3.37)})
	k.send(2, nil)
	p := k.get(href).want(t, http.StatusOK, "Slips seen on number", "first", "last", "Attempts and time", "One sheet had all numbers right")
	for _, name := range []string{"Wanda", "Oskar", "Ines", "Petersen"} {
		p.lacks(t, name)
		k.get(href+"/wall?number=1").want(t, http.StatusOK, "Number 1").lacks(t, name)
	}
	k.get(href+"/wall?number=99").want(t, http.StatusNotFound)
	number := 0
	for i, st := range k.given.exercise.Steps {
		if st.ID == "half_angle" {
			number = i + 1
		}
	}
	wall := k.get(fmt.Sprintf("%s/wall?number=%d", href, number)).want(t, http.StatusOK, "1 of 3 right", "arrow keys")
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, 1)
	k.must(err)
	right := fmt.Sprintf("%.1f", grading.Key(k.given.exercise, sh.Current().Parameters)["half_angle"])
	if strings.Contains(wall.text(), right) {
		t.Errorf("the wall shows a right number, %s", right)
	}
}

// slipText is what the nth slip gives on a step of a sheet.
func (k *keyWorld) slipText(sheet int, step string, n int) string {
	k.t.Helper()
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, sheet)
	k.must(err)
	return fmt.Sprintf("%.4f", grading.Patterns(k.given.exercise, sh.Current(), step)[n].Value)
}
