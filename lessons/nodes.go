package lessons

import (
	"bytes"
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// The nodes this package adds to a document. Each carries its finished HTML
// once the names of the page are known; until then html is empty and the node
// shows nothing.
var (
	kindFormula = ast.NewNodeKind("Formula")
	kindResult  = ast.NewNodeKind("Result")
	kindBlock   = ast.NewNodeKind("Block")
	kindScroll  = ast.NewNodeKind("Scroll")
)

// formulaNode is $formula$ or $name = formula$.
type formulaNode struct {
	ast.BaseInline
	src  string
	open bool // the second $ is missing
	html string
	// words is the formula read aloud, for headings and display formulas.
	words string
	left  string // the name before the equals sign, or ""
	block string // the HTML of the formula standing alone
}

func (*formulaNode) Kind() ast.NodeKind         { return kindFormula }
func (n *formulaNode) Dump(src []byte, lvl int) { ast.DumpHelper(n, src, lvl, nil, nil) }

// resultNode is [= formula] or [= name = formula]: worked out on the page's
// example sizes.
type resultNode struct {
	ast.BaseInline
	src  string
	open bool // the closing bracket is missing
	html string
	text string
}

func (*resultNode) Kind() ast.NodeKind         { return kindResult }
func (n *resultNode) Dump(src []byte, lvl int) { ast.DumpHelper(n, src, lvl, nil, nil) }

// blockNode stands for one of our fenced blocks, or for a formula alone in its
// paragraph.
type blockNode struct {
	ast.BaseBlock
	html string
	// exercise is set on an exercise block: its last closing tag is where the
	// page's buttons go.
	exercise *exerciseBlock
	figure   *figureBlock
	sizes    *sizes
	noSizes  bool // a sizes block with faults
	caution  *part
}

func (*blockNode) Kind() ast.NodeKind         { return kindBlock }
func (n *blockNode) Dump(src []byte, lvl int) { ast.DumpHelper(n, src, lvl, nil, nil) }

// scrollNode lets a wide table scroll by itself on a narrow page.
type scrollNode struct {
	ast.BaseBlock
	label string
}

func (*scrollNode) Kind() ast.NodeKind         { return kindScroll }
func (n *scrollNode) Dump(src []byte, lvl int) { ast.DumpHelper(n, src, lvl, nil, nil) }

// formulaParser reads $…$ on one line.
type formulaParser struct{}

func (formulaParser) Trigger() []byte { return []byte{'$'} }

func (formulaParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, _ := block.PeekLine()
	end := bytes.IndexByte(line[1:], '$')
	if end < 0 {
		block.Advance(1)
		return &formulaNode{open: true}
	}
	block.Advance(end + 2)
	return &formulaNode{src: strings.TrimSpace(string(line[1 : 1+end]))}
}

// resultParser reads [= …] on one line.
type resultParser struct{}

func (resultParser) Trigger() []byte { return []byte{'['} }

func (resultParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, _ := block.PeekLine()
	if !bytes.HasPrefix(line, []byte("[=")) {
		return nil
	}
	end := bytes.IndexByte(line, ']')
	if end < 0 {
		block.Advance(2)
		return &resultNode{open: true}
	}
	block.Advance(end + 1)
	return &resultNode{src: strings.TrimSpace(string(line[2:end]))}
}

// nodeRenderer writes the nodes above.
type nodeRenderer struct{}

func (nodeRenderer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(kindFormula, written(func(n ast.Node) string { return n.(*formulaNode).html }))
	r.Register(kindResult, written(func(n ast.Node) string { return n.(*resultNode).html }))
	r.Register(kindBlock, written(func(n ast.Node) string { return n.(*blockNode).html }))
	r.Register(kindScroll, renderScroll)
}

// written renders a node whose HTML is finished.
func written(of func(ast.Node) string) renderer.NodeRendererFunc {
	return func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			if _, err := w.WriteString(of(n)); err != nil {
				return ast.WalkStop, err
			}
		}
		return ast.WalkSkipChildren, nil
	}
}

func renderScroll(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	s := "</div>\n"
	if entering {
		s = `<div class="scroll" role="group" tabindex="0" aria-label="` + html.EscapeString(n.(*scrollNode).label) + "\">\n"
	}
	if _, err := w.WriteString(s); err != nil {
		return ast.WalkStop, err
	}
	return ast.WalkContinue, nil
}
