package lessons

import (
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
)

// resolve goes through a part top to bottom and finishes every node that
// depends on the page's names and examples.
func (p *page) resolve(whole *part) {
	var tables []ast.Node
	var displays []*formulaNode
	var refused []*ast.AutoLink
	walk(whole.root, func(n ast.Node) {
		line := whole.src.line(n.Pos())
		switch n := n.(type) {
		case *formulaNode:
			p.resolveFormula(n, line)
			if lone(n) {
				displays = append(displays, n)
				p.teaches(n, p.under)
			}
		case *resultNode:
			p.resolveResult(n, line)
		case *blockNode:
			p.resolveBlock(n, line)
		case *ast.Heading:
			p.enterHeading(n, line)
		case *east.Table:
			tables = append(tables, n)
		case *ast.AutoLink:
			if !p.addAddress(string(n.URL(whole.src.text)), line) {
				refused = append(refused, n)
			}
		default:
			p.resolveText(whole, n, line)
		}
	})
	for _, n := range displays {
		p.checkTaught(n, whole.src.line(n.Pos()))
		display(n)
	}
	for _, t := range tables {
		scroll(whole.src.text, t)
	}
	for _, n := range refused {
		text := ast.NewString(n.Label(whole.src.text))
		text.SetRaw(true) // which escapes, and only that
		n.Parent().ReplaceChild(n.Parent(), n, text)
	}
	p.finishHeadings(whole)
}

// resolveText checks the nodes that plain Markdown makes.
func (p *page) resolveText(whole *part, n ast.Node, line int) {
	switch n := n.(type) {
	case *ast.RawHTML, *ast.HTMLBlock:
		p.fault(line, "HTML is not written in a lesson; it would be left out")
	case *ast.Link:
		p.addLink(n, string(n.Destination), line)
	case *ast.Image:
		p.addPicture(whole, n, line)
	}
}

func (p *page) resolveBlock(n *blockNode, line int) {
	switch {
	case n.exercise != nil:
		n.html = p.practice(n.exercise, line)
	case n.figure != nil:
		n.html = p.drawFigure(n.figure)
	case n.noSizes:
		p.example, p.noExample = nil, true
	case n.sizes != nil:
		p.example, p.noExample = n.sizes, false
		n.html = n.sizes.table(p.names)
	case n.caution != nil:
		p.resolve(n.caution)
		n.html = `<aside class="caution" role="note" aria-label="Caution">` + "\n" +
			`<p class="label">Caution</p>` + "\n" + p.render(n.caution) + "</aside>\n"
	}
}

// lone says that a node is all its paragraph holds.
func lone(n ast.Node) bool {
	parent := n.Parent()
	return parent.Kind() == ast.KindParagraph && parent.ChildCount() == 1
}

// display puts a formula that defines a name and stands alone into a block of
// its own, with its words beside it.
func display(n *formulaNode) {
	if n.left == "" {
		return
	}
	paragraph := n.Parent()
	block := &blockNode{html: n.block}
	block.SetPos(paragraph.Pos())
	paragraph.Parent().ReplaceChild(paragraph.Parent(), paragraph, block)
}

// scroll wraps a table and marks its columns of figures. Each cell carries the
// words over its column, for pages too narrow to show columns; the roles keep
// it a table however it is laid out.
func scroll(src []byte, table ast.Node) {
	var heads []string
	table.SetAttributeString("role", []byte("table"))
	walk(table, func(n ast.Node) {
		switch n := n.(type) {
		case *east.TableRow:
			n.SetAttributeString("role", []byte("row"))
		case *east.TableCell:
			heads = cell(src, n, heads)
		}
	})
	parent := table.Parent()
	wrap := &scrollNode{label: "Table"}
	parent.ReplaceChild(parent, table, wrap)
	wrap.AppendChild(wrap, table)
}

// cell marks one cell of a table and gives the words over the columns as far
// as they are known.
func cell(src []byte, c *east.TableCell, heads []string) []string {
	if c.Alignment == east.AlignRight {
		c.SetAttributeString("class", []byte("num"))
	}
	if _, ok := c.Parent().(*east.TableHeader); ok {
		c.SetAttributeString("role", []byte("columnheader"))
		return append(heads, plain(src, c))
	}
	c.SetAttributeString("role", []byte("cell"))
	column := 0
	for before := c.PreviousSibling(); before != nil; before = before.PreviousSibling() {
		column++
	}
	if column < len(heads) {
		c.SetAttributeString("data-head", []byte(heads[column]))
	}
	return heads
}

// plain gives the text of a node as it is read, without markup.
func plain(src []byte, root ast.Node) string {
	var b strings.Builder
	walk(root, func(n ast.Node) {
		switch n := n.(type) {
		case *ast.Text:
			b.Write(n.Segment.Value(src))
			if n.SoftLineBreak() || n.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(n.Value)
		case *formulaNode:
			b.WriteString(n.words)
		case *resultNode:
			b.WriteString(n.text)
		}
	})
	return html.UnescapeString(strings.TrimSpace(b.String()))
}
