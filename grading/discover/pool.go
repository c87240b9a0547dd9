package discover

import (
	"cmp"
	"math"
	"slices"
)

// fewest is how many answers a finding explains at least.
const fewest = 5

// candidate is a formula that gives several of the answers.
type candidate struct {
	level  level
	nodes  int // how long it is to think, a rewriting by its changes
	source source
	place  int32 // in its source
	own    set   // the answers that it gives
	beside set   // the answers that it misses by a digit or so
}

// source is where a candidate comes from.
type source int

const (
	fromRewrites source = iota
	fromBank
	fromMiddle
)

// decoy is a formula that gives several of the decoy's answers.
type decoy struct {
	level level
	hits  set // by answer
}

// pool is what was found of one class.
type pool struct {
	own    []candidate
	decoys []decoy
	// floor is by level what the decoys that were not kept give at the most.
	floor [levels]int
}

// best is how many of the answers that are left the decoy has given to a
// formula of a level, or of one before it.
func (p *pool) best(left set) (by [levels]int) {
	for l, n := range p.floor {
		by[l] = n
	}
	for _, d := range p.decoys {
		by[d.level] = max(by[d.level], d.hits.common(left))
	}
	for l := range by {
		if first := int(level(l).first()); l > first {
			by[l] = max(by[l], by[l-1])
		}
	}
	return by
}

// accepted says that so many answers are no chance, where the decoy's best is
// given: measured on classes of pure noise, this lets none through.
func accepted(k, decoy int) bool { return k >= fewest && k >= 2*decoy+2 }

// exact says that a formula gives its answers and does not merely come near
// them. A formula that is only like the one they come from, as many are, misses
// by a little as often as it hits. Beside the windows lies twice their length,
// so half of what is there would be hit by one that comes near, and five times
// the spread of such a count more by the luckiest of hundreds of thousands.
func exact(k, beside int) bool {
	near := float64(beside) / 2
	return k >= beside+2 && float64(k) >= near+5*math.Sqrt(near)
}

// found is a candidate that was accepted.
type found struct {
	candidate
	index int // in the pool
	decoy int
}

// with puts two pools together.
func (p pool) with(o pool) pool {
	p.own, p.decoys = append(p.own, o.own...), append(p.decoys, o.decoys...)
	for l := range p.floor {
		p.floor[l] = max(p.floor[l], o.floor[l])
	}
	return p
}

// take chooses the best candidate for the answers that are left: the one that
// gives most of them, and of those that give nearly the same ones, the
// simplest. ok is false where none is accepted.
func (p *pool) take(left set) (f found, ok bool) {
	by := p.best(left)
	var top found
	var good []found
	for i, c := range p.own {
		k := c.own.common(left)
		if d := by[c.level]; accepted(k, d) && exact(k, c.beside.common(left)) {
			f := found{candidate: c, index: i, decoy: d}
			f.own = slices.Clone(c.own)
			f.own.within(left)
			good = append(good, f)
			if top.own == nil || f.compare(top) < 0 {
				top = f
			}
		}
	}
	if top.own == nil {
		return found{}, false
	}
	best := top
	for _, f := range good {
		same := f.own.common(top.own)
		if 4*same >= 3*max(top.own.size(), f.own.size()) && f.weight() > best.weight() {
			best = f
		}
	}
	return best, true
}

// compare puts more answers first, then fewer nodes.
func (f found) compare(o found) int {
	return cmp.Or(cmp.Compare(o.own.size(), f.own.size()), cmp.Compare(f.nodes, o.nodes),
		cmp.Compare(f.source, o.source), cmp.Compare(f.place, o.place))
}

// weight is what an answer more is worth against a node more, between formulas
// that give nearly the same answers. An answer that is explained says about as
// much as two nodes' choice among what could stand there.
func (f found) weight() int { return answerWorth*f.own.size() - f.nodes }

const answerWorth = 2
