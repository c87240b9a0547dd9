package formula

// function gives the function that a word stands for.
func function(word string) (string, bool) {
	switch word {
	case "arcsin", "arccos", "arctan":
		return "a" + word[3:], true
	}
	_, ok := functions[word]
	return word, ok
}

func notAFunction(t token) *Error {
	switch t.text {
	case "deg", "rad", "degrees", "radians":
		return errorAt(t.col, "Angles are in degrees throughout: leave %s out.", t.text)
	case "pi":
		return errorAt(t.col+2, "A sign is missing here: write * for times.")
	}
	return errorAt(t.col, "%s is not a function here. The functions are sin, cos, tan, asin, acos, atan, sqrt and hypot; for times write %s*(…).", t.text, t.text)
}

// call reads the argument of a function; its name t has been taken.
func (p *parser) call(fn string, t token) (Node, *Error) {
	fn, err := p.inverse(fn, t)
	if err != nil {
		return nil, err
	}
	if err := p.grow(t.col); err != nil {
		return nil, err
	}
	var args []Node
	if p.is('(') {
		args, err = p.arguments(fn)
	} else {
		args, err = p.bare(fn, t)
	}
	if err != nil {
		return nil, err
	}
	return Call{Func: fn, Args: args, Col: t.col}, nil
}

// inverse reads the raised minus one of a calculator key, as in tan⁻¹ or
// tan^-1, and refuses any other power between a function and its argument.
func (p *parser) inverse(fn string, t token) (string, *Error) {
	raised := false
	switch {
	case p.is(tokInv):
		p.at++
		raised = true
	case p.is('^'):
		one := p.at+2 < len(p.tokens) && p.tokens[p.at+1].kind == '-' && p.tokens[p.at+2].text == "1"
		if !one {
			return "", errorAt(p.tok().col, "Write the power after the bracket: %s(…)^2.", fn)
		}
		p.at += 3
		raised = true
	}
	if !raised {
		return fn, nil
	}
	switch fn {
	case "sin", "cos", "tan":
		return "a" + fn, nil
	}
	return "", errorAt(t.col, "%s has no raised minus one: write 1/%s(…).", fn, fn)
}

func (p *parser) arguments(fn string) ([]Node, *Error) {
	open := p.take()
	first, err := p.sum()
	if err != nil {
		return nil, err
	}
	if functions[fn] == 1 {
		return []Node{first}, p.closing(open)
	}
	if !p.is(',') {
		return nil, errorAt(p.tok().col, "hypot takes two lengths with a comma between them: hypot(30, 40).")
	}
	p.at++
	second, err := p.sum()
	if err != nil {
		return nil, err
	}
	if p.is(',') {
		return nil, errorAt(p.tok().col, "hypot takes two lengths. A comma parts them; the decimal point is a dot: hypot(18.5, 20).")
	}
	return []Node{first, second}, p.closing(open)
}

// bare reads the argument of a function without brackets: one number or name.
// What follows may not be a sign that could belong to either.
func (p *parser) bare(fn string, t token) ([]Node, *Error) {
	a := p.tok()
	isFunction := false
	if a.kind == tokName {
		_, isFunction = function(a.text)
	}
	if functions[fn] != 1 || a.kind != tokNumber && a.kind != tokName || isFunction {
		return nil, errorAt(t.col, "Write brackets after %s: %s(…).", fn, fn)
	}
	x, err := p.primary()
	if err != nil {
		return nil, err
	}
	p.unit()
	switch p.tok().kind {
	case '*', '/', '^':
		return nil, errorAt(a.col, "It is not clear how much belongs to %s: write brackets, such as %s(%s) or %s(%s%s…).", fn, fn, a.text, fn, a.text, p.tok().text)
	}
	return []Node{x}, nil
}

// missing says what should have stood at t.
func (p *parser) missing(t token) *Error {
	switch t.kind {
	case tokEnd:
		if p.at == 0 {
			return errorAt(t.col, "Nothing is written here yet.")
		}
		return errorAt(t.col, "Something is missing at the end: a number or a name.")
	case ')':
		return errorAt(t.col, "Something is missing before this bracket: a number or a name.")
	case tokDegree:
		return errorAt(t.col, "A degree sign stands after a number.")
	case ',':
		return p.comma(t)
	}
	return errorAt(t.col, "A number or a name is missing before %s.", t.text)
}

func (p *parser) comma(t token) *Error {
	return errorAt(t.col, "A comma parts the two lengths of hypot only. Write the decimal point as a dot: 18.5.")
}

// end makes sure that nothing is left over.
func (p *parser) end() *Error {
	switch t := p.tok(); t.kind {
	case tokEnd:
		return nil
	case ')':
		return errorAt(t.col, "This bracket closes nothing: take it out, or open it with ( further left.")
	case ',':
		return p.comma(t)
	case '=':
		return errorAt(t.col, "Write the working only, without = and what follows it.")
	default:
		return errorAt(t.col, "%s is not read here.", t.text)
	}
}
