package discover

import (
	"math/bits"
	"sync"
)

// bank is all typed formulas of up to so many nodes over givens of certain
// kinds, each once. They stand in order of size, and in a size by kind.
type bank struct {
	forest
	// spans tells by size and kind where the formulas stand.
	spans [][kinds]span

	mu    sync.Mutex
	plans map[kind]*plan // by the kind that is asked
	whole *plan          // of what may be a part in the middle
}

// span is a stretch of formulas.
type span struct{ from, to int32 }

// plan gives the plan for answers of a kind, made once.
func (b *bank) plan(asked kind) *plan {
	b.mu.Lock()
	defer b.mu.Unlock()
	if p, ok := b.plans[asked]; ok {
		return p
	}
	var roots []int32
	for _, spans := range b.spans {
		for k, s := range spans {
			if !answers(kind(k), asked) {
				continue
			}
			for i := s.from; i < s.to; i++ {
				roots = append(roots, i)
			}
		}
	}
	p := newPlan(&b.forest, roots)
	p.uses = usesOf(&b.forest, roots)
	if b.plans == nil {
		b.plans = map[kind]*plan{}
	}
	b.plans[asked] = p
	return p
}

// distance tells how far each root lies from what anybody would write first: by
// its nodes, one more where a given stands in it twice, and one more for each
// given after the first that has no place in the right formula.
func (p *plan) distance(right uint32) []level {
	out := make([]level, len(p.roots))
	for k, u := range p.uses {
		out[k] = bankLevel(int(u.cost) + max(0, bits.OnesCount32(u.givens&^right)-1))
	}
	return out
}

// use is which givens a formula uses, and what it costs by itself.
type use struct {
	givens uint32
	cost   uint8
}

// usesOf works out the uses of the roots.
func usesOf(f *forest, roots []int32) []use {
	uses := make([]use, len(f.ops))
	for i, o := range f.ops {
		switch {
		case leaf(o):
			uses[i] = use{1 << (f.l[i] & 31), 1}
		case o.binary():
			l, r := uses[f.l[i]], uses[f.r[i]]
			uses[i] = use{l.givens | r.givens, 1 + l.cost + r.cost}
			if l.givens&r.givens != 0 {
				uses[i].cost++
			}
		default:
			uses[i] = use{uses[f.l[i]].givens, 1 + uses[f.l[i]].cost}
		}
	}
	out := make([]use, len(roots))
	for k, i := range roots {
		out[k] = uses[i]
	}
	return out
}

// answers says that a number of one kind can be an answer of another.
func answers(k, asked kind) bool {
	if asked == plain {
		return k == plain || k == ratio || k == count
	}
	return k == asked
}

// bytes is about what the bank takes of memory.
func (b *bank) bytes() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	n := len(b.ops) + 4*(len(b.l)+len(b.r))
	for _, p := range b.plans {
		n += p.bytes()
	}
	return n
}
