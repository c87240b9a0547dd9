package formula

import (
	"strconv"
	"strings"
)

// String prints the formula so that Parse gives the same tree back: the text
// as written when it was parsed, else [Formula.Plain].
func (f Formula) String() string {
	if f.src != "" {
		return f.src
	}
	return f.Plain()
}

// Plain prints the tree in the plain form with as few brackets as it needs,
// whatever was typed. Parse gives the same tree back, as long as the text is
// within its limits.
func (f Formula) Plain() string {
	if f.root == nil {
		return ""
	}
	var b strings.Builder
	print(&b, f.root, 0)
	return b.String()
}

// How tightly a node binds, loosest first.
const (
	bindSum = iota + 1
	bindProduct
	bindSign
	bindPower
	bindWhole
)

func binding(n Node) int {
	switch n := n.(type) {
	case Neg:
		return bindSign
	case Binary:
		switch n.Op {
		case '+', '-':
			return bindSum
		case '*', '/':
			return bindProduct
		}
		return bindPower
	}
	return bindWhole
}

// sides tells how tightly each side of a binary node must bind to stand
// without brackets. A sign straight behind an operator or another sign gets
// brackets for the reader's sake: a - (-b).
func sides(n Binary) (left, right int) {
	left, right = bindWhole, bindPower
	switch n.Op {
	case '+', '-':
		left, right = bindSum, bindProduct
	case '*', '/':
		left = bindProduct
	}
	if binding(n.R) == bindSign {
		right = bindPower
	}
	return left, right
}

// signs are the operators as they are printed.
var signs = map[byte]string{'+': " + ", '-': " - ", '*': "*", '/': "/", '^': "^"}

// print writes n, in brackets when it binds less than least.
func print(b *strings.Builder, n Node, least int) {
	if binding(n) < least {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	switch n := n.(type) {
	case Num:
		b.WriteString(numberText(n))
	case Name:
		b.WriteString(n.ID)
	case Neg:
		b.WriteByte('-')
		print(b, n.X, bindPower)
	case Binary:
		left, right := sides(n)
		print(b, n.L, left)
		b.WriteString(signs[n.Op])
		print(b, n.R, right)
	case Call:
		b.WriteString(n.Func + "(")
		for i, a := range n.Args {
			if i > 0 {
				b.WriteString(", ")
			}
			print(b, a, 0)
		}
		b.WriteByte(')')
	}
}

// numberText is the number as written, or its shortest decimal form.
func numberText(n Num) string {
	if n.Text != "" {
		return n.Text
	}
	return strconv.FormatFloat(n.Value, 'f', -1, 64)
}
