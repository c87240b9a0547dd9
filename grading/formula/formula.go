package formula

// Dim is what kind of number a formula gives.
type Dim int

// The dimensions.
const (
	Number Dim = iota
	Length     // millimetres
	Angle      // degrees
	Area       // square millimetres
)

// Node is one node of a formula's tree. The tree is never changed in place.
type Node interface{ node() }

// Num is a number as written; Text keeps the spelling ("2.50").
type Num struct {
	Value float64
	Text  string
}

// Name is an id or pi. Col is where it stood, from 1; 0 for a built node.
type Name struct {
	ID  string
	Col int
}

// Neg is a change of sign.
type Neg struct{ X Node }

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

// Formula is a parsed formula.
type Formula struct {
	root Node
	src  string
}

// Error points at a column of the text (from 1) and says what to write.
type Error struct {
	Col int
	Msg string
}

func (e *Error) Error() string { panic("unwritten") }

// Parse reads a formula. Errors are *Error.
func Parse(src string) (Formula, error) { panic("unwritten") }

// MustParse is Parse for formulas that stand in the program text.
func MustParse(src string) Formula { panic("unwritten") }

// FromNode makes a formula of a tree.
func FromNode(n Node) Formula { return Formula{root: n} }

// Root gives the tree.
func (f Formula) Root() Node { return f.root }

// Names lists the distinct names used (without pi), in order of appearance.
func (f Formula) Names() []string { panic("unwritten") }

// Size is the number of nodes.
func (f Formula) Size() int { panic("unwritten") }

// Check infers the dimension. dims tells what a name is; an unknown name is an
// *Error at its column.
func (f Formula) Check(dims func(name string) (Dim, bool)) (Dim, error) { panic("unwritten") }

// Eval works the formula out, angles in degrees. What has no finite value
// (division by nothing, asin of 2) is an *Error, never NaN or Inf.
func (f Formula) Eval(values func(name string) (float64, bool)) (float64, error) {
	panic("unwritten")
}

// String prints the formula so that Parse gives the same tree back; the text
// as written when it was parsed.
func (f Formula) String() string { panic("unwritten") }

// MathML prints the formula as a <math> element with symbols for the names,
// and the plain text as its alttext. left, when not "", is put before an equals
// sign. block asks for display="block".
func (f Formula) MathML(left string, symbol func(name string) string, block bool) string {
	panic("unwritten")
}

// Substitute puts formulas in place of names.
func (f Formula) Substitute(by func(name string) (Formula, bool)) Formula { panic("unwritten") }

// Equal says whether two formulas are the same up to the order of sums and
// products.
func (f Formula) Equal(g Formula) bool { panic("unwritten") }

// Variants gives every tree that arises when edit is applied at one single
// node. edit gets a node and returns its replacements (none: leave it).
func Variants(n Node, edit func(Node) []Node) []Node { panic("unwritten") }
