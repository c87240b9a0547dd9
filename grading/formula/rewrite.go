package formula

// Substitute puts formulas in place of names.
func (f Formula) Substitute(by func(name string) (Formula, bool)) Formula {
	return FromNode(substitute(f.root, by))
}

func substitute(n Node, by func(string) (Formula, bool)) Node {
	if name, ok := n.(Name); ok {
		if g, found := by(name.ID); found && g.root != nil {
			return unplaced(g.root)
		}
		return n
	}
	for i, part := range children(n) {
		n = withChild(n, i, substitute(part, by))
	}
	return n
}

// unplaced is a tree without columns: it stood in another text.
func unplaced(n Node) Node {
	switch x := n.(type) {
	case Num:
		x.Col = 0
		n = x
	case Name:
		x.Col = 0
		n = x
	case Neg:
		x.Col = 0
		n = x
	case Binary:
		x.Col = 0
		n = x
	case Call:
		x.Col = 0
		n = x
	}
	for i, part := range children(n) {
		n = withChild(n, i, unplaced(part))
	}
	return n
}

// Edit is one tree that came of changing one single node.
type Edit struct {
	At   Node // the node that was changed, with its column
	Col  int  // where its text began, 0 for a built node
	To   Node // what was put in its place
	Tree Node // the whole tree with the change
}

// Edits gives every tree that arises when edit is applied at one single node,
// from the outside in, left to right. edit gets a node and returns its
// replacements (none: leave it).
func Edits(n Node, edit func(Node) []Node) []Edit {
	var all []Edit
	edits(n, edit, func(e Edit) { all = append(all, e) })
	return all
}

func edits(n Node, edit func(Node) []Node, yield func(Edit)) {
	if n == nil {
		return
	}
	for _, to := range edit(n) {
		yield(Edit{At: n, Col: start(n), To: to, Tree: to})
	}
	for i, part := range children(n) {
		edits(part, edit, func(e Edit) {
			e.Tree = withChild(n, i, e.Tree)
			yield(e)
		})
	}
}

// Variants is [Edits] for those who want the trees only.
func Variants(n Node, edit func(Node) []Node) []Node {
	var trees []Node
	edits(n, edit, func(e Edit) { trees = append(trees, e.Tree) })
	return trees
}
