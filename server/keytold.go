package server

import (
	"fmt"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// keyTold tells a student what a new key changed, and why.
type keyTold struct {
	Heading, Why string
	Changes      []string
	Own          string // what became of the student's own numbers
	Href         string // the result
}

// keysTold tells of the newest key, and of those before it that came after the
// last numbers were sent. A change that was taken back is told as that.
func (s *server) keysTold(c echo.Context, d desk) ([]keyTold, error) {
	var told []keyTold
	undone := map[int]bool{}
	for i, k := range d.keys {
		if k.Undoes != nil {
			undone[*k.Undoes] = true
		}
		if undone[k.No] || i > 0 && (d.last == nil || d.last.SentAt.After(k.MadeAt)) {
			continue
		}
		t := keyTold{Heading: "The key was changed " + clock(k.MadeAt, d.now, d.zone) + ".", Why: k.Why}
		if k.Undoes != nil {
			t.Heading, t.Why = "A change of the key was taken back "+clock(k.MadeAt, d.now, d.zone)+".", "Everything counts again as it did before."
		}
		for _, ch := range k.Changes {
			t.Changes = append(t.Changes, ch.Says)
		}
		if i == 0 && d.last != nil {
			if err := s.tellOwn(c, d, k, &t); err != nil {
				return nil, err
			}
		}
		told = append(told, t)
	}
	return told, nil
}

// tellOwn says what became of the last numbers under the newest key.
func (s *server) tellOwn(c echo.Context, d desk, k store.Key, t *keyTold) error {
	all, err := s.store.Judgements(c.Request().Context(), d.class.ID, d.sheet.No, d.last.No)
	if err != nil || len(all) < 2 {
		return err
	}
	now, before := all[0], all[1]
	t.Href = fmt.Sprintf("%s/attempts/%d", d.base(), d.last.No)
	t.Own = fmt.Sprintf("Your attempt %d was judged again: %s before, %s now.", d.last.No, scoreWords(before.Result), scoreWords(now.Result))
	if sameVerdicts(before.Result, now.Result) {
		t.Own = fmt.Sprintf("Your attempt %d was judged again, and nothing of it has changed: %s.", d.last.No, scoreWords(now.Result))
	}
	return nil
}

// sameVerdicts says that two results tell the same about each number.
func sameVerdicts(a, b grading.Result) bool {
	if len(a.Steps) != len(b.Steps) {
		return false
	}
	for i := range a.Steps {
		if a.Steps[i].ID != b.Steps[i].ID || a.Steps[i].Verdict != b.Steps[i].Verdict {
			return false
		}
	}
	return true
}

// judgedLine is one judgement of an attempt.
type judgedLine struct {
	Says, Why string
	Changes   []string
	Href      string
	Here      bool
}

// judgements are all of an attempt, the newest first; none where there is only
// one.
func (s *server) judgements(c echo.Context, d desk, a store.Attempt) ([]store.Judgement, error) {
	if d.assignment.KeyNo == 0 {
		return nil, nil
	}
	all, err := s.store.Judgements(c.Request().Context(), d.class.ID, d.sheet.No, a.No)
	if len(all) < 2 {
		all = nil
	}
	return all, err
}

// asJudged puts an earlier judgement in place of the one that counts, when the
// address asks for it by the key's number.
func (s *server) asJudged(c echo.Context, d desk, a store.Attempt, all []store.Judgement) (desk, store.Attempt, error) {
	asked := c.QueryParam("key")
	if asked == "" {
		return d, a, nil
	}
	no, err := strconv.Atoi(asked)
	if err != nil {
		return d, a, errNotFound
	}
	for _, j := range all {
		if j.KeyNo != no-1 {
			continue
		}
		r, err := s.rulesUnder(c.Request().Context(), d.assignment, j.KeyNo)
		if err != nil {
			return d, a, err
		}
		d.exercise = r.exercise
		a.Sheet, a.Result, a.Score, a.OutOf, a.KeyNo = j.Sheet, j.Result, j.Score, j.OutOf, j.KeyNo
		return d, a, nil
	}
	return d, a, errNotFound
}

// judgedBy lists the judgements of the attempt that is shown.
func (p *resultPage) judgedBy(d desk, a store.Attempt, all []store.Judgement) {
	for i, j := range all {
		l := judgedLine{
			Says: fmt.Sprintf("By key %d, %s: %s", j.KeyNo+1, clock(j.At, d.now, d.zone), scoreWords(j.Result)),
			Href: fmt.Sprintf("%s/attempts/%d?key=%d", d.base(), a.No, j.KeyNo+1), Here: j.KeyNo == a.KeyNo,
		}
		if i == 0 {
			l.Says, l.Href = l.Says+". This counts", fmt.Sprintf("%s/attempts/%d", d.base(), a.No)
		}
		for _, k := range d.keys {
			if k.No != j.KeyNo {
				continue
			}
			l.Why = k.Why
			for _, ch := range k.Changes {
				l.Changes = append(l.Changes, ch.Says)
			}
		}
		p.Judged = append(p.Judged, l)
	}
	if len(all) > 0 && a.KeyNo != all[0].KeyNo {
		p.Old = "This is what was said by an earlier key. It does not count any more."
	}
}
