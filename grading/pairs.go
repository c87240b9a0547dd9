package grading

import (
	"math"
	"slices"
	"strings"
	"sync"

	"arrisbook/grading/formula"
)

// Two slips that come together: a formula slip and then one on the answer
// (half forgotten, and the complement of that), or two formula slips. There are
// so many of them that some pair lies near almost any number written roughly,
// so they are asked only when nothing simpler fits, and only where the answer
// is written finely enough that a chance hit is rare.

// pairs are the two-step slips of one step, found when first needed.
type pairs struct {
	once sync.Once
	// onAnswer ends in a slip on the answer, inFormula has both in the formula.
	onAnswer, inFormula []slip
}

// mostByChance is how many chance hits are put up with where one number is
// held against a list: one in a hundred.
const mostByChance = 0.01

// tellsApart says that a list of slips is short enough for an answer of that
// fineness. A number that means nothing lies anywhere between nothing and
// twice the key, so each slip takes it by chance once in 2·|key|/window times.
func tellsApart(list []slip, window, key float64) bool {
	return float64(len(list))*2*window <= mostByChance*2*math.Abs(key)
}

// pairedSlip finds the two slips that together give an answer.
func (j *judge) pairedSlip(d *definition, answer, window float64) (slip, bool) {
	at := j.m.bySlot[d.slot]
	p := &j.m.pairs[at]
	p.once.Do(func() { findPairs(p, subject{m: j.m, ex: j.ex, d: d}, j.m.slips[at]) })
	for _, list := range [][]slip{p.onAnswer, p.inFormula} {
		if !tellsApart(list, window, j.right[d.slot]) {
			return slip{}, false
		}
		for i := range list {
			if within(math.Abs(list[i].prog.run(j.right)-answer), window, answer) {
				return list[i], true
			}
		}
	}
	return slip{}, false
}

// paired says which kinds may come second.
func paired(k patternKind) bool {
	switch k.id {
	case "other-quantity", "rounded-early", "radian-mode", "rule-from-one":
		return false // nothing of the first slip is left in it, or it is rare by itself
	}
	return true
}

func findPairs(p *pairs, q subject, singles []slip) {
	f := finder{q: q, blanks: q.m.sampleBlanks(q.ex)}
	for _, s := range singles {
		f.consider(s.kind, s) // so that no pair repeats a single slip
	}
	n := len(f.found)
	f.once = true
	for _, first := range singles {
		if first.kind >= 0 && !first.onAnswer && paired(kinds[first.kind]) {
			f.pairWith(first)
		}
	}
	for _, s := range f.found[n:] {
		if s.onAnswer {
			p.onAnswer = append(p.onAnswer, s)
		} else {
			p.inFormula = append(p.inFormula, s)
		}
	}
}

// pairWith puts every second slip onto the first one's tree.
func (f *finder) pairWith(first slip) {
	for i, k := range kinds {
		if !paired(k) || !k.onAnswer && i < first.kind {
			continue // two of the formula are met in one order only
		}
		for _, v := range k.write(f.q, first.tree) {
			if _, isName := v.tree.(formula.Name); isName || !k.onAnswer && !k.loose && !f.q.fitsUnit(v.tree) {
				continue
			}
			f.consider(i, joined(first, slip{id: k.id, detail: v.detail, tree: v.tree, onAnswer: k.onAnswer, says: f.q.hint(k, v)}))
		}
	}
}

// joined names two slips that come together: the first is the pattern, the
// second goes beside it, and each says in its detail that the other is there.
func joined(first, second slip) slip {
	out := second
	out.id, out.detail = first.id, with(first.detail, second.id)
	out.also = []Slip{{ID: second.id, Detail: with(second.detail, first.id)}}
	out.says = getIf + "two slips come together: " + clause(first.says) + "; and " + clause(second.says) + ". Which of the two can you see?"
	return out
}

// join puts the names of another pair with the same value beside a pair's own,
// each pattern once. Single slips stay as they are.
func (s *slip) join(other slip) {
	if len(s.also) == 0 || len(other.also) == 0 {
		return
	}
	for _, o := range append([]Slip{{ID: other.id, Detail: other.detail}}, other.also...) {
		if o.ID != s.id && !slices.ContainsFunc(s.also, func(k Slip) bool { return k.ID == o.ID }) {
			s.also = append(s.also, o)
		}
	}
}

func with(detail, other string) string { return strings.TrimSpace(detail + " with " + other) }

// clause takes what a hint says out of it. A hint of the exercise's own that is
// written another way stays whole.
func clause(says string) string {
	says, _, _ = strings.Cut(strings.TrimPrefix(says, getIf), ". ")
	return strings.TrimRight(says, ".?")
}
