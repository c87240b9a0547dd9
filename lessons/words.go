package lessons

import "arrisbook/grading/formula"

// How tightly the parts of a formula hold together, loosest first.
const (
	looseSum = iota + 1
	looseProduct
	looseSign
	loosePower
	looseAtom
)

// aloud writes a formula as it is read in a sentence: names in full, signs of
// school arithmetic, and inverse functions by what they mean. It is the text
// beside a formula for everybody whose page cannot show it, or who would rather
// read.
func aloud(n formula.Node, name func(string) string) string {
	s, _ := say(n, name)
	return s
}

func say(n formula.Node, name func(string) string) (string, int) {
	switch n := n.(type) {
	case formula.Num:
		return n.Text, looseAtom
	case formula.Name:
		if n.ID == "pi" {
			return "π", looseAtom
		}
		return name(n.ID), looseAtom
	case formula.Neg:
		return "−" + held(n.X, name, looseSign), looseSign
	case formula.Binary:
		return sayBinary(n, name)
	case formula.Call:
		return sayCall(n, name), looseAtom
	}
	return "", looseAtom
}

// held puts brackets round what holds less tightly than it must.
func held(n formula.Node, name func(string) string, atLeast int) string {
	s, tight := say(n, name)
	if tight < atLeast {
		return "(" + s + ")"
	}
	return s
}

func sayBinary(b formula.Binary, name func(string) string) (string, int) {
	switch b.Op {
	case '+':
		return held(b.L, name, looseSum) + " + " + held(b.R, name, looseProduct), looseSum
	case '-':
		return held(b.L, name, looseSum) + " − " + held(b.R, name, looseProduct), looseSum
	case '*':
		return held(b.L, name, looseProduct) + " × " + held(b.R, name, looseSign), looseProduct
	case '/':
		// Two divisions in a row are read in either order by somebody.
		return held(b.L, name, looseSign) + " ÷ " + held(b.R, name, looseSign), looseProduct
	}
	base := held(b.L, name, looseAtom)
	if two, ok := b.R.(formula.Num); ok && two.Value == 2 {
		return base + " squared", loosePower
	}
	return base + " to the power " + held(b.R, name, looseAtom), loosePower
}

// inverse says what an inverse function asks for.
var inverse = map[string]string{"asin": "sine", "acos": "cosine", "atan": "tangent"}

func sayCall(c formula.Call, name func(string) string) string {
	if len(c.Args) == 2 {
		square := func(n formula.Node) string { return held(n, name, looseAtom) + " squared" }
		return "the square root of (" + square(c.Args[0]) + " + " + square(c.Args[1]) + ")"
	}
	arg := "(" + aloud(c.Args[0], name) + ")"
	if f, ok := inverse[c.Func]; ok {
		return "the angle whose " + f + " is " + arg
	}
	if c.Func == "sqrt" {
		return "the square root of " + arg
	}
	return c.Func + arg
}
