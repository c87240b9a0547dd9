package discover

import (
	"cmp"
	"context"
	"slices"
)

// Formulas larger than those of the bank are met in the middle: two of the bank
// put together by one more step, under a last step or two on one number. There
// are millions, so they are not all tried. An answer says what the second part
// must be once the first is known, and the parts that are so on one student's
// blank, the anchor's, are few; only those are tried on everyone. A formula
// that several students share is met as soon as one of them is the anchor.

const (
	// largestPart is the most nodes of a part, mostParts how many there may be.
	largestPart, mostParts = 6, 80_000
	// mostBeyond is how many nodes beyond the bank's the whole may have.
	mostBeyond = 2
	// mostAnchors bounds the students taken as anchors.
	mostAnchors = 20
	// mostMet bounds the students that the parts are worked out for.
	mostMet = 64
	// mostPairs bounds what one anchor may bring.
	mostPairs = 400_000
	// mostMetKept bounds what is looked at closely.
	mostMetKept = 400
	// fewestMet is how many of a sample a formula gives at the least, and how
	// many of the decoy's answers at the least.
	fewestMet, fewestDecoy = 4, 2
)

// meeting is the search in the middle on one class.
type meeting struct {
	*bank
	c    *class
	s    screener
	most int // nodes of the bank's largest formulas
	part int // nodes of the largest parts
	// least is how many answers are worth keeping a formula for.
	least int
	// own and decoys are what was found for the answers and for the decoy, with
	// how many of them it gives.
	own, decoys []met
	seen        map[joined]bool
	sorted      map[listed][]atAnchor // at the anchor that is tried
	pairs       [2]int                // that the anchor brought, for each
	windows     []window              // of the ending that is tried
	squared     []window
}

// met is a formula with how many answers it gives.
type met struct {
	joined
	answers int
}

// best lists those that give most answers, mostMetKept at the most.
func best(all []met) []met {
	slices.SortStableFunc(all, func(x, y met) int { return cmp.Compare(y.answers, x.answers) })
	return all[:min(len(all), mostMetKept)]
}

// meet finds the formulas in the middle that give several answers.
func (b *bank) meet(ctx context.Context, c *class, asked kind, progress func(float64)) (own, decoys []met, err error) {
	least := fewest
	if c.n > mostMet {
		c, least = c.pick(spread(c.n, mostMet, nil)), fewestMet
	}
	m := meeting{bank: b, c: c, least: least, most: len(b.spans) - 1, part: b.largestPart(), seen: map[joined]bool{}}
	m.s = screener{plan: b.partsPlan(), c: c}
	m.s.values = make([]float64, len(m.s.parts)*c.n)
	m.s.start(c)
	anchors := spread(c.n, min(mostAnchors, c.n-fewest+1), nil)
	for k, anchor := range anchors {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		progress(float64(k) / float64(len(anchors)))
		m.sorted, m.pairs = map[listed][]atAnchor{}, [2]int{}
		for _, e := range endings(asked) {
			m.end(e, anchor)
		}
	}
	return best(m.own), best(m.decoys), nil
}

// largestPart is how many nodes the parts may have, so that they are not too
// many.
func (b *bank) largestPart() int {
	size := min(largestPart, len(b.spans)-1)
	for size > 1 && b.spans[size][kinds-1].to > mostParts {
		size--
	}
	return size
}

// partsPlan works out every formula that may be a part.
func (b *bank) partsPlan() *plan {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.whole == nil {
		p := &plan{forest: &b.forest, row: make([]int32, b.spans[b.largestPart()][kinds-1].to)}
		for i := range p.row {
			p.row[i] = int32(i)
			p.parts = append(p.parts, int32(i))
		}
		b.whole = p
	}
	return b.whole
}

// end tries all formulas with one ending.
func (m *meeting) end(e ending, anchor int) {
	c := *m.c
	for _, o := range e.steps() {
		if c.windows = c.before(o); c.windows == nil {
			return
		}
	}
	m.windows, m.squared = c.windows, c.before(opRoot)
	w := m.windows[anchor]
	for _, s := range steps2 {
		if s.to != e.from {
			continue
		}
		for a := 1; a <= m.part; a++ {
			for b := 1; b <= m.part; b++ {
				if beyond := a + b + 1 + len(e.steps()) - m.most; beyond < 1 || beyond > mostBeyond || s.commutes && a > b {
					continue
				}
				m.step(s, a, b, e, anchor, 0, stretchOf(w.mid, w.reach))
				m.step(s, a, b, e, anchor, 1, stretchOf(w.decoyMid, w.decoyReach))
			}
		}
	}
}

// step meets parts of a and b nodes whose step gives a number of a stretch on
// the anchor's blank. whose is 0 for the answers and 1 for the decoy's.
func (m *meeting) step(s step2, a, b int, e ending, anchor, whose int, w stretchOfNumbers) {
	if w.hi < w.lo {
		return
	}
	l, r := m.spans[a][s.l], m.spans[b][s.r]
	longRight := r.to-r.from >= l.to-l.from
	short, long := l, m.list(b, s.r, anchor)
	if !longRight {
		short, long = r, m.list(a, s.l, anchor)
	}
	for i := short.from; i < short.to; i++ {
		known := m.s.rowOf(i)[anchor]
		for _, need := range needed(s.op, known, longRight, w) {
			// One step of single precision to either side, and nothing is missed.
			from, _ := slices.BinarySearch(long, atAnchor(ordered(need.lo)-1)<<32)
			last := atAnchor(ordered(need.hi)+2) << 32
			for _, x := range long[from:] {
				if x >= last {
					break
				}
				if m.pairs[whose]++; m.pairs[whose] > mostPairs {
					return
				}
				if longRight {
					m.try(joined{s.op, i, x.formula(), e})
				} else {
					m.try(joined{s.op, x.formula(), i, e})
				}
			}
		}
	}
}

// try tries two parts on everyone and keeps what gives several answers.
func (m *meeting) try(j joined) {
	own, decoy := hitsOf(j.op, m.s.rowOf(j.l), m.s.rowOf(j.r), m.windows, m.squared)
	if own < m.least && decoy < fewestDecoy {
		return
	}
	if m.seen[j] {
		return
	}
	m.seen[j] = true
	if own >= m.least {
		m.own = append(m.own, met{j, own})
	}
	if decoy >= fewestDecoy {
		m.decoys = append(m.decoys, met{j, decoy})
	}
}
