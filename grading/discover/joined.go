package discover

import (
	"context"
	"slices"

	"arrisbook/grading/formula"
)

// joined is a formula of two parts.
type joined struct {
	op     op
	l, r   int32
	ending ending
}

// middle looks for formulas that are larger than those of the bank.
func (h *hunt) middle(ctx context.Context, progress func(float64)) (p pool, err error) {
	b, class := h.all, h.class.over(h.places)
	own, decoys, err := b.meet(ctx, class, kindOfUnit(h.measure.Unit), progress)
	if err != nil {
		return p, err
	}
	for _, m := range own {
		j := m.joined
		c := candidate{level: b.beyond(j), nodes: b.nodesOf(j), source: fromMiddle, place: int32(len(h.met))}
		var ok bool
		if c.own, ok = b.shared(j, class, 0, (*window).holds); ok && c.own.size() >= fewest {
			c.beside, _ = b.shared(j, class, 0, (*window).beside)
			p.own, h.met = append(p.own, c), append(h.met, j)
		}
	}
	for _, m := range decoys {
		j := m.joined
		if hits, ok := b.shared(j, class, 1, (*window).decoyHolds); ok {
			p.decoys = append(p.decoys, decoy{level: b.beyond(j), hits: hits})
		}
	}
	return p, nil
}

// shared gives whose answers a formula gives; of the decoy's, those of the
// student so many places on. ok is false where it gives everybody the same
// number.
func (b *bank) shared(j joined, c *class, on int, holds func(*window, float64) bool) (hits set, ok bool) {
	numbers := b.workJoined(j, c)
	hits = newSet(c.n)
	for i, v := range numbers {
		if holds(&c.windows[i], v) {
			hits.add((i + on) % c.n)
		}
	}
	return hits, !uniform(numbers)
}

func (b *bank) workJoined(j joined, c *class) []float64 {
	out := b.work(j.l, c.cols, c.n)
	j.op.row(out, out, b.work(j.r, c.cols, c.n))
	for _, o := range slices.Backward(j.ending.steps()) {
		o.row(out, out, nil)
	}
	return out
}

func (b *bank) nodesOf(j joined) int {
	return b.nodes(j.l) + b.nodes(j.r) + 1 + len(j.ending.steps())
}

// beyond is the level of a formula in the middle.
func (b *bank) beyond(j joined) level { return middle + level(b.nodesOf(j)-(len(b.spans)-1)) }

// writeJoined writes a formula of two parts out, as it is for those students.
func (h *hunt) writeJoined(j joined, who []int, c *class) formula.Formula {
	larger := h.larger(who, c)
	l, r := h.bank.tree(j.l, h.names, larger), h.bank.tree(j.r, h.names, larger)
	if j.op == opApart && !mostly(h.bank.work(j.l, c.cols, c.n), h.bank.work(j.r, c.cols, c.n), who) {
		l, r = r, l
	}
	n := j.op.tree(l, r)
	for _, o := range slices.Backward(j.ending.steps()) {
		n = o.tree(n, nil)
	}
	return formula.FromNode(n).Simplify()
}
