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

// hypothesis is one slip of a step in the weighing.
type hypothesis struct {
	id, detail, key string
	simplicity      float64
	fits            bool
	class           int
	prior, weight   float64
}

// posterior works the weights out as [Weigh] says, and gives that of a number
// that nothing explains. chance is how likely such a number falls where the
// answer is.
func posterior(all []hypothesis, own, class map[string]int, chance float64) (none float64) {
	total := 0.0
	for i := range all {
		total += all[i].simplicity
	}
	named := 0
	for k, n := range class {
		if k != "" {
			named += n
		}
	}
	for i := range all {
		h := &all[i]
		h.prior, h.class = h.simplicity/total, class[h.key]
		h.weight = (classPseudo*h.prior + float64(h.class)) / (classPseudo + float64(named))
	}
	weighOwn(all, own)
	unknown := (unknownPseudo*unknownPrior + float64(class[""])) / (unknownPseudo + float64(named+class[""]))
	none = float64(unknown * chance)
	sum := none
	for i := range all {
		if all[i].weight *= 1 - unknown; all[i].fits {
			sum += all[i].weight
		}
	}
	for i := range all {
		all[i].weight /= sum
	}
	return none / sum
}

// weighOwn moves the weights of all slips of a pattern by what the student did.
// Slips of one pattern stand together in the list.
func weighOwn(all []hypothesis, own map[string]int) {
	seen := 0
	for i, h := range all {
		if i == 0 || all[i-1].id != h.id {
			seen += own[h.id]
		}
	}
	for i := 0; i < len(all); {
		j, of := i, 0.0
		for ; j < len(all) && all[j].id == all[i].id; j++ {
			of += all[j].weight
		}
		after := (ownPseudo*of + float64(own[all[i].id])) / (ownPseudo + float64(seen))
		for ; i < j; i++ {
			all[i].weight *= after / of
		}
	}
}

// weighing holds what the steps of one result share.
type weighing struct {
	m   *model
	all []hypothesis
}

func (w *weighing) step(s *StepResult, own, class map[string]int) {
	d, ok := w.m.def(s.ID)
	if !ok {
		return
	}
	w.all = w.all[:0]
	slips := w.m.slips[w.m.bySlot[d.slot]]
	swapDone := false
	addSwap := func() {
		if s.fit.swap.ID != "" && !swapDone {
			w.all = append(w.all, hypothesis{id: s.fit.swap.ID, detail: s.fit.swap.Detail, key: s.fit.swap.Key(), simplicity: simplicity(swapRank), fits: true})
		}
		swapDone = true
	}
	for i := range slips {
		p := &slips[i]
		if !p.onAnswer {
			addSwap()
		}
		w.all = append(w.all, hypothesis{id: p.id, detail: p.detail, key: p.key, simplicity: simplicity(float64(p.kind)), fits: slices.Contains(s.fit.slips, i)})
	}
	addSwap()
	none := posterior(w.all, own, class, s.fit.chance)
	s.Evidence = make([]Evidence, 0, len(s.fit.slips)+2)
	for _, h := range w.all {
		if h.fits {
			s.Evidence = append(s.Evidence, Evidence{ID: h.id, Detail: h.detail, Prior: h.prior, Class: h.class, Own: own[h.id], Weight: h.weight})
		}
	}
	slices.SortStableFunc(s.Evidence, func(a, b Evidence) int { return cmp.Compare(b.Weight, a.Weight) })
	s.reorder(d, slips)
	s.Evidence = append(s.Evidence, Evidence{Class: class[""], Weight: none})
}

// reorder names the heaviest and puts the others beside it in their order; what
// is only near stays behind them.
func (s *StepResult) reorder(d *definition, slips []slip) {
	old := append(make([]Slip, 0, len(s.Also)+1), s.Also...)
	guess := false
	if s.Pattern != nil {
		guess = strings.HasPrefix(s.Pattern.Says, couldBe)
		old = slices.Insert(old, 0, *s.Pattern)
	}
	isOf := func(e Evidence) func(Slip) bool {
		return func(o Slip) bool { return o.ID == e.ID && o.Detail == e.Detail }
	}
	sorted := make([]Slip, 0, len(old))
	for _, e := range s.Evidence {
		if i := slices.IndexFunc(old, isOf(e)); i >= 0 {
			sorted, old = append(sorted, old[i]), slices.Delete(old, i, i+1)
		}
	}
	sorted = append(sorted, old...)
	if s.Pattern == nil {
		s.Also = sorted
		return
	}
	if first := &sorted[0]; first.Says == "" { // it stood beside until now
		first.Says = saysOf(d, slips, *first)
		if guess {
			first.Says = weaker(first.Says)
		}
	}
	for i := range sorted[1:] {
		sorted[1+i].Says = ""
	}
	s.Pattern, s.Also = &sorted[0], sorted[1:]
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
