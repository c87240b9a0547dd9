package grading

import (
	"cmp"
	"slices"
	"strings"
)

// History is what was named before: the evidence that one slip is likelier than
// another that gives the same number. Nil maps are no evidence.
type History struct {
	// Own counts the student's own wrong answers by the id of the pattern named,
	// on any exercise: a habit goes from one joint to the next.
	Own map[string]int
	// Class counts the class's wrong answers on this exercise, by step and by
	// [Slip.Key]; "" counts those that nothing explained.
	Class map[string]map[string]int
}

// Key names a slip with its detail: "complement", "wrong-measure a for b".
func (s Slip) Key() string { return key(s.ID, s.Detail) }

func key(id, detail string) string {
	if detail == "" {
		return id
	}
	return id + " " + detail
}

// Evidence is why one slip was put before another: what is stored with a result,
// so that it can be told later on. The one without an id stands for a number
// that nothing known explains.
type Evidence struct {
	ID     string `json:"id"`
	Detail string `json:"detail"`
	// Prior is its share of wrong answers to this step before anything else is
	// known, by simplicity alone.
	Prior float64 `json:"prior"`
	Class int     `json:"class"` // times it was named in the class on this step
	Own   int     `json:"own"`   // times its pattern was named for the student
	// Weight is its share after all of that: those of a step add to one.
	Weight float64 `json:"weight"`
}

// Says tells how often it has come up for the student, in a sentence; "" for
// never.
func (e Evidence) Says() string {
	often := [...]string{"", "once", "twice", "three times", "four times", "five times"}
	switch {
	case e.Own <= 0 || e.ID == "":
		return ""
	case e.Own < len(often):
		return "It has come up " + often[e.Own] + " in your numbers before."
	}
	return "It has come up many times in your numbers before."
}

// Weigh puts the slips that fit an answer in the order of their likeliness, with
// what was named before as the evidence, and keeps that evidence in the result.
// It adds no slip and takes none away, and where there is no history it leaves
// the order as it is. r is a result fresh from [Grade], and is not changed; one
// read back from where it was stored comes back as it was.
//
// The rule is that of Bayes, in three layers of Dirichlet pseudo-counts (A.
// Gelman and others, Bayesian Data Analysis, on the multinomial with a conjugate
// prior):
//
//	p0(slip) = simplicity(slip) / sum of the step's simplicities
//	p1(slip) = (10·p0 + times named in the class) / (10 + all named in the class)
//	p2(id)   = (5·p1(id) + times named for the student) / (5 + all named for the student)
//	p2(slip) = p2(id) · p1(slip)/p1(id)
//	u        = (1 + unexplained in the class) / (4 + all wrong in the class)
//
// Simplicity falls by a tenth from one kind to the next. The class counts as
// evidence where the step is the same, with its detail; the student where the
// pattern is. A slip that fits explains the answer for certain; a number that
// nothing explains falls within the written digits by chance. So the weights
// are as (1-u)·p2(slip) for those that fit, and u·chance for none of them.
func Weigh(ex *Exercise, r Result, h History) Result {
	m, err := ex.ready()
	if err != nil {
		return r
	}
	out := r
	out.Steps = slices.Clone(r.Steps)
	w := weighing{m: m}
	for i := range out.Steps {
		if s := &out.Steps[i]; len(s.fit.slips) > 0 || s.fit.swap.ID != "" {
			w.step(s, h.Own, h.Class[s.ID])
		}
	}
	return out
}

// What is worth so many answers before any are in.
const (
	classPseudo   = 10.0
	ownPseudo     = 5.0
	unknownPseudo = 4.0
	unknownPrior  = 0.25
)

// hypothesis is one slip that fits an answer.
type hypothesis struct {
	id, detail, key string
	simplicity      float64
	class           int
	prior, weight   float64
}

// simplicities are those of all slips of a step: together, and by pattern id.
type simplicities struct {
	all float64
	of  map[string]float64
}

func newSimplicities(slips []slip) simplicities {
	out := simplicities{of: map[string]float64{digitsSwapped: simplicity(swapRank)}}
	for i := range slips {
		out.of[slips[i].id] += slips[i].simplicity
	}
	for _, v := range out.of {
		out.all += v
	}
	return out
}

// posterior works the weights of the slips that fit out as [Weigh] says, and
// gives that of a number that nothing explains. chance is how likely such a
// number falls where the answer is.
func posterior(fit []hypothesis, step simplicities, own, class map[string]int, chance float64) (none float64) {
	named, seen := 0, 0
	for k, n := range class {
		if k != "" {
			named += n
		}
	}
	for id, n := range own {
		if step.of[id] > 0 {
			seen += n
		}
	}
	unknown := (unknownPseudo*unknownPrior + float64(class[""])) / (unknownPseudo + float64(named+class[""]))
	none = float64(unknown * chance)
	sum := none
	inClass := func(prior float64, times int) float64 {
		return (classPseudo*prior + float64(times)) / (classPseudo + float64(named))
	}
	for i := range fit {
		h := &fit[i]
		h.prior, h.class = h.simplicity/step.all, class[h.key]
		before := inClass(step.of[h.id]/step.all, ofPattern(class, h.id))
		after := (ownPseudo*before + float64(own[h.id])) / (ownPseudo + float64(seen))
		h.weight = (1 - unknown) * inClass(h.prior, h.class) * after / before
		sum += h.weight
	}
	for i := range fit {
		fit[i].weight /= sum
	}
	return none / sum
}

// ofPattern counts what a class did by pattern, whatever the detail.
func ofPattern(class map[string]int, id string) int {
	n := 0
	for k, times := range class {
		if rest, ok := strings.CutPrefix(k, id); ok && (rest == "" || rest[0] == ' ') {
			n += times
		}
	}
	return n
}

// weighing holds what the steps of one result share.
type weighing struct {
	m        *model
	fit      []hypothesis
	evidence []Evidence // what the steps' results point into
	slips    []Slip     // the same
}

func (w *weighing) step(s *StepResult, own, class map[string]int) {
	d, ok := w.m.def(s.ID)
	if !ok {
		return
	}
	at := w.m.bySlot[d.slot]
	slips := w.m.slips[at]
	w.fit = w.fit[:0]
	swap, isSwap := hypothesis{id: s.fit.swap.ID, detail: s.fit.swap.Detail, simplicity: simplicity(swapRank)}, s.fit.swap.ID != ""
	for _, i := range s.fit.slips {
		if p := &slips[i]; isSwap && !p.onAnswer {
			swap.key, isSwap = s.fit.swap.Key(), false
			w.fit = append(w.fit, swap)
		}
		w.fit = append(w.fit, hypothesis{id: slips[i].id, detail: slips[i].detail, key: slips[i].key, simplicity: slips[i].simplicity})
	}
	if isSwap {
		swap.key = s.fit.swap.Key()
		w.fit = append(w.fit, swap)
	}
	none := posterior(w.fit, w.m.simple[at], own, class, s.fit.chance)
	slices.SortStableFunc(w.fit, func(a, b hypothesis) int { return cmp.Compare(b.weight, a.weight) })
	w.keep(s, own, class, none)
	w.reorder(s, d, slips)
}

// keep writes the evidence down.
func (w *weighing) keep(s *StepResult, own, class map[string]int, none float64) {
	from := len(w.evidence)
	for _, h := range w.fit {
		w.evidence = append(w.evidence, Evidence{ID: h.id, Detail: h.detail, Prior: h.prior, Class: h.class, Own: own[h.id], Weight: h.weight})
	}
	w.evidence = append(w.evidence, Evidence{Class: class[""], Weight: none})
	s.Evidence = w.evidence[from:len(w.evidence):len(w.evidence)]
}

// reorder names the heaviest and puts the others beside it in their order; what
// is only near stays behind them.
func (w *weighing) reorder(s *StepResult, d *definition, slips []slip) {
	from := len(w.slips)
	old := s.Also
	if s.Pattern != nil {
		w.slips = append(w.slips, *s.Pattern)
	}
	w.slips = append(w.slips, old...)
	found := w.slips[from:len(w.slips):len(w.slips)]
	weight := func(o Slip) float64 {
		for i := range w.fit {
			if w.fit[i].id == o.ID && w.fit[i].detail == o.Detail {
				return w.fit[i].weight
			}
		}
		return 0
	}
	slices.SortStableFunc(found, func(a, b Slip) int { return cmp.Compare(weight(b), weight(a)) })
	if s.Pattern == nil {
		s.Also = found
		return
	}
	if first := &found[0]; first.Says == "" { // it stood beside until now
		first.Says = saysOf(d, slips, *first)
		if strings.HasPrefix(s.Pattern.Says, couldBe) {
			first.Says = weaker(first.Says)
		}
		for i := range found[1:] {
			found[1+i].Says = ""
		}
	}
	s.Pattern, s.Also = &found[0], found[1:]
}

func saysOf(d *definition, slips []slip, s Slip) string {
	if s.ID == digitsSwapped {
		return d.hint(digitsSwapped, s.Detail, saysDigitsSwapped)
	}
	for i := range slips {
		if slips[i].id == s.ID && slips[i].detail == s.Detail {
			return slips[i].says
		}
	}
	return ""
}
