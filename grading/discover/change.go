package discover

import (
	"slices"

	"arrisbook/grading/formula"
)

// What a student may do to one place of the right formula. wide tries all of
// it, with measures put in that have no business there; narrow, for a second
// change, leaves that out, or the rewritings would be without number.

func (w *rewriter) wide(n formula.Node) []formula.Node {
	return append(w.narrow(n), w.insertions(n)...)
}

func (w *rewriter) narrow(n formula.Node) []formula.Node {
	var out []formula.Node
	switch n := n.(type) {
	case formula.Name:
		out = w.otherName(n)
	case formula.Num:
		return otherNumber(n)
	case formula.Neg:
		return []formula.Node{n.X}
	case formula.Binary:
		out = otherOperation(n)
	case formula.Call:
		out = otherFunction(n)
	}
	return append(out, w.scaled(n)...)
}

// otherName takes another given or quantity of the kind.
func (w *rewriter) otherName(n formula.Name) []formula.Node {
	d, ok := w.dims[n.ID]
	if !ok {
		return nil
	}
	var out []formula.Node
	for _, id := range w.names[d] {
		if id != n.ID {
			out = append(out, formula.Name{ID: id})
		}
	}
	if d == formula.Number {
		out = append(out, formula.Op(n, '+', formula.Of(1)), formula.Op(n, '-', formula.Of(1)))
	}
	return out
}

func otherNumber(n formula.Num) []formula.Node {
	var out []formula.Node
	for _, v := range near[n.Value] {
		out = append(out, formula.Of(v))
	}
	return out
}

// near lists the numbers that are taken for one another.
var near = map[float64][]float64{
	1: {2, 0.5}, 2: {3, 4, 1}, 3: {2, 4}, 4: {2, 3}, 45: {90}, 90: {180, 45, 360}, 180: {90, 360}, 360: {180, 90},
}

func otherOperation(n formula.Binary) []formula.Node {
	out := []formula.Node{n.L, n.R}
	switch n.Op {
	case '+':
		out = append(out, formula.Op(n.L, '-', n.R), formula.Op(n.R, '-', n.L))
	case '-':
		out = append(out, formula.Op(n.L, '+', n.R), formula.Op(n.R, '-', n.L))
	case '*':
		out = append(out, formula.Op(n.L, '/', n.R), formula.Op(n.R, '/', n.L), formula.Op(n.L, '+', n.R))
	case '/':
		out = append(out, formula.Op(n.L, '*', n.R), formula.Op(n.R, '/', n.L), formula.Op(n.L, '-', n.R))
	}
	return out
}

// groups are the functions that are taken for one another.
var groups = [][]string{{"sin", "cos", "tan"}, {"asin", "acos", "atan"}}

func otherFunction(n formula.Call) []formula.Node {
	out := append([]formula.Node(nil), n.Args...)
	for _, g := range groups {
		for _, f := range g {
			if slices.Contains(g, n.Func) && f != n.Func {
				out = append(out, formula.Apply(f, n.Args...))
			}
		}
	}
	if a, b, ok := legs(n); ok {
		out = append(out, formula.Op(a, '+', b), formula.Op(a, '-', b), a, b)
	}
	return out
}

// legs are the two sides whose hypotenuse, or third side, a root is.
func legs(n formula.Call) (a, b formula.Node, ok bool) {
	if n.Func == "hypot" {
		return n.Args[0], n.Args[1], true
	}
	sum, ok := n.Args[0].(formula.Binary)
	if !ok || n.Func != "sqrt" {
		return nil, nil, false
	}
	l, okL := sum.L.(formula.Binary)
	r, okR := sum.R.(formula.Binary)
	if !okL || !okR || l.Op != '^' || r.Op != '^' {
		return nil, nil, false
	}
	return l.L, r.L, true
}

// scaled takes a measure twice or by half, an angle against the other line.
func (w *rewriter) scaled(n formula.Node) []formula.Node {
	d, err := formula.FromNode(n).Check(w.dim)
	if err != nil || d != formula.Length && d != formula.Angle {
		return nil
	}
	out := []formula.Node{formula.Op(n, '/', formula.Of(2)), formula.Op(formula.Of(2), '*', n)}
	if d == formula.Angle {
		out = append(out, formula.Op(formula.Of(90), '-', n), formula.Op(formula.Of(180), '-', n))
	}
	return out
}

// insertions add a given, take one off, or turn a length by an angle.
func (w *rewriter) insertions(n formula.Node) []formula.Node {
	d, err := formula.FromNode(n).Check(w.dim)
	if err != nil || d != formula.Length && d != formula.Angle {
		return nil
	}
	var out []formula.Node
	for _, p := range w.sizes {
		given := formula.Name{ID: p.ID}
		if w.dims[p.ID] == d {
			out = append(out, formula.Op(n, '+', given), formula.Op(n, '-', given))
		}
		if d != formula.Length || w.dims[p.ID] != formula.Angle {
			continue
		}
		for _, f := range groups[0] {
			out = append(out, formula.Op(n, '*', formula.Apply(f, given)), formula.Op(n, '/', formula.Apply(f, given)))
		}
	}
	return out
}
