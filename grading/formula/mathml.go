package formula

import (
	"html"
	"strings"
	"unicode/utf8"
)

// MathML prints the formula as a <math> element of MathML Core with symbols
// for the names, and the plain text as its alttext. left, when not "", is a
// name put before an equals sign. block asks for display="block".
//
// symbol gives a name's symbol, "" for none: the name itself is then written
// with its underscores as spaces. An underscore in a symbol starts a subscript
// ("L_f"); the names of Greek letters become the letters; several letters
// stand upright. symbol may be nil.
//
// The text inside reads right by itself, for whoever shows no mathematics: the
// strokes, brackets and roots that MathML draws stand in it as operators of
// class "txt", which the page hides where mathematics is shown.
func (f Formula) MathML(left string, symbol func(name string) string, block bool) string {
	if f.root == nil {
		return ""
	}
	m := mathWriter{symbol: symbol}
	if left != "" {
		m.name(left)
		m.put("<mo>=</mo>")
	}
	m.node(f.root, 0)
	alt := f.Plain()
	if left != "" {
		alt = left + " = " + alt
	}
	return mathElement(m.b.String(), alt, block)
}

func mathElement(body, alt string, block bool) string {
	open := `<math alttext="` + html.EscapeString(alt) + `">`
	if block {
		open = `<math display="block" alttext="` + html.EscapeString(alt) + `">`
	}
	return open + "<mrow>" + body + "</mrow></math>"
}

// Invisible operators: what a screen reader says between two factors and
// between a function and its argument.
const (
	invisibleTimes = "<mo>\u2062</mo>"
	applyFunction  = "<mo>\u2061</mo>"
	// Both have no width of their own. A function keeps a sixth of an em from
	// what stands beside it without brackets.
	timesFunction = `<mo lspace="0.17em" rspace="0">` + "\u2062</mo>"
	applyToSymbol = `<mo lspace="0" rspace="0.17em">` + "\u2061</mo>"
)

type mathWriter struct {
	b      strings.Builder
	symbol func(string) string
	// inside counts the fractions around; one inside another is written on the
	// line, or nobody could read it.
	inside int
}

func (m *mathWriter) put(s string) { m.b.WriteString(s) }

// node writes n, in brackets when it binds less than least.
func (m *mathWriter) node(n Node, least int) {
	fenced := binding(n) < least && !m.stacked(n)
	if fenced {
		m.put("<mrow><mo>(</mo>")
		defer m.put("<mo>)</mo></mrow>")
	}
	switch n := n.(type) {
	case Num:
		m.put("<mn>" + html.EscapeString(numberText(n)) + "</mn>")
	case Name:
		m.name(n.ID)
	case Neg:
		m.put("<mo>−</mo>")
		m.node(n.X, bindPower)
	case Binary:
		m.binary(n)
	case Call:
		m.call(n)
	}
}

// stacked says that n is a fraction with a bar, which needs no brackets.
func (m *mathWriter) stacked(n Node) bool { return isFraction(n) && m.inside == 0 }

func isFraction(n Node) bool {
	b, ok := n.(Binary)
	return ok && b.Op == '/'
}

// one writes n as exactly one element, as fractions and powers need it.
func (m *mathWriter) one(n Node) {
	switch n.(type) {
	case Num, Name:
		m.node(n, 0)
	default:
		m.put("<mrow>")
		m.node(n, 0)
		m.put("</mrow>")
	}
}

func (m *mathWriter) binary(n Binary) {
	left, right := sides(n)
	switch n.Op {
	case '/':
		m.quotient(n)
	case '^':
		m.put("<msup>")
		m.base(n.L)
		m.part("^", n.R, bindWhole)
		m.put("</msup>")
	case '*':
		m.node(n.L, left)
		m.put(m.times(n.L, n.R))
		m.node(n.R, right)
	default:
		m.node(n.L, left)
		m.put("<mo>" + map[byte]string{'+': "+", '-': "−"}[n.Op] + "</mo>")
		m.node(n.R, right)
	}
}

func (m *mathWriter) quotient(n Binary) {
	if m.inside > 0 {
		left, right := sides(n)
		m.node(n.L, left)
		m.put("<mo>/</mo>")
		m.node(n.R, right)
		return
	}
	m.inside++
	m.put("<mfrac>")
	m.part("", n.L, bindProduct)
	m.part("/", n.R, bindPower)
	m.put("</mfrac>")
	m.inside--
}

// unseen is an operator that only the text shows.
func unseen(s string) string { return `<mo class="txt">` + s + "</mo>" }

// part writes n as exactly one element with a sign before it that only the
// text shows; brackets come with it where n binds less than least.
func (m *mathWriter) part(sign string, n Node, least int) {
	fenced := binding(n) < least
	if !fenced && sign == "" {
		m.one(n)
		return
	}
	after := ""
	if fenced {
		sign, after = sign+"(", unseen(")")
	}
	m.put("<mrow>" + unseen(sign))
	m.node(n, 0)
	m.put(after + "</mrow>")
}

// base writes what a power stands on: only a number or a name goes without
// brackets.
func (m *mathWriter) base(n Node) {
	switch n.(type) {
	case Num, Name:
		m.one(n)
	default:
		m.put("<mrow><mo>(</mo>")
		m.node(n, 0)
		m.put("<mo>)</mo></mrow>")
	}
}

// times is the sign between two factors: none before a bracket, a function or
// a one-letter symbol, a cross before numbers, fractions and whole words.
func (m *mathWriter) times(l, r Node) string {
	if m.isWord(lastFactor(l)) || m.isWord(r) || m.stacked(l) || m.stacked(r) {
		return "<mo>×</mo>"
	}
	switch r := r.(type) {
	case Num:
		return "<mo>×</mo>"
	case Binary:
		if _, number := r.L.(Num); number && r.Op == '^' {
			return "<mo>×</mo>"
		}
	case Call:
		if r.Func != "sqrt" && r.Func != "hypot" {
			return timesFunction
		}
	}
	return invisibleTimes
}

func lastFactor(n Node) Node {
	if b, ok := n.(Binary); ok && b.Op == '*' {
		return b.R
	}
	return n
}

// isWord says that a name is written with several letters.
func (m *mathWriter) isWord(n Node) bool {
	name, ok := n.(Name)
	if !ok {
		return false
	}
	main, _ := split(m.symbolOf(name.ID))
	return utf8.RuneCountInString(main) > 1
}

func (m *mathWriter) call(n Call) {
	switch n.Func {
	case "sqrt":
		m.root(n.Args[0])
	case "hypot":
		m.root(Op(Op(n.Args[0], '^', Of(2)), '+', Op(n.Args[1], '^', Of(2))))
	default:
		m.put("<mi>" + printedFunction(n.Func) + "</mi>")
		m.argument(n)
	}
}

func (m *mathWriter) root(n Node) {
	m.put("<msqrt>" + unseen("√("))
	m.node(n, 0)
	m.put(unseen(")") + "</msqrt>")
}

// printedFunction is the name by ISO 80000-2, which Parse reads as well.
func printedFunction(fn string) string {
	if fn[0] == 'a' {
		return "arc" + fn[1:]
	}
	return fn
}

// argument goes without brackets when it is one symbol or number; a number of
// degrees gets its sign.
func (m *mathWriter) argument(n Call) {
	switch x := n.Args[0].(type) {
	case Num:
		m.put(applyToSymbol)
		m.node(x, 0)
		if n.Func[0] != 'a' {
			m.put("<mo lspace=\"0\" rspace=\"0\">°</mo>")
		}
	case Name:
		m.put(applyToSymbol)
		m.node(x, 0)
	default:
		m.put(applyFunction + "<mrow><mo>(</mo>")
		m.node(x, 0)
		m.put("<mo>)</mo></mrow>")
	}
}
