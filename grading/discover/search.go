package discover

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

// Problem is what a class answered to one step of an exercise.
type Problem struct {
	Exercise *grading.Exercise
	Step     string // a number of the exercise or of its family, asked or not
	Answers  []Answer
}

// Report is what a review found. Answers are told by their places in
// Problem.Answers.
type Report struct {
	N, Right int
	// Of is how many answers were searched: those that are neither right nor
	// nearly so, nor of a pattern that is seen often.
	Of       int
	Patterns []Pattern // those of all wrong answers, commonest first
	Findings []Finding // those that explain most answers first
	Left     []int     // answers that were searched and that nothing explains
}

// Finding is a formula that several answers come from.
type Finding struct {
	Formula formula.Formula // over the givens' ids
	Says    string          // a sentence or two
	Answers []int
	Of      int // as in Report
	// Decoy is how many answers formulas of this kind give by chance, at best:
	// found with every answer put on the next student's blank.
	Decoy int
}

// Progress is how far a search is.
type Progress struct {
	Stage string  // what is being tried, for people
	Done  float64 // of the whole, 0 to 1
}

// Banks are the formulas that searches try, kept from one search to the next
// and shared by all. The zero value is ready; it may be used by many at once.
type Banks struct {
	banks    shelf[*bank]
	rewrites shelf[*rewrites]
}

const (
	// bankSize is how many nodes the formulas of a bank have at the most, and
	// bankMost how many there may be: with eight givens that is seven nodes,
	// with three it is eight.
	bankSize, bankMost = 8, 420_000
)

// Search sets aside what needs no search and looks for the formulas that the
// other wrong answers have in common. progress may be nil; it is called from
// this goroutine. The error is the context's, or says that the step is unknown.
//
// The same problem always has the same report.
func (b *Banks) Search(ctx context.Context, p Problem, progress func(Progress)) (Report, error) {
	m, ok := p.Exercise.Measure(p.Step)
	if !ok {
		return Report{}, fmt.Errorf("%s is not a number of %s", p.Step, p.Exercise.ID)
	}
	if progress == nil {
		progress = func(Progress) {}
	}
	r := Report{N: len(p.Answers)}
	var left []int
	r.Right, r.Patterns, left = sift(p.Answers)
	r.Of = len(left)
	h := newHunt(b, p, m, left)
	if len(left) >= fewest {
		if err := h.run(ctx, progress); err != nil {
			return Report{}, err
		}
	}
	r.Findings = h.findings
	slices.SortStableFunc(r.Findings, func(x, y Finding) int {
		return cmp.Or(cmp.Compare(len(y.Answers), len(x.Answers)), cmp.Compare(x.Formula.Size(), y.Formula.Size()))
	})
	for _, i := range h.left.members() {
		r.Left = append(r.Left, left[i])
	}
	progress(Progress{Stage: "done", Done: 1})
	return r, nil
}

// hunt is one search on its way.
type hunt struct {
	banks     *Banks
	problem   Problem
	measure   grading.Measure
	sizes     []joint.Parameter
	names     []string // of the sizes, in the bank's order
	places    []int    // of the sizes, in the bank's order
	signature signature
	at        []int // the answers that are searched
	class     *class
	left      set // of them, by place in at
	rewrites  *rewrites
	all       *bank
	bank      *plan // of all, what can be an answer
	met       []joined
	pool      pool
	findings  []Finding
	values    [][]float64 // of the findings' formulas
}

func newHunt(b *Banks, p Problem, m grading.Measure, at []int) *hunt {
	h := &hunt{banks: b, problem: p, measure: m, sizes: p.Exercise.Sizes(), at: at, left: all(len(at))}
	h.signature, h.places = signatureOf(h.sizes)
	for _, i := range h.places {
		h.names = append(h.names, h.sizes[i].ID)
	}
	everybody := h.left.members()
	h.class = h.classOf(everybody)
	return h
}

// classOf is the class of some of the searched answers, by place in h.at.
func (h *hunt) classOf(who []int) *class {
	blanks := make([][]float64, len(who))
	values, halves := make([]float64, len(who)), make([]float64, len(who))
	for k, j := range who {
		a := h.problem.Answers[h.at[j]]
		values[k], halves[k] = a.Value, a.Half
		for _, s := range h.sizes {
			blanks[k] = append(blanks[k], a.Parameters[s.ID])
		}
	}
	return newClass(blanks, values, halves)
}

// run looks for what the answers have in common, the likeliest formulas first.
func (h *hunt) run(ctx context.Context, progress func(Progress)) error {
	if err := h.near(ctx, progress); err != nil {
		return err
	}
	if err := h.beyond(ctx, progress); err != nil {
		return err
	}
	h.gather()
	return ctx.Err()
}

// near tries the changes of the right formula, and the bank.
func (h *hunt) near(ctx context.Context, progress func(Progress)) error {
	progress(Progress{"changes of the right formula", 0})
	w := newRewriter(h.problem.Exercise, h.measure)
	var err error
	h.rewrites, err = h.banks.rewrites.get(ctx, w.key(), func(context.Context) (*rewrites, error) { return findRewrites(w), nil })
	if err != nil {
		return err
	}
	changed, err := h.rewrites.sieve(ctx, h.class, h.rewrites.levels, fromRewrites)
	if err != nil {
		return err
	}
	for i := range changed.own {
		c := &changed.own[i]
		c.nodes = min(c.nodes, 1+2*int(c.level))
	}
	const stage = "formulas over the givens"
	progress(Progress{stage, 0.1})
	h.all, err = h.banks.banks.get(ctx, string(h.signature), func(ctx context.Context) (*bank, error) {
		return grow(ctx, h.signature, bankSize, bankMost, func(done float64) { progress(Progress{stage, 0.1 + 0.4*done}) })
	})
	if err != nil {
		return err
	}
	h.bank = h.all.plan(kindOfUnit(h.measure.Unit))
	progress(Progress{stage, 0.5})
	banked, err := h.bank.sieve(ctx, h.class.over(h.places), h.bank.distance(h.rightGivens()), fromBank)
	h.pool = changed.with(banked)
	return err
}

// beyond tries what is larger than the bank.
func (h *hunt) beyond(ctx context.Context, progress func(Progress)) error {
	larger, err := h.middle(ctx, func(done float64) { progress(Progress{"larger formulas", 0.6 + 0.4*done}) })
	h.pool = h.pool.with(larger)
	return err
}

// rightGivens are the givens of the right formula, by place in the bank's order.
func (h *hunt) rightGivens() (mask uint32) {
	for _, id := range h.measure.Full.Names() {
		if i := slices.Index(h.names, id); i >= 0 {
			mask |= 1 << (i & 31)
		}
	}
	return mask
}

// gather takes findings out of the pool until none is accepted.
func (h *hunt) gather() {
	p := &h.pool
	for h.left.size() >= fewest {
		f, ok := p.take(h.left)
		if !ok {
			return
		}
		text, edits := h.write(f.candidate)
		numbers, gives := h.evaluate(text)
		if gives.common(f.own) < f.own.size() {
			// The bank does not know which of two is the larger; the formula as it
			// is written does, and fits fewer.
			p.own[f.index].own = gives
			continue
		}
		p.own[f.index].own = newSet(h.class.n)
		f.own = gives
		f.own.within(h.left)
		h.left.without(f.own)
		if h.told(numbers, f.own) {
			continue
		}
		h.values = append(h.values, numbers)
		found := Finding{Formula: text, Says: h.says(text, edits), Of: len(h.at), Decoy: f.decoy}
		for _, i := range f.own.members() {
			found.Answers = append(found.Answers, h.at[i])
		}
		h.findings = append(h.findings, found)
	}
}

// told says that a formula gives nearly the same numbers as one that was found
// before: its answers are slips of the last digit on the way to that one.
func (h *hunt) told(numbers []float64, own set) bool {
	const digits = 6 // halves of the last digit
	for _, before := range h.values {
		same := 0
		for _, i := range own.members() {
			d := numbers[i] - before[i]
			if d*d <= digits*digits*h.class.windows[i].reach {
				same++
			}
		}
		if 5*same >= 4*own.size() {
			return true
		}
	}
	return false
}
