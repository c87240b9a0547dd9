package grading

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"arrisbook/geom/joint"
)

// Interval is a share with how far chance alone may have moved it.
type Interval struct{ Low, High float64 }

// Wilson is the score interval of a share of k in n (E. B. Wilson, Journal of
// the American Statistical Association 22, 1927, 209-212) for a quantile z of
// the normal distribution: 1.96 for 95 times in 100. It stays sensible for the
// small numbers of a class. Nothing known (n = 0) is everything: 0 to 1.
func Wilson(k, n int, z float64) Interval {
	if n <= 0 {
		return Interval{0, 1}
	}
	p, m, zz := float64(k)/float64(n), float64(n), float64(z*z)
	middle := p + zz/(2*m)
	spread := z * math.Sqrt(float64(p*(1-p))/m+zz/(4*m*m))
	low, high := (middle-spread)/(1+zz/m), (middle+spread)/(1+zz/m)
	if k == 0 {
		low = 0 // exactly, where rounding leaves a trace
	}
	if k == n {
		high = 1
	}
	return Interval{max(low, 0), min(high, 1)}
}

// z95 is the quantile for 95 times in 100.
const z95 = 1.959963984540054

// Work is what one student did on one sheet: attempts oldest first. It has no
// name; No is the caller's own number for the sheet.
type Work struct {
	No       int64
	Attempts []Attempt
}

// Attempt is one attempt with the blank it was judged on, which changes when a
// student measures the wood.
type Attempt struct {
	Sheet  Sheet
	Result Result
}

// last gives the last answer to a step that was not blank.
func (w Work) last(step string) (StepResult, bool) {
	for i := len(w.Attempts) - 1; i >= 0; i-- {
		for _, s := range w.Attempts[i].Result.Steps {
			if s.ID == step && s.Verdict != Blank {
				return s, true
			}
		}
	}
	return StepResult{}, false
}

// Tally is a class's work on one exercise.
type Tally struct {
	Steps  []StepTally
	Sheets int // with at least one attempt
}

// StepTally counts the last answers to one step, one a sheet.
type StepTally struct {
	ID                                             string
	Number                                         int // its place on the sheet
	Right, Near, Follows, Wrong, Unreadable, Blank int
	// Share is the part of the sheets whose last answer is right or follows.
	Share Interval
	Slips []SlipTally // commonest first
	// Unexplained counts wrong answers of all attempts that no slip gives.
	Unexplained int
}

// Sheets is how many sheets were counted.
func (s StepTally) Sheets() int {
	return s.Right + s.Near + s.Follows + s.Wrong + s.Unreadable + s.Blank
}

// Sits is how many sheets have the step right, own numbers carried on.
func (s StepTally) Sits() int { return s.Right + s.Follows }

// SlipTally counts one slip over all attempts.
type SlipTally struct {
	Slip   Slip
	Count  int // answers
	Sheets int // different sheets
}

// NewTally counts a class's work. Sheets without an attempt are left out.
func NewTally(ex *Exercise, class []Work) Tally {
	var t Tally
	for _, w := range class {
		if len(w.Attempts) > 0 {
			t.Sheets++
		}
	}
	for i, s := range ex.Steps {
		t.Steps = append(t.Steps, tallyStep(s.ID, i+1, class))
	}
	return t
}

func tallyStep(id string, number int, class []Work) StepTally {
	t := StepTally{ID: id, Number: number, Share: Wilson(0, 0, z95)}
	for _, w := range class {
		if n := len(w.Attempts); n > 0 && w.Attempts[n-1].Sheet.asks(id) {
			t.count(w)
		}
	}
	slices.SortStableFunc(t.Slips, func(a, b SlipTally) int {
		return cmp.Or(cmp.Compare(b.Sheets, a.Sheets), cmp.Compare(b.Count, a.Count),
			cmp.Compare(a.Slip.ID, b.Slip.ID), cmp.Compare(a.Slip.Detail, b.Slip.Detail))
	})
	return t
}

// Add counts the last answer of one more sheet; "" is none.
func (t *StepTally) Add(v Verdict) {
	switch v {
	case Right:
		t.Right++
	case Near:
		t.Near++
	case Follows:
		t.Follows++
	case Wrong:
		t.Wrong++
	case Unreadable:
		t.Unreadable++
	default:
		t.Blank++
	}
	t.Share = Wilson(t.Sits(), t.Sheets(), z95)
}

func (t *StepTally) count(w Work) {
	last, _ := w.last(t.ID)
	t.Add(last.Verdict)
	seen := map[string]bool{}
	before := ""
	for _, a := range w.Attempts {
		for _, s := range a.Result.Steps {
			if s.ID != t.ID {
				continue
			}
			// A number sent again unchanged is the same answer, not another one.
			if s.Verdict == Wrong && s.Given != before {
				t.countSlip(s, seen)
			}
			before = s.Given
		}
	}
}

func (t *StepTally) countSlip(s StepResult, seen map[string]bool) {
	if s.Pattern == nil {
		t.Unexplained++
		return
	}
	// Slips that one sentence tells are one to whoever reads it, wherever in the
	// formula they were made.
	i := slices.IndexFunc(t.Slips, func(o SlipTally) bool {
		return o.Slip.ID == s.Pattern.ID && (o.Slip.Detail == s.Pattern.Detail || o.Slip.Says != "" && o.Slip.Says == s.Pattern.Says)
	})
	if i < 0 {
		t.Slips, i = append(t.Slips, SlipTally{Slip: *s.Pattern}), len(t.Slips)
	}
	t.Slips[i].Count++
	if key := t.Slips[i].Slip.ID + "\x00" + t.Slips[i].Slip.Detail; !seen[key] {
		seen[key] = true
		t.Slips[i].Sheets++
	}
}

// Worst is the step to take up again: the one that fewest have, if at least
// two sheets, and a fifth of those that answered it, are not there. ok is
// false where the class has got everything.
func (t Tally) Worst() (StepTally, bool) {
	var worst StepTally
	most, found := 0.0, false
	for _, s := range t.Steps {
		missed := s.Near + s.Wrong
		answered := s.Sheets() - s.Blank
		if missed < 2 || 5*missed < answered {
			continue
		}
		if share := float64(missed) / float64(answered); share > most {
			worst, most, found = s, share, true
		}
	}
	return worst, found
}

// Headline says what the review found.
func (t Tally) Headline() string {
	worst, ok := t.Worst()
	switch {
	case t.Sheets == 0:
		return "No answers yet"
	case ok:
		return fmt.Sprintf("Number %d is the one to take up again", worst.Number)
	}
	return "No number needs taking up again"
}

// Case is one answer to work through with the class: the blank, what was
// written, and the slip; no name and no sheet number.
type Case struct {
	Step       string
	Number     int
	Parameters joint.Values
	Given      string
	Slip       *Slip // nil where no slip gives the answer
}

// Cases chooses up to most wrong answers to show: of the step to take up again
// first, one of each slip there, commonest first, then of the other steps; an
// answer that nothing explains comes last. A sheet is used once.
func (t Tally) Cases(class []Work, most int) []Case {
	steps := slices.Clone(t.Steps)
	slices.SortStableFunc(steps, func(a, b StepTally) int { return cmp.Compare(b.Wrong+b.Near, a.Wrong+a.Near) })
	if worst, ok := t.Worst(); ok {
		i := slices.IndexFunc(steps, func(s StepTally) bool { return s.ID == worst.ID })
		steps = slices.Insert(slices.Delete(steps, i, i+1), 0, worst)
	}
	p := picker{class: class, most: most, used: map[int64]bool{}}
	for _, s := range steps {
		for _, sl := range s.Slips {
			p.pick(s, &sl.Slip)
		}
	}
	for _, s := range steps {
		p.pick(s, nil)
	}
	return p.cases
}

type picker struct {
	class []Work
	most  int
	used  map[int64]bool
	cases []Case
}

// pick takes the first sheet with that slip on that step.
func (p *picker) pick(s StepTally, slip *Slip) {
	if len(p.cases) >= p.most {
		return
	}
	for _, w := range p.class {
		if p.used[w.No] {
			continue
		}
		for _, at := range w.Attempts {
			for _, a := range at.Result.Steps {
				if a.ID != s.ID || a.Verdict != Wrong || !sameSlip(a.Pattern, slip) {
					continue
				}
				p.used[w.No] = true
				p.cases = append(p.cases, Case{
					Step: s.ID, Number: s.Number, Parameters: at.Sheet.Parameters, Given: a.Given, Slip: a.Pattern,
				})
				return
			}
		}
	}
}

func sameSlip(a, b *Slip) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.ID == b.ID && a.Detail == b.Detail
}
