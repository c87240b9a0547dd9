package discover

import (
	"math"
	"slices"

	"arrisbook/grading/formula"
)

// forest is formulas that share their parts. A formula is its last step on one
// or two formulas that stand before it.
type forest struct {
	ops []op
	// l and r are the parts, -1 for none. Of a given, l is its place among the
	// givens; of a written number, its place among the numbers.
	l, r    []int32
	numbers []float64
}

// number is the number that stands written at i.
func (f *forest) number(i int32) float64 { return f.numbers[f.l[i]] }

// leaf says that a formula has no parts.
func leaf(o op) bool { return o == opSize || o == opNumber }

// tree writes a formula out. left decides for two numbers that are so far
// apart whether the first of them is the larger one.
func (f *forest) tree(i int32, names []string, left func(i int32) bool) formula.Node {
	o := f.ops[i]
	switch {
	case o == opSize:
		return formula.Name{ID: names[f.l[i]]}
	case o == opNumber:
		return formula.Of(f.number(i))
	case !o.binary():
		return o.tree(f.tree(f.l[i], names, left), nil)
	}
	l, r := f.tree(f.l[i], names, left), f.tree(f.r[i], names, left)
	if o == opApart && !left(i) {
		l, r = r, l
	}
	return o.tree(l, r)
}

// work gives the numbers of a formula for n students.
func (f *forest) work(i int32, cols [][]float64, n int) []float64 {
	var r room
	return slices.Clone(r.work(f, i, cols, n))
}

// row works a step out for many students at once. dst may be x.
func (o op) row(dst, x, y []float64) {
	x = x[:len(dst)]
	switch o {
	case opAdd:
		y = y[:len(dst)]
		for i := range dst {
			dst[i] = x[i] + y[i]
		}
	case opSub:
		y = y[:len(dst)]
		for i := range dst {
			dst[i] = x[i] - y[i]
		}
	case opApart:
		y = y[:len(dst)]
		for i := range dst {
			dst[i] = math.Abs(x[i] - y[i])
		}
	case opMul:
		y = y[:len(dst)]
		for i := range dst {
			dst[i] = x[i] * y[i]
		}
	case opDiv:
		y = y[:len(dst)]
		for i := range dst {
			dst[i] = x[i] / y[i]
		}
	case opHypot:
		y = y[:len(dst)]
		for i := range dst {
			dst[i] = math.Sqrt(float64(x[i]*x[i]) + float64(y[i]*y[i]))
		}
	default:
		o.slowRow(dst, x, y)
	}
}

func (o op) slowRow(dst, x, y []float64) {
	if o.binary() {
		for i := range dst {
			dst[i] = o.two(x[i], y[i])
		}
		return
	}
	for i := range dst {
		dst[i] = o.one(x[i])
	}
}

// nodes counts the steps of a formula.
func (f *forest) nodes(i int32) int {
	switch o := f.ops[i]; {
	case leaf(o):
		return 1
	case o.binary():
		return 1 + f.nodes(f.l[i]) + f.nodes(f.r[i])
	}
	return 1 + f.nodes(f.l[i])
}
