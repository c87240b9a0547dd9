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
	plainStyle.print(&b, f.root, 0)
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

// style is one way to write a tree on a line.
type style struct {
	op     map[byte]string
	minus  string
	name   func(id string) string
	square string // for ^2 of anything, "" to write it as any power
	root   string // for sqrt
}

var plainStyle = style{
	op:    map[byte]string{'+': " + ", '-': " - ", '*': "*", '/': "/", '^': "^"},
	minus: "-",
	name:  func(id string) string { return id },
	root:  "sqrt",
}

// print writes n, in brackets when it binds less than least.
func (s style) print(b *strings.Builder, n Node, least int) {
	if binding(n) < least {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	switch n := n.(type) {
	case Num:
		b.WriteString(numberText(n))
	case Name:
		b.WriteString(s.name(n.ID))
	case Neg:
		b.WriteString(s.minus)
		s.print(b, n.X, bindPower)
	case Binary:
		s.binary(b, n)
	case Call:
		s.call(b, n)
	}
}

func (s style) binary(b *strings.Builder, n Binary) {
	left, right := sides(n)
	s.print(b, n.L, left)
	if two, ok := n.R.(Num); ok && n.Op == '^' && two.Value == 2 && s.square != "" {
		b.WriteString(s.square)
		return
	}
	b.WriteString(s.op[n.Op])
	s.print(b, n.R, right)
}

func (s style) call(b *strings.Builder, n Call) {
	if n.Func == "sqrt" {
		b.WriteString(s.root)
	} else {
		b.WriteString(n.Func)
	}
	b.WriteByte('(')
	for i, a := range n.Args {
		if i > 0 {
			b.WriteString(", ")
		}
		s.print(b, a, 0)
	}
	b.WriteByte(')')
}

// numberText is the number as written, or its shortest decimal form.
func numberText(n Num) string {
	if n.Text != "" {
		return n.Text
	}
	return strconv.FormatFloat(n.Value, 'f', -1, 64)
}
