package grading

import (
	"arrisbook/grading/formula"
)

// The patterns that change an operator or a function at one place of the tree.

// one place: edits gives every tree that comes of changing one node; change
// returns replacements with their details.
type replacement struct {
	node   formula.Node
	detail string
}

func edits(root formula.Node, change func(formula.Node) []replacement) []variant {
	var details []string
	trees := formula.Variants(root, func(n formula.Node) []formula.Node {
		var out []formula.Node
		for _, r := range change(n) {
			out, details = append(out, r.node), append(details, r.detail)
		}
		return out
	})
	// Variants asks for a node's replacements before it goes into its parts, and
	// gives the trees in the same order, so the details run beside them.
	vs := make([]variant, len(trees))
	for i, t := range trees {
		vs[i] = variant{tree: t, detail: details[i]}
	}
	return vs
}

func isNum(n formula.Node, v float64) bool {
	x, ok := n.(formula.Num)
	return ok && x.Value == v
}

func binary(n formula.Node, op byte) (l, r formula.Node, ok bool) {
	b, ok := n.(formula.Binary)
	if !ok || b.Op != op {
		return nil, nil, false
	}
	return b.L, b.R, true
}

func call(n formula.Node, name string) (arg formula.Node, ok bool) {
	c, ok := n.(formula.Call)
	if !ok || c.Func != name || len(c.Args) != 1 {
		return nil, false
	}
	return c.Args[0], true
}

// halved gives what a node takes half of.
func halved(n formula.Node) (whole formula.Node, ok bool) {
	if l, r, ok := binary(n, '/'); ok && isNum(r, 2) {
		return l, true
	}
	return factor(n, 0.5)
}

// factor gives the rest of a product with the number v in it.
func factor(n formula.Node, v float64) (rest formula.Node, ok bool) {
	l, r, ok := binary(n, '*')
	switch {
	case !ok:
		return nil, false
	case isNum(l, v):
		return r, true
	case isNum(r, v):
		return l, true
	}
	return nil, false
}

func halfForgotten(_ subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		if whole, ok := halved(n); ok {
			return []replacement{{whole, printed(whole)}}
		}
		// a/(2*b): the half stands in the divisor.
		if l, r, ok := binary(n, '/'); ok {
			if rest, ok := factor(r, 2); ok {
				return []replacement{{formula.Op(l, '/', rest), printed(l)}}
			}
		}
		return nil
	})
}

func halvedTwice(_ subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		if whole, ok := halved(n); ok {
			return []replacement{{formula.Op(whole, '/', formula.Of(4)), printed(whole)}}
		}
		return nil
	})
}

// printed is a part of a formula as a detail shows it.
func printed(n formula.Node) string { return formula.FromNode(n).Plain() }

func ratioInverted(_ subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		l, r, ok := binary(n, '/')
		if !ok || isWritten(r) || isWritten(l) && !isNum(l, 1) {
			return nil // half of something is no ratio; one in eight is
		}
		return []replacement{{formula.Op(r, '/', l), printed(r) + " over " + printed(l)}}
	})
}

func factorInverted(_ subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		if l, r, ok := binary(n, '/'); ok {
			return []replacement{{formula.Op(l, '*', r), "times " + printed(r)}}
		}
		if l, r, ok := binary(n, '*'); ok {
			return []replacement{
				{formula.Op(l, '/', r), "divided by " + printed(r)},
				{formula.Op(r, '/', l), "divided by " + printed(l)},
			}
		}
		return nil
	})
}

// inverseMissing stops at the ratio: the last step, from the ratio to its
// angle, is left out.
func inverseMissing(q subject, root formula.Node) []variant {
	if !q.angle() {
		return nil
	}
	for _, f := range []string{"asin", "acos", "atan"} {
		if arg, ok := call(root, f); ok {
			return one1(arg, f)
		}
	}
	return nil
}

var (
	ratios   = []string{"sin", "cos", "tan"}
	inverses = []string{"asin", "acos", "atan"}
)

func wrongFunction(_ subject, root formula.Node) []variant {
	many := map[string]int{}
	eachCall(root, func(c formula.Call) { many[c.Func]++ })
	return edits(root, func(n formula.Node) []replacement {
		c, ok := n.(formula.Call)
		if !ok || len(c.Args) != 1 {
			return nil
		}
		var out []replacement
		for _, group := range [][]string{ratios, inverses} {
			if !contains(group, c.Func) {
				continue
			}
			for _, f := range group {
				if f != c.Func {
					out = append(out, replacement{formula.Apply(f, c.Args[0]), callDetail(f, c, many[c.Func])})
				}
			}
		}
		return out
	})
}

// callDetail says which function for which, and of what where the formula has
// it more than once.
func callDetail(taken string, c formula.Call, many int) string {
	s := taken + " for " + c.Func
	if many > 1 {
		s += " of " + printed(c.Args[0])
	}
	return s
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// eachCall visits every function call of a tree.
func eachCall(n formula.Node, visit func(formula.Call)) {
	switch n := n.(type) {
	case formula.Neg:
		eachCall(n.X, visit)
	case formula.Binary:
		eachCall(n.L, visit)
		eachCall(n.R, visit)
	case formula.Call:
		visit(n)
		for _, a := range n.Args {
			eachCall(a, visit)
		}
	}
}

// eachName visits every name of a tree, each as often as it occurs.
func eachName(n formula.Node, visit func(id string)) {
	switch n := n.(type) {
	case formula.Name:
		visit(n.ID)
	case formula.Neg:
		eachName(n.X, visit)
	case formula.Binary:
		eachName(n.L, visit)
		eachName(n.R, visit)
	case formula.Call:
		for _, a := range n.Args {
			eachName(a, visit)
		}
	}
}

func signFlipped(_ subject, root formula.Node) []variant {
	vs := edits(root, func(n formula.Node) []replacement {
		if l, r, ok := binary(n, '+'); ok {
			return []replacement{{formula.Op(l, '-', r), "minus " + printed(r)}}
		}
		if l, r, ok := binary(n, '-'); ok {
			return []replacement{{formula.Op(l, '+', r), "plus " + printed(r)}}
		}
		if x, ok := n.(formula.Neg); ok {
			return []replacement{{x.X, "plus " + printed(x.X)}}
		}
		return nil
	})
	return append(vs, variant{tree: formula.Neg{X: root}, detail: "the whole"})
}

// slopeForRun takes a length along a slope for its run, or the reverse.
func slopeForRun(_ subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		switch n := n.(type) {
		case formula.Binary:
			return slopeInProduct(n)
		case formula.Call:
			return slopeInCall(n)
		}
		return nil
	})
}

func slopeInProduct(n formula.Binary) []replacement {
	if n.Op == '/' || n.Op == '*' {
		if _, ok := call(n.R, "cos"); ok {
			return []replacement{{n.L, printed(n.L) + " as it is"}}
		}
	}
	if n.Op == '*' {
		if _, ok := call(n.L, "cos"); ok {
			return []replacement{{n.R, printed(n.R) + " as it is"}}
		}
	}
	return nil
}

func slopeInCall(n formula.Call) []replacement {
	switch n.Func {
	case "tan":
		return []replacement{{formula.Apply("sin", n.Args[0]), "sin for tan"}}
	case "sin":
		return []replacement{{formula.Apply("tan", n.Args[0]), "tan for sin"}}
	case "hypot":
		return legs(n.Args[0], n.Args[1])
	case "sqrt":
		sum, ok := n.Args[0].(formula.Binary)
		if !ok {
			return nil
		}
		a, okA := squared(sum.L)
		b, okB := squared(sum.R)
		switch {
		case !okA || !okB:
			return nil
		case sum.Op == '+':
			return legs(a, b)
		case sum.Op == '-':
			return []replacement{{a, printed(a) + " as it is"}}
		}
	}
	return nil
}

func legs(a, b formula.Node) []replacement {
	return []replacement{{a, printed(a) + " as it is"}, {b, printed(b) + " as it is"}}
}

func squared(n formula.Node) (base formula.Node, ok bool) {
	l, r, ok := binary(n, '^')
	if ok && isNum(r, 2) {
		return l, true
	}
	return nil, false
}

// rootOfSquares gives a and b of sqrt(a^2 + b^2) or hypot(a, b).
func rootOfSquares(n formula.Node) (a, b formula.Node, ok bool) {
	c, ok := n.(formula.Call)
	switch {
	case !ok:
		return nil, nil, false
	case c.Func == "hypot" && len(c.Args) == 2:
		return c.Args[0], c.Args[1], true
	case c.Func != "sqrt" || len(c.Args) != 1:
		return nil, nil, false
	}
	l, r, ok := binary(c.Args[0], '+')
	if !ok {
		return nil, nil, false
	}
	a, okA := squared(l)
	b, okB := squared(r)
	return a, b, okA && okB
}

// slopesCombined takes two slopes together the wrong way: as the two legs of a
// right angle for the line that has both, a*b/hypot(a, b), or the reverse.
func slopesCombined(q subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		if l, r, ok := binary(n, '/'); ok {
			a, b, okRoot := rootOfSquares(r)
			x, y, okProduct := binary(l, '*')
			if okRoot && okProduct && (alike(a, x) && alike(b, y) || alike(a, y) && alike(b, x)) {
				return []replacement{{r, "hypot"}}
			}
		}
		a, b, ok := rootOfSquares(n)
		if !ok || !q.number(a) || !q.number(b) {
			return nil
		}
		return []replacement{{formula.Op(formula.Op(a, '*', b), '/', n), "harmonic"}}
	})
}

// number says that a part of the formula is a plain number, as a slope is.
func (q subject) number(n formula.Node) bool {
	d, err := formula.FromNode(n).Check(q.m.dims)
	return err == nil && d == formula.Number
}

func alike(a, b formula.Node) bool { return formula.FromNode(a).Equal(formula.FromNode(b)) }

// addedForMultiplied adds where numbers belong together as a product. Written
// constants are left out: nobody takes two away for half of something.
func addedForMultiplied(_ subject, root formula.Node) []variant {
	return edits(root, func(n formula.Node) []replacement {
		if a, b, ok := rootOfSquares(n); ok {
			return []replacement{{formula.Op(a, '+', b), printed(a) + " + " + printed(b)}}
		}
		b, ok := n.(formula.Binary)
		if !ok || isWritten(b.L) || isWritten(b.R) {
			return nil
		}
		switch b.Op {
		case '/':
			return []replacement{{formula.Op(b.L, '-', b.R), printed(b.L) + " - " + printed(b.R)}}
		case '*':
			return []replacement{{formula.Op(b.L, '+', b.R), printed(b.L) + " + " + printed(b.R)}}
		}
		return nil
	})
}

// isWritten says that a part of a formula is a number written in it.
func isWritten(n formula.Node) bool {
	_, ok := n.(formula.Num)
	return ok
}

// radianMode is a calculator set to radians: every function of an angle takes
// the degrees for radians, every angle comes out in radians.
func radianMode(_ subject, root formula.Node) []variant {
	tree, changed := inRadians(root)
	if !changed {
		return nil
	}
	return one1(tree, "")
}

func inRadians(n formula.Node) (formula.Node, bool) {
	switch n := n.(type) {
	case formula.Neg:
		x, ok := inRadians(n.X)
		return formula.Neg{X: x}, ok
	case formula.Binary:
		l, okL := inRadians(n.L)
		r, okR := inRadians(n.R)
		return formula.Op(l, n.Op, r), okL || okR
	case formula.Call:
		return callInRadians(n)
	}
	return n, false
}

func callInRadians(c formula.Call) (formula.Node, bool) {
	args, changed := make([]formula.Node, len(c.Args)), false
	for i, a := range c.Args {
		x, ok := inRadians(a)
		args[i], changed = x, changed || ok
	}
	perRadian := formula.Op(formula.Of(180), '/', formula.Name{ID: "pi"})
	switch {
	case contains(ratios, c.Func):
		return formula.Apply(c.Func, formula.Op(args[0], '*', perRadian)), true
	case contains(inverses, c.Func):
		return formula.Op(formula.Apply(c.Func, args[0]), '/', perRadian), true
	}
	return formula.Apply(c.Func, args...), changed
}

// roundedEarly rounds one length or angle on the way to a whole number.
func roundedEarly(q subject, root formula.Node) []variant {
	outermost := true
	return edits(root, func(n formula.Node) []replacement {
		if outermost { // the answer itself is no intermediate
			outermost = false
			return nil
		}
		if name, ok := n.(formula.Name); ok {
			if s, ok := q.m.slots[name.ID]; !ok || s < q.m.givens {
				return nil // a given is not worked out
			}
		}
		if _, ok := n.(formula.Num); ok {
			return nil
		}
		d, err := formula.FromNode(n).Check(q.m.dims)
		if err != nil || d != formula.Length && d != formula.Angle {
			return nil
		}
		return []replacement{{formula.Apply("round", n), printed(n)}}
	})
}
