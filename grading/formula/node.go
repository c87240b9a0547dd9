package formula

// Node is one node of a formula's tree. The tree is never changed in place.
// The kinds are [Num], [Name], [Neg], [Binary] and [Call], always as values.
type Node interface{ node() }

// Num is a number as written; Text keeps the spelling ("2.50"). Value is
// never negative: a negative number is a [Neg] of it, as [Of] makes it.
type Num struct {
	Value float64
	Text  string
	Col   int // where it stood, from 1; 0 for a built node
}

// Name is an id or pi. Col is where it stood, from 1; 0 for a built node.
type Name struct {
	ID  string
	Col int
}

// Neg is a change of sign.
type Neg struct {
	X   Node
	Col int // of the sign
}

// Binary is one of + - * / ^.
type Binary struct {
	Op   byte
	L, R Node
	Col  int // of the operator
}

// Call is a function applied to its arguments (two for hypot, else one).
type Call struct {
	Func string
	Args []Node
	Col  int
}

func (Num) node()    {}
func (Name) node()   {}
func (Neg) node()    {}
func (Binary) node() {}
func (Call) node()   {}

// pi is the one name that every formula knows.
const pi = "pi"

// functions tells how many arguments each function takes.
var functions = map[string]int{
	"sin": 1, "cos": 1, "tan": 1, "asin": 1, "acos": 1, "atan": 1, "sqrt": 1, "hypot": 2,
}

// Of makes the node of a number, a [Neg] for a negative one.
func Of(v float64) Node {
	if v < 0 {
		return Neg{X: Num{Value: -v}}
	}
	return Num{Value: v}
}

// Op makes a binary node; op is one of + - * / ^.
func Op(l Node, op byte, r Node) Node { return Binary{Op: op, L: l, R: r} }

// Apply makes a function call.
func Apply(name string, args ...Node) Node { return Call{Func: name, Args: args} }

// children lists a node's direct parts.
func children(n Node) []Node {
	switch n := n.(type) {
	case Neg:
		return []Node{n.X}
	case Binary:
		return []Node{n.L, n.R}
	case Call:
		return n.Args
	}
	return nil
}

// withChild gives a copy of n with its i-th part replaced.
func withChild(n Node, i int, part Node) Node {
	switch n := n.(type) {
	case Neg:
		n.X = part
		return n
	case Binary:
		if i == 0 {
			n.L = part
		} else {
			n.R = part
		}
		return n
	case Call:
		args := append([]Node(nil), n.Args...)
		args[i] = part
		n.Args = args
		return n
	}
	return n
}

// size counts nodes.
func size(n Node) int {
	switch n := n.(type) {
	case nil:
		return 0
	case Neg:
		return 1 + size(n.X)
	case Binary:
		return 1 + size(n.L) + size(n.R)
	case Call:
		s := 1
		for _, a := range n.Args {
			s += size(a)
		}
		return s
	}
	return 1
}

// start is the column where the text of a node begins, 0 for a built one.
func start(n Node) int {
	switch n := n.(type) {
	case Num:
		return n.Col
	case Name:
		return n.Col
	case Neg:
		return n.Col
	case Binary:
		return start(n.L)
	case Call:
		return n.Col
	}
	return 0
}

// Identical says whether two trees are the same node for node, whatever the
// spelling of their numbers and wherever they stood.
func Identical(a, b Node) bool {
	switch a := a.(type) {
	case Num:
		b, ok := b.(Num)
		return ok && a.Value == b.Value
	case Name:
		b, ok := b.(Name)
		return ok && a.ID == b.ID
	case Neg:
		b, ok := b.(Neg)
		return ok && Identical(a.X, b.X)
	case Binary:
		b, ok := b.(Binary)
		return ok && a.Op == b.Op && Identical(a.L, b.L) && Identical(a.R, b.R)
	case Call:
		b, ok := b.(Call)
		if !ok || a.Func != b.Func || len(a.Args) != len(b.Args) {
			return false
		}
		for i := range a.Args {
			if !Identical(a.Args[i], b.Args[i]) {
				return false
			}
		}
		return true
	}
	return a == nil && b == nil
}
