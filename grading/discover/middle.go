package discover

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Formulas larger than those of the bank are met in the middle: two of the bank
// put together by one more step, under a last step or two on one number. There
// are millions, so they are not all tried. An answer says what the second part
// must be once the first is known, and the parts that are so on one student's
// blank, the anchor's, are few; only those are tried on everyone. A formula
// that several students share is met as soon as one of them is the anchor.

const (
	// largestPart is the most nodes of a part.
	largestPart = 6
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

// ending is the last steps on one number, the last first, and the kind of the
// number that they start from.
type ending struct {
	ops  [2]op // opSize for none
	from kind
}

// steps lists the steps there are.
func (e ending) steps() []op {
	for i, o := range e.ops {
		if o == opSize {
			return e.ops[:i]
		}
	}
	return e.ops[:]
}

// endings lists how a formula of a kind may end.
func endings(asked kind) []ending {
	out := []ending{{from: asked}}
	switch asked {
	case length:
		out = append(out, ending{[2]op{opHalf}, length}, ending{[2]op{opDouble}, length})
	case angle:
		out = append(out, ending{[2]op{opComplement}, angle})
		for _, o := range []op{opAtan, opAsin, opAcos} {
			for _, k := range []kind{ratio, plain} {
				out = append(out, ending{[2]op{o}, k}, ending{[2]op{opComplement, o}, k})
			}
		}
	}
	return out
}

// joined is a formula of two parts.
type joined struct {
	op     op
	l, r   int32
	ending ending
}

// meeting is the search in the middle on one class.
type meeting struct {
	*bank
	c    *class
	s    screener
	most int // nodes of the bank's largest formulas
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

// listed is the formulas of a size and kind.
type listed struct {
	size int
	kind kind
}

// atAnchor is a formula with its number on the anchor's blank, in single
// precision: packed so that plain numbers are sorted, and in the order of the
// formulas' numbers. What is found by it is tried exactly.
type atAnchor uint64

func pack(v float64, i int32) atAnchor { return atAnchor(ordered(v))<<32 | atAnchor(uint32(i)) }

func (a atAnchor) formula() int32 { return int32(uint32(a)) }

// ordered maps numbers to whole ones in the same order.
func ordered(v float64) uint32 {
	b := math.Float32bits(float32(v))
	if b>>31 == 1 {
		return ^b
	}
	return b | 1<<31
}

// meet finds the formulas in the middle that give several answers.
func (b *bank) meet(ctx context.Context, c *class, asked kind, progress func(float64)) (own, decoys []met, err error) {
	least := fewest
	if c.n > mostMet {
		c, least = c.pick(spread(c.n, mostMet, nil)), fewestMet
	}
	m := meeting{bank: b, c: c, least: least, most: len(b.spans) - 1, seen: map[joined]bool{}}
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

// partsPlan works out every formula that may be a part.
func (b *bank) partsPlan() *plan {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.whole == nil {
		last := b.spans[min(largestPart, len(b.spans)-1)]
		p := &plan{forest: &b.forest, row: make([]int32, last[kinds-1].to)}
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
		for a := 1; a <= largestPart; a++ {
			for b := 1; b <= largestPart; b++ {
				if beyond := a + b + 1 + len(e.steps()) - m.most; beyond < 1 || beyond > mostBeyond || s.commutes && a > b {
					continue
				}
				m.step(s, a, b, e, anchor, 0, stretchOf(w.mid, w.reach))
				m.step(s, a, b, e, anchor, 1, stretchOf(w.decoyMid, w.decoyReach))
			}
		}
	}
}

type stretchOfNumbers struct{ lo, hi float64 }

func stretchOf(mid, reach float64) stretchOfNumbers {
	if reach < 0 {
		return stretchOfNumbers{1, 0}
	}
	half := math.Sqrt(reach)
	return stretchOfNumbers{mid - half, mid + half}
}

// step meets parts of a and b nodes whose step gives a number of a stretch on
// the anchor's blank. whose is 0 for the answers and 1 for the decoy's.
func (m *meeting) step(s step2, a, b int, e ending, anchor, whose int, w stretchOfNumbers) {
	if w.hi < w.lo {
		return
	}
	l, r := m.spans[min(a, m.most)][s.l], m.spans[min(b, m.most)][s.r]
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

// list sorts the formulas of a size and kind by their numbers at the anchor.
func (m *meeting) list(size int, k kind, anchor int) []atAnchor {
	key := listed{size, k}
	if list, ok := m.sorted[key]; ok {
		return list
	}
	span := m.spans[min(size, m.most)][k]
	list := make([]atAnchor, 0, span.to-span.from)
	for i := span.from; i < span.to; i++ {
		if v := m.s.rowOf(i)[anchor]; !math.IsNaN(v) {
			list = append(list, pack(v, i))
		}
	}
	slices.Sort(list)
	m.sorted[key] = list
	return list
}

// needed tells what one part of a step must be where the other is known: the
// left one where the one that is sought stands right.
func needed(o op, known float64, right bool, w stretchOfNumbers) []stretchOfNumbers {
	switch o {
	case opAdd:
		return []stretchOfNumbers{{w.lo - known, w.hi - known}}
	case opApart:
		return []stretchOfNumbers{{known - w.hi, known - w.lo}, {known + w.lo, known + w.hi}}
	case opHypot:
		if hi := float64(w.hi*w.hi) - float64(known*known); hi >= 0 {
			return []stretchOfNumbers{{math.Sqrt(max(0, float64(w.lo*w.lo)-float64(known*known))), math.Sqrt(hi)}}
		}
	case opMul:
		if known > 0 {
			return []stretchOfNumbers{{w.lo / known, w.hi / known}}
		}
	case opDiv:
		switch {
		case !right && known > 0:
			return []stretchOfNumbers{{w.lo * known, w.hi * known}}
		case right && known > 0 && w.lo > 0:
			return []stretchOfNumbers{{known / w.hi, known / w.lo}}
		case right && known > 0 && w.hi > 0:
			return []stretchOfNumbers{{known / w.hi, math.MaxFloat32}}
		}
	}
	return nil
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
