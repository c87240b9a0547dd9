package lessons

import (
	"bytes"
	"slices"

	"github.com/yuin/goldmark/ast"
	"go.yaml.in/yaml/v3"

	"arrisbook/geom/joint"
)

// The words behind a fence that make a block ours. Any other fence is a plain
// code block.
const (
	fenceExercise = "exercise"
	fenceFigure   = "figure"
	fenceCaution  = "caution"
	fenceSizes    = "sizes"
)

// gather replaces our fenced blocks by nodes that hold what was read: the
// exercises first, because examples name them from above, then the others top
// to bottom. Their HTML waits for resolve, when all names are known.
func (p *page) gather(whole *part) {
	var fences []*ast.FencedCodeBlock
	walk(whole.root, func(n ast.Node) {
		if code, ok := n.(*ast.FencedCodeBlock); ok {
			fences = append(fences, code)
		}
	})
	first := func(code *ast.FencedCodeBlock) bool {
		return string(code.Language(whole.src.text)) == fenceExercise
	}
	slices.SortStableFunc(fences, func(a, b *ast.FencedCodeBlock) int {
		switch {
		case first(a) && !first(b):
			return -1
		case first(b) && !first(a):
			return 1
		}
		return 0
	})
	for _, code := range fences {
		block := p.readFence(whole, code)
		if block != nil {
			block.SetPos(code.Pos())
			code.Parent().ReplaceChild(code.Parent(), code, block)
		}
	}
}

// readFence reads one fenced block, or gives nil for a plain code block.
func (p *page) readFence(whole *part, code *ast.FencedCodeBlock) *blockNode {
	word := string(code.Language(whole.src.text))
	line := whole.src.line(code.Pos())
	inside := fenced(whole.src, code)
	switch word {
	case fenceExercise:
		if code.Parent() != whole.root {
			p.fault(line, "an exercise stands by itself, not inside a list or a quotation")
			return &blockNode{}
		}
		return &blockNode{exercise: p.readExercise(line, inside)}
	case fenceFigure:
		return &blockNode{figure: p.readFigure(line, inside)}
	case fenceSizes:
		s := p.readSizes(line, inside)
		if s != nil {
			p.examples = append(p.examples, s)
			if s.family != nil {
				p.names.family(s.family)
			}
		}
		return &blockNode{sizes: s, noSizes: s == nil}
	case fenceCaution:
		return &blockNode{caution: p.readCaution(line, inside)}
	}
	return nil
}

// fenced gives a fenced block's lines without their indent.
func fenced(src source, code *ast.FencedCodeBlock) []byte {
	var b bytes.Buffer
	for i := range code.Lines().Len() {
		seg := code.Lines().At(i)
		b.Write(seg.Value(src.text))
	}
	return b.Bytes()
}

// readCaution parses the Markdown inside a caution. Blocks of ours do not
// belong in one.
func (p *page) readCaution(line int, text []byte) *part {
	if len(bytes.TrimSpace(text)) == 0 {
		p.fault(line, "the caution is empty")
		return nil
	}
	inner := p.parse(newSource(text, line+1))
	walk(inner.root, func(n ast.Node) {
		at := inner.src.line(n.Pos())
		switch n.(type) {
		case *ast.FencedCodeBlock:
			p.fault(at, "a caution holds text, not blocks")
		case *ast.Heading:
			p.fault(at, "a caution has no headings of its own")
		}
	})
	return inner
}

// family reads the id of a family and lets the page use its names.
func (p *page) family(f *form, n *yaml.Node) *joint.Family {
	id := f.text(n, "family")
	if id == "" {
		return nil
	}
	fam, ok := joint.Lookup(id)
	if !ok {
		f.fault(n, "there is no family %q%s", id, suggestion(id, familyIDs()))
		return nil
	}
	p.names.family(fam)
	return fam
}

// walk visits every node, parents first.
func walk(root ast.Node, visit func(ast.Node)) {
	err := ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			visit(n)
		}
		return ast.WalkContinue, nil
	})
	if err != nil { // the visitor gives none
		panic(err)
	}
}
