package grading

import (
	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// comparison holds working against the right formula, tree against tree: a
// number of the working stands for a size, or for a part of the formula that
// was worked out beforehand (18 for v_width/2).
type comparison struct {
	j     *judge
	scale float64 // millimetres in one of the working's lengths
}

// compare counts the numbers that are not what they stand for. ok is false
// where the shape differs. Sums and products may stand either way round.
func (c comparison) compare(written, right formula.Node) (wrong int, ok bool) {
	switch w := written.(type) {
	case formula.Num:
		return c.leaf(w.Value, right)
	case formula.Name:
		if r, isName := right.(formula.Name); isName && r.ID == w.ID {
			return 0, true
		}
		v, known := c.j.named(w.ID)
		if !known {
			return 0, false
		}
		return c.leaf(v/c.per(w), right)
	case formula.Neg:
		if r, isNeg := right.(formula.Neg); isNeg {
			return c.compare(w.X, r.X)
		}
	case formula.Binary:
		r, isBinary := right.(formula.Binary)
		if !isBinary || r.Op != w.Op {
			return 0, false
		}
		wrong, ok = c.both(w.L, r.L, w.R, r.R)
		if w.Op == '+' || w.Op == '*' {
			if other, okOther := c.both(w.L, r.R, w.R, r.L); okOther && (!ok || other < wrong) {
				return other, true
			}
		}
		return wrong, ok
	case formula.Call:
		r, isCall := right.(formula.Call)
		if !isCall || r.Func != w.Func || len(r.Args) != len(w.Args) {
			return 0, false
		}
		for i := range w.Args {
			n, okArg := c.compare(w.Args[i], r.Args[i])
			if !okArg {
				return 0, false
			}
			wrong += n
		}
		return wrong, true
	}
	return 0, false
}

func (c comparison) both(w1, r1, w2, r2 formula.Node) (int, bool) {
	a, okA := c.compare(w1, r1)
	b, okB := c.compare(w2, r2)
	return a + b, okA && okB
}

// leaf holds a number against the part of the formula that it stands for. A
// part with a function of an angle in it is too much to be one number's slip.
func (c comparison) leaf(v float64, right formula.Node) (wrong int, ok bool) {
	prog, err := compile(right, c.j.m.slot)
	if err != nil {
		return 0, false
	}
	if want := prog.run(c.j.right) / c.per(right); same(v, want) {
		return 0, true
	}
	calls := 0
	eachCall(right, func(formula.Call) { calls++ })
	return 1, calls == 0
}

// per is the working's unit of length where a part of a formula is a length.
func (c comparison) per(n formula.Node) float64 {
	d, err := formula.FromNode(n).Check(c.j.m.dims)
	if err == nil && d == DimOf(joint.MM) {
		return c.scale
	}
	return 1
}
