package formula

// Simplify takes out what edits and substitutions leave behind: a factor of
// one, a term of nothing, a sign twice, the sine of nothing. It gathers no
// numbers and multiplies nothing out, so a reader knows the formula again.
// Where the formula has a value, the simplified one has the same.
func (f Formula) Simplify() Formula {
	if f.root == nil {
		return f
	}
	return FromNode(simplify(f.root))
}

func simplify(n Node) Node {
	for i, part := range children(n) {
		n = withChild(n, i, simplify(part))
	}
	switch n := n.(type) {
	case Neg:
		return simplifySign(n)
	case Binary:
		return simplifyBinary(n)
	case Call:
		return simplifyCall(n)
	}
	return n
}

func simplifySign(n Neg) Node {
	if inner, ok := n.X.(Neg); ok {
		return inner.X
	}
	if isNumber(n.X, 0) {
		return n.X
	}
	return n
}

func isNumber(n Node, v float64) bool {
	num, ok := n.(Num)
	return ok && num.Value == v
}

func simplifyBinary(n Binary) Node {
	switch n.Op {
	case '+', '-':
		return simplifySum(n)
	case '*', '/':
		return simplifyProduct(n)
	case '^':
		if isNumber(n.R, 1) {
			return n.L
		}
	}
	return n
}

func simplifySum(n Binary) Node {
	if isNumber(n.R, 0) {
		return n.L
	}
	if isNumber(n.L, 0) {
		if n.Op == '+' {
			return n.R
		}
		return simplifySign(Neg{X: n.R, Col: n.Col})
	}
	if r, ok := n.R.(Neg); ok {
		n.R = r.X
		n.Op = map[byte]byte{'+': '-', '-': '+'}[n.Op]
	}
	return n
}

func simplifyProduct(n Binary) Node {
	switch {
	case isNumber(n.R, 1):
		return n.L
	case isNumber(n.L, 0):
		return n.L
	case n.Op == '*' && isNumber(n.R, 0):
		return n.R
	case n.Op == '*' && isNumber(n.L, 1):
		return n.R
	}
	return n
}

// simplifyCall knows the values at nothing; atan and asin of nothing stay, as
// they name an angle.
func simplifyCall(n Call) Node {
	if len(n.Args) == 1 && isNumber(n.Args[0], 0) {
		switch n.Func {
		case "sin", "tan", "sqrt":
			return n.Args[0]
		case "cos":
			return Num{Value: 1, Col: n.Col}
		}
	}
	return n
}
