package store_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// key makes the n-th submission key.
func key(n int) string { return fmt.Sprintf("00000000-0000-4000-8000-%012d", n) }

// press sends one number for step a of a sheet.
func (s shop) press(sheet int, key, text string) (int, bool, error) {
	sum := sha256.Sum256([]byte(text))
	verdict := grading.Verdict(strings.SplitN(text, " ", 2)[0])
	judge := func(b store.Before) (store.Judged, error) {
		sh, last := b.Sheet, b.Last
		if (last == nil) != (sh.Attempts == 0) || last != nil && last.No != sh.Attempts {
			return store.Judged{}, fmt.Errorf("judged on %v after %d attempts", last, sh.Attempts)
		}
		r := grading.Result{Steps: []grading.StepResult{{ID: "a", Given: text, Verdict: verdict}}, OutOf: 1}
		return store.Judged{Sheet: sh.Current(), Wood: sh.Wood, Answers: map[string]string{"a": text}, Result: r, New: r.Steps, KeepAsked: verdict == grading.Right}, nil
	}
	return s.Submit(context.WithoutCancel(s.t.Context()), store.Submission{ClassID: s.class.ID, Sheet: sheet, Key: key, BodyHash: sum[:], At: opening}, judge)
}

func TestSubmit(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	if _, err := s.give(1, 2); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name     string
		sheet, k int
		text     string
		no       int
		replayed bool
		want     error
	}{
		{"first", 1, 1, "wrong 1", 1, false, nil},
		{"the same press", 1, 1, "wrong 1", 1, true, nil},
		{"the same key with other numbers", 1, 1, "right 2", 0, false, store.ErrOtherBody},
		{"second", 1, 2, "right 2", 2, false, nil},
		{"the first press once more, later", 1, 1, "wrong 1", 1, true, nil},
		{"the same key on another sheet is another press", 2, 1, "wrong 1", 1, false, nil},
		{"no such sheet", 9, 1, "wrong 1", 0, false, store.ErrNotFound},
	} {
		no, replayed, err := s.press(c.sheet, key(c.k), c.text)
		if no != c.no || replayed != c.replayed || !errors.Is(err, c.want) {
			t.Errorf("%s: Submit = %d, %v, %v, want %d, %v, %v", c.name, no, replayed, err, c.no, c.replayed, c.want)
		}
	}
	all, err := s.AttemptsOf(t.Context(), s.class.ID, 1)
	if err != nil || len(all) != 2 || all[0].No != 2 || all[0].Answers["a"] != "right 2" || all[1].ClientKey != key(1) {
		t.Errorf("AttemptsOf = %+v, %v, want two, the newest first", all, err)
	}
}

// What judge refuses leaves nothing behind.
func TestSubmitRefused(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	if _, err := s.give(1); err != nil {
		t.Fatal(err)
	}
	no := errors.New("no")
	_, _, err := s.Submit(t.Context(), store.Submission{ClassID: s.class.ID, Sheet: 1, Key: key(1), At: opening},
		func(store.Before) (store.Judged, error) { return store.Judged{}, no })
	if err != no {
		t.Errorf("Submit = %v, want judge's own error", err)
	}
	if n, _, err := s.press(1, key(1), "wrong 1"); n != 1 || err != nil {
		t.Errorf("the key afterwards = %d, %v, want attempt 1", n, err)
	}
}

// Fifty presses at once, under five keys: five attempts, numbered 1 to 5.
func TestSubmitAtOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	if _, err := s.give(1); err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	byKey := map[int]map[int]bool{}
	var wait sync.WaitGroup
	for i := range 50 {
		wait.Go(func() {
			no, _, err := s.press(1, key(i%5), fmt.Sprintf("wrong %d", i%5))
			if err != nil {
				t.Error(err)
			}
			mu.Lock()
			defer mu.Unlock()
			if byKey[i%5] == nil {
				byKey[i%5] = map[int]bool{}
			}
			byKey[i%5][no] = true
		})
	}
	wait.Wait()
	seen := map[int]bool{}
	for k, nos := range byKey {
		for no := range nos {
			seen[no] = true
		}
		if len(nos) != 1 {
			t.Errorf("key %d led to attempts %v, want one", k, nos)
		}
	}
	sh, err := s.Sheet(t.Context(), s.class.ID, 1)
	if err != nil || len(seen) != 5 || !seen[1] || !seen[5] || sh.Attempts != 5 {
		t.Errorf("attempts %v, counted %d, %v, want 1 to 5", seen, sh.Attempts, err)
	}
}

// New numbers and a new measuring end leave to cut, with the reason; a
// clearance and new numbers at once never leave one standing for old numbers.
func TestClearanceEnds(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	if _, err := s.give(1); err != nil {
		t.Fatal(err)
	}
	ctx := t.Context()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, _, err := s.press(1, key(1), "right 1")
	must(err)
	must(s.Ask(ctx, s.class.ID, 1, 1, 0, opening))
	must(s.Clear(ctx, s.class.ID, 1, 1, 0, s.staff.ID, opening))
	_, _, err = s.press(1, key(2), "right 2")
	must(err)
	s.wantEnded("new numbers were sent")
	must(s.Clear(ctx, s.class.ID, 1, 2, 0, s.staff.ID, opening))
	if err := s.Measure(ctx, s.class.ID, 1, store.Measured{From: 1, On: blank(2)}, opening); !errors.Is(err, store.ErrChanged) {
		t.Errorf("Measure from a measuring that is not the last = %v, want ErrChanged", err)
	}
	must(s.Measure(ctx, s.class.ID, 1, store.Measured{From: 0, On: blank(2)}, opening))
	s.wantEnded("the blank was measured again")
	if err := s.Ask(ctx, s.class.ID, 1, 2, 0, opening); !errors.Is(err, store.ErrChanged) {
		t.Errorf("Ask for numbers on old wood = %v, want ErrChanged", err)
	}
	for i := range 20 {
		_, _, err = s.press(1, key(100+2*i), fmt.Sprintf("right %d", 100+2*i))
		must(err)
		sh, err := s.Sheet(ctx, s.class.ID, 1)
		must(err)
		var wait sync.WaitGroup
		wait.Go(func() { _ = s.Clear(ctx, s.class.ID, 1, sh.Attempts, 0, s.staff.ID, opening) })
		wait.Go(func() { _, _, _ = s.press(1, key(101+2*i), fmt.Sprintf("right %d", 101+2*i)) })
		wait.Wait()
		all, err := s.Clearances(ctx, s.class.ID, 1)
		must(err)
		if len(all) > 0 && all[0].Stands() {
			t.Fatalf("leave to cut stands for attempt %d although attempt %d came", all[0].AttemptNo, sh.Attempts+1)
		}
	}
}

func (s shop) wantEnded(why string) {
	s.t.Helper()
	all, err := s.Clearances(s.t.Context(), s.class.ID, 1)
	if err != nil || all[0].Stands() || *all[0].RevokedWhy != why {
		s.t.Errorf("clearance = %+v, %v, want it ended because %s", all[0], err, why)
	}
}

// The queue counts by when people asked, those who left the class aside.
func TestQueue(t *testing.T) {
	t.Parallel()
	s := newShop(t, 4)
	if _, err := s.give(1, 2, 3, 4); err != nil {
		t.Fatal(err)
	}
	ctx := t.Context()
	for i, sheet := range []int{3, 1, 4} {
		_, _, err := s.press(sheet, key(1), "right 1")
		if err == nil {
			err = s.Ask(ctx, s.class.ID, sheet, 1, 0, opening.Add(time.Duration(i)*time.Minute))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	// Asking once more keeps the place.
	if err := s.Ask(ctx, s.class.ID, 3, 1, 0, opening.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	places := func() (got []int) {
		for sheet := 1; sheet <= 4; sheet++ {
			p, err := s.PlaceInQueue(ctx, s.class.ID, sheet)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, p)
		}
		return got
	}
	if got := fmt.Sprint(places()); got != "[2 0 1 3]" {
		t.Errorf("places = %s, want [2 0 1 3]", got)
	}
	// A number that is not right takes the bench out of the queue.
	if _, _, err := s.press(3, key(2), "wrong 1"); err != nil {
		t.Fatal(err)
	}
	if err := s.Unask(ctx, s.class.ID, 4); err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(places()); got != "[1 0 0 0]" {
		t.Errorf("places = %s, want [1 0 0 0]", got)
	}
}
