package formula

import "strings"

// Parse reads a formula. Errors are *Error.
//
// Beside the plain form it takes what people type when they show their
// working: × ÷ · − √ π and raised digits, a degree sign or "mm" after a
// number (read over), an equals sign in front, capital letters, square
// brackets, arctan or tan⁻¹ for atan, and a function followed by one bare
// number or name ("40/cos 10"). What could be taken in two ways is refused.
//
// The operators bind as in mathematics: ^ first, from the right, so that
// 2^3^2 is 2^9; then the sign, so that -3^2 is -9; then * and /, then + and -,
// from the left.
func Parse(src string) (Formula, error) {
	src = strings.TrimSpace(src)
	root, err := parse(src)
	if err != nil {
		return Formula{}, err
	}
	return Formula{root: root, src: src}, nil
}

func parse(src string) (Node, error) {
	tokens, err := lex(src)
	if err != nil {
		return nil, err
	}
	p := parser{tokens: tokens}
	if p.is('=') {
		p.at++
	}
	root, err := p.sum()
	if err == nil {
		err = p.end()
	}
	if err != nil {
		return nil, err
	}
	return root, nil
}

type parser struct {
	tokens []token
	at     int
	nodes  int
}

func (p *parser) tok() token        { return p.tokens[p.at] }
func (p *parser) is(kind byte) bool { return p.tok().kind == kind }

// take moves past the present token and gives it.
func (p *parser) take() token {
	t := p.tok()
	if t.kind != tokEnd {
		p.at++
	}
	return t
}

// grow counts one node more.
func (p *parser) grow(col int) *Error {
	p.nodes++
	if p.nodes > maxNodes {
		return errorAt(col, "This formula is too big: write it in two steps.")
	}
	return nil
}

func (p *parser) sum() (Node, *Error) {
	return p.chain("+-", p.product)
}

func (p *parser) product() (Node, *Error) {
	return p.chain("*/", p.signed)
}

// chain reads operands joined by any of ops, from the left.
func (p *parser) chain(ops string, operand func() (Node, *Error)) (Node, *Error) {
	left, err := operand()
	for err == nil && strings.IndexByte(ops, p.tok().kind) >= 0 {
		op := p.take()
		if err := p.grow(op.col); err != nil {
			return nil, err
		}
		var right Node
		right, err = operand()
		left = Binary{Op: op.kind, L: left, R: right, Col: op.col}
	}
	return left, err
}

// signed reads a sign and what it belongs to; a plus sign changes nothing.
func (p *parser) signed() (Node, *Error) {
	sign := p.tok()
	if sign.kind != '-' && sign.kind != '+' {
		return p.power()
	}
	p.at++
	x, err := p.signed()
	if err != nil || sign.kind == '+' {
		return x, err
	}
	return Neg{X: x, Col: sign.col}, p.grow(sign.col)
}

func (p *parser) power() (Node, *Error) {
	base, err := p.operand()
	if err != nil || !p.is('^') {
		return base, err
	}
	op := p.take()
	exponent, err := p.signed()
	if err != nil {
		return nil, err
	}
	return Binary{Op: '^', L: base, R: exponent, Col: op.col}, p.grow(op.col)
}

// operand reads a number, a name, a function or a bracket, with a unit read
// over, and makes sure that no second operand follows without a sign.
func (p *parser) operand() (Node, *Error) {
	x, err := p.primary()
	if err != nil {
		return nil, err
	}
	p.unit()
	switch t := p.tok(); t.kind {
	case tokNumber, tokName, '(':
		return nil, missingSign(t)
	case tokInv:
		return nil, errorAt(t.col, "Write one divided by it as 1/(…).")
	}
	return x, nil
}

// unit reads over a degree sign or millimetres: angles are in degrees and
// lengths in millimetres anyway.
func (p *parser) unit() {
	t := p.tok()
	if t.kind == tokDegree || t.kind == tokName && (t.text == "deg" || t.text == "degrees" || t.text == "mm") {
		p.at++
	}
}

func missingSign(t token) *Error {
	switch t.text {
	case "in", "inch", "inches", "cm", "m":
		return errorAt(t.col, "Units such as %s are not read inside working: write all lengths in one unit, without it.", t.text)
	}
	return errorAt(t.col, "A sign is missing here: write * for times.")
}

func (p *parser) primary() (Node, *Error) {
	t := p.take()
	switch t.kind {
	case tokNumber:
		return Num{Value: t.val, Text: t.text, Col: t.col}, p.grow(t.col)
	case '(':
		return p.bracket(t)
	case tokName:
		if fn, ok := function(t.text); ok {
			return p.call(fn, t)
		}
		if p.is('(') {
			return nil, notAFunction(t)
		}
		return Name{ID: t.text, Col: t.col}, p.grow(t.col)
	}
	return nil, p.missing(t)
}

// bracket reads up to the closing bracket; open has been taken.
func (p *parser) bracket(open token) (Node, *Error) {
	x, err := p.sum()
	if err != nil {
		return nil, err
	}
	return x, p.closing(open)
}

func (p *parser) closing(open token) *Error {
	switch t := p.tok(); t.kind {
	case ')':
		p.at++
		return nil
	case ',':
		return p.comma(t)
	default:
		if t.kind != tokEnd {
			return errorAt(t.col, "A closing bracket ) is missing before this.")
		}
		return errorAt(open.col, "This bracket is never closed: write ) where it ends.")
	}
}
