package grading

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"sync"

	"arrisbook/grading/formula"
)

// Two slips that come together: a formula slip and then one on the answer
// (half forgotten, and the complement of that), or two formula slips. There are
// hundreds of them on a step, so they are asked only when nothing simpler fits,
// the likeliest first, and only as far down as chance hits stay rare.

// pairs are the two-step slips of one step, and those of a measure mistaken in
// one place only, likeliest first, found when first needed.
type pairs struct {
	once sync.Once
	list []slip
}

// paired finds the two slips that together give an answer, the others of two
// that do so as well, and the part of the neighbourhood that these and
// everything likelier explain. ok is false where that part is too large to name
// them; found is empty where nothing is near.
func (q *diagnosis) paired() (found []*slip, chance float64, ok bool) {
	covered, reach := q.covered(func(int) bool { return true }, true), q.reach()
	most := q.mostByChance().two
	part := func(pairs int) float64 { return (covered + float64(2*float64(pairs)*q.window)) / (2 * reach) }
	coarse := q.half >= inTenths-1e-9
	near := 0
	if coarse && part(1) > most {
		return nil, 0, false
	}
	list := q.pairsOf()
	for i := range list {
		v := q.evalPair(&list[i])
		if !(math.Abs(v-q.answer) < reach) {
			continue
		}
		near++
		if q.matches(v) {
			if found = append(found, &list[i]); len(found) == 1 {
				chance = part(near)
			}
			if len(found) == mostBeside {
				break
			}
		}
		if coarse && part(near+1) > most {
			break // so many stand near that to speak of one says nothing
		}
	}
	return found, chance, chance <= most
}

// evalPair works a pair out. One that ends on the answer begins with what the
// first slip gave.
func (q *diagnosis) evalPair(p *slip) float64 {
	if !p.onAnswer {
		return q.eval(&p.prog)
	}
	answer := &q.right[q.d.slot]
	key := *answer
	*answer = q.values[p.base]
	v := q.eval(&p.prog)
	*answer = key
	return v
}

// mostBeside is how many pairs are told of one number.
const mostBeside = 4

// pairsOf gives the pairs of the step.
func (q *diagnosis) pairsOf() []slip {
	at := q.m.bySlot[q.d.slot]
	p := &q.m.pairs[at]
	p.once.Do(func() { p.list = findPairs(subject{m: q.m, ex: q.ex, d: q.d}, q.slips) })
	return p.list
}

// pairs says which kinds may be one of two.
func (k patternKind) pairs() bool {
	switch k.id {
	case "other-quantity", "radian-mode":
		return false // nothing of the first slip is left in it, or it is everywhere at once
	}
	return true
}

// findPairs lists the pairs of a step, likeliest first.
func findPairs(q subject, singles []slip) []slip {
	f := finder{q: q, blanks: q.m.sampleBlanks(q.ex), left: mostSingles + mostPairs}
	for _, s := range singles {
		f.consider(s.kind, s) // so that no pair repeats a single slip
	}
	n := len(f.found)
	f.once, f.share = true, shares(singles)
	f.inOnePlace()
	for i, first := range singles {
		if first.kind < 0 || first.onAnswer || !kinds[first.kind].pairs() {
			continue
		}
		first.base = i
		f.pairWith(first)
		// A slip in a formula over other numbers leaves room for one in those.
		if full := q.m.writtenOut(first.tree); !alike(full, first.tree) {
			first.tree = full
			f.pairWith(first)
		}
	}
	list := slices.Clone(f.found[n:])
	slices.SortStableFunc(list, func(a, b slip) int { return cmp.Compare(b.weight, a.weight) })
	return list
}

// inOnePlace adds the measures that are mistaken in one place only.
func (f *finder) inOnePlace() {
	at := slices.IndexFunc(kinds, func(k patternKind) bool { return k.id == "wrong-measure" })
	for _, root := range []formula.Node{f.q.d.taught.Root(), f.q.d.full.Root()} {
		for _, v := range inOnePlace(f.q, root) {
			taken, _, _ := strings.Cut(v.detail, " for ")
			v.about = taken
			f.consider(at, slip{id: kinds[at].id, detail: v.detail, tree: v.tree, says: f.q.hint(kinds[at], v), weight: f.share[at]})
		}
	}
}

// shares gives each kind its weight for one of its variants on a step: kinds
// are in order of simplicity, each a tenth less likely than the one before,
// and a kind's weight is shared by its variants.
func shares(singles []slip) []float64 {
	many := make([]int, len(kinds))
	for _, s := range singles {
		if s.kind >= 0 {
			many[s.kind]++
		}
	}
	out := make([]float64, len(kinds))
	for i := range kinds {
		out[i] = simplicity(float64(i)) / float64(max(many[i], 1))
	}
	return out
}

// pairWith puts every second slip onto the first one's tree.
func (f *finder) pairWith(first slip) {
	answer := formula.Name{ID: f.q.d.id}
	for i, k := range kinds {
		if f.left <= 0 {
			return
		}
		if !k.pairs() || !k.onAnswer && i < first.kind {
			continue // two of the formula are met in one order only
		}
		var onAnswer []variant
		if k.onAnswer {
			onAnswer = k.write(f.q, answer)
		}
		for n, v := range k.write(f.q, first.tree) {
			strict := !k.onAnswer && !k.loose && !kinds[first.kind].loose
			if _, isName := v.tree.(formula.Name); isName || strict && !f.q.fitsUnit(v.tree) {
				continue
			}
			second := slip{id: k.id, detail: v.detail, tree: v.tree, onAnswer: k.onAnswer, says: f.q.hint(k, v)}
			pair, before := joined(first, second), len(f.found)
			pair.weight, pair.base = f.share[first.kind]*f.share[i], first.base
			f.consider(i, pair)
			if k.onAnswer && len(f.found) > before {
				f.found[before].endOnAnswer(onAnswer[n], f.q.m)
			}
		}
	}
}

// endOnAnswer makes a pair go on from what its first slip gave: that is worked
// out already, and need not be again for each way of going on.
func (s *slip) endOnAnswer(v variant, m *model) {
	if prog, err := compile(v.tree, m.slot); err == nil {
		s.prog = prog
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
