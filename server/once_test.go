package server

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"arrisbook/server/store"
)

// press is one press of a sheet's button: what its page would send.
func (s *school) press(key string, texts map[string]string) call {
	form := []string{"key", key, "wood", "0"}
	for id, text := range texts {
		form = append(form, fieldOf(id), text)
	}
	return call{
		Method: http.MethodPost, Token: s.studentToken(s.class, s.students[1].No, false),
		Path: fmt.Sprintf("%s/sheets/%d/attempts", classPath(s.class, ""), s.sheetOf(s.class, s.students[1].No)),
		Body: fields(form...).Encode(),
	}
}

// fresh is the second student's sheet, of which nothing was sent yet.
func (s *school) fresh() store.Sheet {
	s.t.Helper()
	sheet, err := s.Store.Sheet(context.Background(), s.class.ID, s.sheetOf(s.class, s.students[1].No))
	s.must(err)
	return sheet
}

// together asks all at once and gives the answers in order.
func (w *world) together(calls []call) []*page {
	answers := make([]*page, len(calls))
	start := make(chan struct{})
	var wait sync.WaitGroup
	for i, c := range calls {
		wait.Go(func() {
			<-start
			answers[i] = w.ask(c)
		})
	}
	close(start)
	wait.Wait()
	return answers
}

func (s *school) attemptsOf(sheet int) []store.Attempt {
	s.t.Helper()
	all, err := s.Store.AttemptsOf(context.Background(), s.class.ID, sheet)
	s.must(err)
	return all
}

// Fifty arrivals of one press, from two tabs and from a script, are one
// attempt, and each gets the answer of the first, to the letter. Under the
// same key other numbers are refused, whoever comes first.
func TestManyArrivals(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	sheet := s.fresh()
	one, other := s.press(newKey(), s.rightTexts(s.work, sheet)), call{}
	var calls []call
	for i := range 50 {
		c := one
		if i%2 == 1 {
			c.Header = http.Header{"Accept": {"application/json"}}
		}
		calls = append(calls, c)
	}
	got := map[string]int{}
	for _, p := range s.together(calls) {
		inspect(t, s.harness, p)
		got[fmt.Sprint(p.Status, p.Header.Get("Location"), p.Body)]++
	}
	if len(got) != 2 || len(s.attemptsOf(sheet.No)) != 1 {
		t.Errorf("50 arrivals: %d attempts, answers %v, want one attempt and one answer for each kind", len(s.attemptsOf(sheet.No)), got)
	}
	// Two bodies race for one key.
	key, kept := newKey(), map[int]int{}
	one, other = s.press(key, s.rightTexts(s.work, sheet)), s.press(key, s.rightTexts(s.work, sheet))
	calls = calls[:0]
	for range 10 {
		calls = append(calls, one, other)
	}
	for i, p := range s.together(calls) {
		inspect(t, s.harness, p)
		if p.Status == http.StatusSeeOther {
			kept[i%2]++
		} else if p.Status != http.StatusUnprocessableEntity {
			t.Errorf("two bodies under one key: %d", p.Status)
		}
	}
	if len(kept) != 1 || kept[0]+kept[1] != 10 || len(s.attemptsOf(sheet.No)) != 2 {
		t.Errorf("two bodies under one key: taken %v, %d attempts, want one body taken and one attempt more", kept, len(s.attemptsOf(sheet.No)))
	}
}

// The server dies after it has kept a press and before it answers: the same
// press, sent again, gets the answer that was lost, and so does the page it
// leads to.
func TestLostAnswer(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	sheet := s.fresh()
	for i, accept := range []string{"text/html", "application/json"} {
		c := s.press(newKey(), s.rightTexts(s.work, sheet))
		c.Header = http.Header{"Accept": {accept}}
		lost := s.ask(c) // nobody gets to see it
		result := s.ask(call{Method: http.MethodGet, Token: c.Token, Path: fmt.Sprintf("%s/%d", c.Path, i+1)})
		before := s.checksum()
		s.pass(90 * time.Second)
		s.handler = s.Server.handler() // the server that was started again
		again := s.ask(c)
		if again.Status != lost.Status || again.Body != lost.Body || again.Header.Get("Location") != lost.Header.Get("Location") {
			t.Errorf("%s: answered %d %q %q, then %d %q %q", accept, lost.Status, lost.Header.Get("Location"), lost.Body,
				again.Status, again.Header.Get("Location"), again.Body)
		}
		if seen := s.ask(call{Method: http.MethodGet, Token: c.Token, Path: result.Path}); seen.Status != http.StatusOK || seen.Body != result.Body {
			t.Errorf("%s: the result page differs after the repetition", accept)
		}
		if s.checksum() != before || len(s.attemptsOf(sheet.No)) != i+1 {
			t.Errorf("%s: the repetition has written", accept)
		}
	}
}

// A press that goes away before it is kept leaves nothing, and can be sent
// again under its key.
func TestLostPress(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	sheet := s.fresh()
	c := s.press(newKey(), s.rightTexts(s.work, sheet))
	ctx := context.Background()
	tx, err := s.db.Begin(ctx)
	s.must(err)
	_, err = tx.Exec(ctx, `SELECT FROM sheets WHERE class_id = $1 AND no = $2 FOR UPDATE`, s.class.ID, sheet.No)
	s.must(err)
	soon, stop := context.WithTimeout(ctx, 150*time.Millisecond)
	defer stop()
	c.Context = soon
	if p := s.ask(c); p.Status < 400 {
		t.Errorf("a press that could not be kept = %d", p.Status)
	}
	s.must(tx.Rollback(ctx))
	if n := len(s.attemptsOf(sheet.No)); n != 0 {
		t.Errorf("%d attempts kept of a press that went away", n)
	}
	c.Context = nil
	if p := s.ask(c); p.Status != http.StatusSeeOther || len(s.attemptsOf(sheet.No)) != 1 {
		t.Errorf("sent again = %d, %d attempts, want 303 and one", p.Status, len(s.attemptsOf(sheet.No)))
	}
}

// More presses at once than attempts are left: as many are kept as are left.
func TestAttemptsAtOnce(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	sheet, due := s.fresh(), s.Now().Add(time.Hour)
	s.must(s.Store.SetTerms(context.Background(), s.class.ID, s.work.assignment.No, store.Terms{Attempts: 7, Release: store.ReleaseByHand}))
	calls := s.presses(sheet, 30)
	if kept := s.keptAndTold(t, s.together(calls), sheet.No, due); kept != 7 {
		t.Errorf("%d attempts kept of 30 presses, want 7", kept)
	}
	for _, c := range calls {
		// Whoever was told repeats it and is told the same; nobody else gets in.
		if p := s.ask(c); p.Status != http.StatusSeeOther && p.Status != http.StatusConflict {
			t.Errorf("a press once more = %d", p.Status)
		}
	}
	if n := len(s.attemptsOf(sheet.No)); n != 7 {
		t.Errorf("%d attempts after all presses once more, want 7", n)
	}
}

// presses are presses with keys and numbers of their own.
func (s *school) presses(sheet store.Sheet, n int) []call {
	var calls []call
	texts := s.rightTexts(s.work, sheet)
	for i := range n {
		texts[sheet.Issued.Steps[0].ID] = fmt.Sprintf("%d.5", 10+i)
		calls = append(calls, s.press(newKey(), texts))
	}
	return calls
}

// The due time passes in the middle of a burst of presses. Each that is told to
// be received is kept with a time before it; each that is refused is not.
func TestDueInTheMiddle(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	sheet, due := s.fresh(), s.Now().Add(time.Hour)
	s.must(s.Store.SetTerms(context.Background(), s.class.ID, s.work.assignment.No, store.Terms{DueAt: &due, Release: store.ReleaseByHand}))
	s.pass(time.Hour - time.Second)
	calls, passed, answered := s.presses(sheet, 30), make(chan struct{}), atomic.Int64{}
	answers := make([]*page, len(calls))
	var wait sync.WaitGroup
	for i, c := range calls {
		wait.Go(func() {
			if i >= 15 {
				<-passed
			}
			answers[i] = s.ask(c)
			if answered.Add(1) == 8 { // the other seven of the first half are under way
				s.pass(time.Second)
				close(passed)
			}
		})
	}
	wait.Wait()
	if kept := s.keptAndTold(t, answers, sheet.No, due); kept < 8 || kept > 15 {
		t.Errorf("%d attempts kept, want those of the first half that came in time: 8 to 15", kept)
	}
}

// keptAndTold compares what was told with what is kept, and gives how many.
func (s *school) keptAndTold(t *testing.T, answers []*page, sheet int, due time.Time) int {
	t.Helper()
	var told []string
	for _, p := range answers {
		inspect(t, s.harness, p)
		switch p.Status {
		case http.StatusSeeOther:
			told = append(told, p.Header.Get("Location"))
		case http.StatusConflict:
		default:
			t.Errorf("a press = %d, want it taken or refused as too late or too many", p.Status)
		}
	}
	kept := s.attemptsOf(sheet)
	if len(kept) != len(told) {
		t.Errorf("%d attempts kept, %d told", len(kept), len(told))
	}
	for i, a := range kept {
		if !a.SentAt.Before(due) || a.No != len(kept)-i || !slices.Contains(told, fmt.Sprintf("%s/sheets/%d/attempts/%d", classPath(s.class, ""), sheet, a.No)) {
			t.Errorf("attempt %d was kept at %v (due %v) and told to %v", a.No, a.SentAt, due, told)
		}
	}
	return len(kept)
}
