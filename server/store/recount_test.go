package store_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"arrisbook/grading"
	"arrisbook/server/store"
	"arrisbook/server/store/storetest"
)

// counting is a class whose students answer two steps, on a database that the
// test can spoil.
type counting struct {
	shop
	url string
}

func newCounting(t *testing.T, students int) counting {
	t.Helper()
	url := storetest.URL(t)
	c := counting{shop: newShopOn(t, openAt(t, url), students), url: url}
	var nos []int
	for n := range students {
		nos = append(nos, n+1)
	}
	if _, err := c.give(nos...); err != nil {
		t.Fatal(err)
	}
	return c
}

// answers of the students: what a step comes to depends on student and turn.
var outcomes = []grading.StepResult{
	{Verdict: grading.Wrong, Pattern: &grading.Slip{ID: "half"}},
	{Verdict: grading.Wrong, Pattern: &grading.Slip{ID: "wrong-measure", Detail: "width thickness"}},
	{Verdict: grading.Wrong},
	{Verdict: grading.Near},
	{Verdict: grading.Right},
	{Verdict: grading.Blank},
}

// send sends two numbers; the same text as before is no new answer.
func (c counting) send(sheet, n int) error {
	judge := func(b store.Before) (store.Judged, error) {
		j := store.Judged{Sheet: b.Sheet.Current(), Wood: b.Sheet.Wood, Answers: map[string]string{}, Units: grading.Millimetres}
		for i, step := range []string{"a", "b"} {
			r := outcomes[(sheet*(i+1)+n*(i+2))%len(outcomes)]
			r.ID, r.Given, r.Also = step, fmt.Sprintf("%s %s%d", r.Verdict, step, n/(i+1)), []grading.Slip{}
			if r.Verdict == grading.Blank {
				r.Given = ""
			}
			j.Answers[step] = r.Given
			j.Result.Steps = append(j.Result.Steps, r)
			same := b.Last != nil && b.Last.Wood == b.Sheet.Wood
			if same && b.Last.Answers[step] != r.Given || !same && r.Verdict != grading.Blank {
				j.New = append(j.New, r)
			}
		}
		j.Result.OutOf = 2
		return j, nil
	}
	_, _, err := c.Submit(context.Background(), store.Submission{ClassID: c.class.ID, Sheet: sheet, Key: key(n + 1), BodyHash: []byte{byte(n)}, At: opening}, judge)
	return err
}

// wantCounts fails unless every count is what the attempts give.
func (c counting) wantCounts(when string, attempts int) {
	c.t.Helper()
	got, err := c.CheckCounts(context.Background(), c.class.ID)
	if err != nil || len(got.Faults) > 0 || got.Attempts != attempts {
		c.t.Errorf("%s: CheckCounts = %d attempts, %v, %v, want %d and no fault", when, got.Attempts, got.Faults, err, attempts)
	}
}

// Thirty students send at once, while two instructors take students off the
// roster, put them back and change the key: no count is off
// by one.
func TestCountsAtOnce(t *testing.T) {
	t.Parallel()
	const students, turns = 30, 8
	c := newCounting(t, students+2)
	var wait sync.WaitGroup
	for sheet := 1; sheet <= students; sheet++ {
		wait.Go(func() {
			for n := range turns {
				if err := c.send(sheet, n); err != nil {
					t.Errorf("sheet %d, attempt %d: %v", sheet, n+1, err)
				}
			}
		})
	}
	for k := range 2 {
		away := students + 1 + k // a student who comes and goes
		for n := range turns {
			if err := c.send(away, n); err != nil {
				t.Fatal(err)
			}
		}
		wait.Go(func() {
			ctx := context.Background()
			for range turns {
				if err := c.RemoveStudent(ctx, c.class.ID, away, opening); err != nil {
					t.Error(err)
				}
				if err := c.RestoreStudent(ctx, c.class.ID, away, 100); err != nil {
					t.Error(err)
				}
			}
		})
		wait.Go(func() {
			for range turns / 2 {
				c.rekeyAll()
			}
		})
	}
	wait.Wait()
	c.wantCounts("after all of it", (students+2)*turns)
	tallies, err := c.Tallies(t.Context(), c.class.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	var answers, sheets int
	for _, x := range tallies {
		answers, sheets = answers+x.Answers, sheets+x.Sheets
	}
	if answers == 0 || sheets == 0 || sheets > answers {
		t.Errorf("Tallies hold %d answers on %d sheets, want some, and no more sheets than answers", answers, sheets)
	}
}

// rekeyAll makes a key that changes nothing but its number.
func (c counting) rekeyAll() {
	ctx := context.Background()
	a, err := c.Assignment(ctx, c.class.ID, 1)
	if err != nil {
		c.t.Error(err)
		return
	}
	_, err = c.Rekey(ctx, c.class.ID, 1, a.KeyNo, store.Act{By: c.staff.ID, At: opening}, sameAgain)
	if err != nil && !isChanged(err) {
		c.t.Error(err)
	}
}

// sameAgain judges everything as it was.
func sameAgain(w store.Work) (store.Rekeyed, error) {
	r := store.Rekeyed{Key: store.Key{Spec: []byte(`{}`), Tolerances: map[string]float64{}, Withdrawn: []string{}, Changes: []store.KeyChange{}, Why: "try"}}
	for _, sh := range w.Sheets {
		r.Sheets = append(r.Sheets, store.KeyedSheet{No: sh.Sheet.No})
		var last *store.Attempt
		for i, a := range sh.Attempts {
			n := store.NewResult{SheetNo: sh.Sheet.No, AttemptNo: a.No, Sheet: a.Sheet, Result: a.Result}
			for _, s := range a.Result.Steps {
				same := last != nil && last.Wood == a.Wood
				if same && last.Answers[s.ID] != s.Given || !same && s.Verdict != grading.Blank {
					n.Fresh = append(n.Fresh, s)
				}
			}
			r.Results, last = append(r.Results, n), &sh.Attempts[i].Attempt
		}
	}
	return r, nil
}

// Whatever is wrong with the counts is found, and a recount puts it right.
func TestRecount(t *testing.T) {
	t.Parallel()
	c := newCounting(t, 3)
	for sheet := 1; sheet <= 3; sheet++ {
		for n := range 5 {
			if err := c.send(sheet, n); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := c.RemoveStudent(t.Context(), c.class.ID, 3, opening); err != nil {
		t.Fatal(err)
	}
	c.wantCounts("to begin with", 15)
	for _, spoil := range []string{
		`UPDATE tallies SET answers = answers + 1 WHERE ctid = (SELECT min(ctid) FROM tallies WHERE answers > 0)`,
		`UPDATE tallies SET sheets = sheets + 1 WHERE ctid = (SELECT min(ctid) FROM tallies WHERE answers > 0)`,
		`DELETE FROM tallies`,
		`UPDATE progress SET verdict = 'near', wrong = 0`,
		`DELETE FROM progress WHERE step = 'a'`,
		`UPDATE answers SET pattern = 'double' WHERE pattern = 'half'`,
		`DELETE FROM answers WHERE attempt_no = 2`,
	} {
		execAt(t, c.url, spoil)
		got, err := c.Recount(t.Context(), c.class.ID)
		if err != nil || len(got.Faults) == 0 {
			t.Errorf("after %q: Recount = %+v, %v, want the fault named", spoil, got, err)
		}
		c.wantCounts("after "+spoil, 15)
	}
}

func isChanged(err error) bool { return errors.Is(err, store.ErrChanged) }
