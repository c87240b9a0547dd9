package formula

import "fmt"

// Formula is a parsed formula. The zero Formula is empty: it prints as "" and
// has no value.
type Formula struct {
	root Node
	src  string
}

// Error points at a column of the text (from 1, counted in characters; 0 when
// the formula was not read from a text) and says what to write.
type Error struct {
	Col int
	Msg string
}

func (e *Error) Error() string {
	if e.Col == 0 {
		return e.Msg
	}
	return fmt.Sprintf("column %d: %s", e.Col, e.Msg)
}

func errorAt(col int, format string, args ...any) *Error {
	return &Error{Col: col, Msg: fmt.Sprintf(format, args...)}
}

// MustParse is Parse for formulas that stand in the program text.
func MustParse(src string) Formula {
	f, err := Parse(src)
	if err != nil {
		panic("formula " + src + ": " + err.Error())
	}
	return f
}

// FromNode makes a formula of a tree.
func FromNode(n Node) Formula { return Formula{root: n} }

// Root gives the tree, nil for the zero Formula.
func (f Formula) Root() Node { return f.root }

// Names lists the distinct names used (without pi), in order of appearance.
func (f Formula) Names() []string {
	var names []string
	seen := map[string]bool{pi: true}
	walk(f.root, func(n Node) {
		if n, ok := n.(Name); ok && !seen[n.ID] {
			seen[n.ID] = true
			names = append(names, n.ID)
		}
	})
	return names
}

// walk visits a tree from the outside in, left to right.
func walk(n Node, visit func(Node)) {
	if n == nil {
		return
	}
	visit(n)
	for _, c := range children(n) {
		walk(c, visit)
	}
}

// Size is the number of nodes.
func (f Formula) Size() int { return size(f.root) }
