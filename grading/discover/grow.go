package discover

import (
	"context"
	"math"
	"math/rand/v2"
)

// How a bank is grown: every formula of one node more is a step on formulas
// that are there already. Of formulas that always give the same number, or the
// same with the other sign, the first stays, which is one of the smallest.

// inchMost is the largest formula that is taken in the wrong unit.
const inchMost = 4

// growth is how many times as many formulas there are at the least with each
// node more: a level that would be given up is not begun.
const growth = 3

// grower is a bank while it grows.
type grower struct {
	bank    *bank
	values  []probe
	pending [kinds]pending
	seen    hashes
	count   int // formulas, pending ones too
	most    int // formulas at the most
}

// pending is what the level that grows has of one kind so far.
type pending struct {
	forest
	values []probe
}

// grow makes the bank of a signature with all formulas of up to size nodes, or
// fewer where they would be more than most.
func grow(ctx context.Context, s signature, size, most int, progress func(float64)) (*bank, error) {
	g := grower{bank: &bank{spans: make([][kinds]span, 1)}, most: most}
	rnd := rand.New(rand.NewPCG(7, 11)) // the same blanks every time
	for i, k := range s.kinds() {
		p := invented(k, rnd)
		g.seen.add(p.hash(k))
		g.add(opSize, k, int32(i), -1, p)
	}
	g.close()
	for n := 2; n <= size && growth*len(g.values) <= most; n++ {
		if err := g.level(ctx, n); err != nil {
			return nil, err
		}
		if g.count > most {
			break
		}
		g.close()
		progress(float64(n) / float64(size))
	}
	return g.bank, nil
}

// close puts the level into the bank, kind after kind.
func (g *grower) close() {
	var level [kinds]span
	for k := range g.pending {
		p := &g.pending[k]
		level[k].from = int32(len(g.values))
		g.bank.ops, g.bank.l, g.bank.r = append(g.bank.ops, p.ops...), append(g.bank.l, p.l...), append(g.bank.r, p.r...)
		g.values = append(g.values, p.values...)
		level[k].to = int32(len(g.values))
		*p = pending{}
	}
	g.bank.spans = append(g.bank.spans, level)
}

// level adds the formulas of n nodes.
func (g *grower) level(ctx context.Context, n int) error {
	for _, s := range steps1 {
		if s.givens && n != 2 || (s.op == opFromInch || s.op == opToInch) && n > inchMost {
			continue
		}
		from := g.bank.spans[n-1][s.from]
		for i := from.from; i < from.to; i++ {
			g.try1(s, i)
		}
	}
	for _, s := range steps2 {
		for a := 1; a <= n-2; a++ {
			b := n - 1 - a
			if s.commutes && a > b {
				break
			}
			if err := g.pairs(ctx, s, a, b); err != nil {
				return err
			}
		}
	}
	return nil
}

func (g *grower) pairs(ctx context.Context, s step2, a, b int) error {
	l, r := g.bank.spans[a][s.l], g.bank.spans[b][s.r]
	for i := l.from; i < l.to; i++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		if g.count > g.most {
			return nil // the level is given up
		}
		from := r.from
		if s.commutes && a == b {
			from = i
		}
		for j := from; j < r.to; j++ {
			g.try2(s, i, j)
		}
	}
	return nil
}

func (g *grower) try1(s step1, i int32) {
	if s.op == opRoot && g.bank.ops[i] == opMul && g.bank.l[i] == g.bank.r[i] {
		return
	}
	var p probe
	for k, x := range g.values[i] {
		p[k] = total1(s.op, x)
	}
	g.keep(s.op, s.to, i, -1, p)
}

func (g *grower) try2(s step2, i, j int32) {
	var p probe
	x, y := &g.values[i], &g.values[j]
	for k := range p {
		p[k] = s.op.two(x[k], y[k])
	}
	if s.op == opApart {
		for k := range p {
			if p[k] < 1e-9*x[k] {
				return // nothing is left of it
			}
		}
	}
	g.keep(s.op, s.to, i, j, p)
}

// total1 is one, continued to where it has no value: whether the sine of some
// angle can be more than one depends on the blank, not on the formula.
func total1(o op, x float64) float64 {
	switch {
	case o == opAsin && math.Abs(x) > 1:
		return math.Copysign(90+math.Log(math.Abs(x)), x)
	case o == opAcos && math.Abs(x) > 1:
		return 90 - math.Copysign(90+math.Log(math.Abs(x)), x)
	}
	return o.one(x)
}

// keep adds a formula if it gives something new.
func (g *grower) keep(o op, to kind, l, r int32, p probe) {
	if constant(p) {
		return
	}
	if g.seen.add(p.hash(to)) {
		g.add(o, to, l, r, p)
	}
}

func (g *grower) add(o op, k kind, l, r int32, v probe) {
	p := &g.pending[k]
	p.ops, p.l, p.r, p.values = append(p.ops, o), append(p.l, l), append(p.r, r), append(p.values, v)
	g.count++
}
