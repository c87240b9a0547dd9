package lessons

import (
	"fmt"
	"strconv"

	"go.yaml.in/yaml/v3"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
)

// figureBlock is a drawing the page asks for.
type figureBlock struct {
	line         int
	family       *joint.Family
	view         string
	blank        joint.Values // nil: the page's example, or the house blank
	alt, caption string
	viewLine     int
}

// readFigure reads a figure block: family, view, sizes, alt, caption.
func (p *page) readFigure(line int, text []byte) *figureBlock {
	f := &form{p: p, first: line + 1, line: line, what: "the figure block"}
	n, ok := f.read(text)
	if !ok {
		return nil
	}
	got := f.fields(n, f.what, "family*", "view*", "sizes", "alt", "caption*")
	b := &figureBlock{
		line: line, viewLine: line,
		family: p.family(f, got["family"]), view: f.text(got["view"], "view"),
		alt: f.text(got["alt"], "alt"), caption: f.text(got["caption"], "caption"),
	}
	if got["view"] != nil {
		b.viewLine = f.at(got["view"])
	}
	if got["alt"] == nil {
		f.fault(n, "the figure has no alt: say in words what it shows, for people who do not see it")
	}
	if b.family == nil || b.view == "" {
		return nil
	}
	if got["sizes"] != nil {
		b.blank, ok = b.readBlank(f, got["sizes"])
	}
	if !ok || b.alt == "" || b.caption == "" {
		return nil
	}
	return b
}

// readBlank reads a figure's own sizes.
func (b *figureBlock) readBlank(f *form, n *yaml.Node) (joint.Values, bool) {
	s := &sizes{family: b.family, givens: b.family.Parameters, blank: joint.Values{}}
	if n.Kind != yaml.MappingNode {
		f.fault(n, "sizes are written as lines of “given: value”")
		return nil, false
	}
	if !s.take(f, n, f.entries(n, "sizes")) || s.work(f, n, nil) == nil {
		return nil, false
	}
	return s.blank, true
}

// drawFigure draws the figure on its own sizes, else on the nearest example
// above it, else on the house blank.
func (p *page) drawFigure(b *figureBlock) string {
	blank := b.blank
	if blank == nil && p.example != nil && p.example.family == b.family {
		blank = p.example.blank
	}
	if blank == nil {
		blank = b.family.House
	}
	v, err := drawing.Figure(b.family, b.view, blank)
	if err != nil {
		p.fault(b.viewLine, "the figure cannot be drawn: %v", err)
		return ""
	}
	p.figures++
	number := strconv.Itoa(p.figures)
	id := "figure-" + number
	p.take(id, "figure "+number, b.line)
	v.ID, v.Title, v.Desc = id+"-drawing", "Figure "+number, b.alt
	return fmt.Sprintf("<figure id=%q>\n%s\n<figcaption>Figure %s. %s</figcaption>\n</figure>\n",
		id, v.SVG(), number, prose(b.caption))
}
