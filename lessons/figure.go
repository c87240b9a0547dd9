package lessons

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
)

// figureBlock is a drawing the page asks for.
type figureBlock struct {
	line         int
	family       *joint.Family
	view         string
	sketch       string       // instead of a family and a view
	blank        joint.Values // nil: the page's example, or the house blank
	alt, caption string
	viewLine     int
}

// readFigure reads a figure block: family and view or sketch, then sizes, alt,
// caption.
func (p *page) readFigure(line int, text []byte) *figureBlock {
	f := &form{p: p, first: line + 1, line: line, what: "the figure block"}
	n, ok := f.read(text)
	if !ok {
		return nil
	}
	must := []string{"family*", "view*", "sizes", "alt", "caption*"}
	if mentions(n, "sketch") {
		must = []string{"sketch*", "sizes", "alt", "caption*"}
	}
	got := f.fields(n, f.what, must...)
	b := &figureBlock{line: line, viewLine: line, alt: f.text(got["alt"], "alt"), caption: f.text(got["caption"], "caption")}
	if got["alt"] == nil {
		f.fault(n, "the figure has no alt: say in words what it shows, for people who do not see it")
	}
	if !p.readDrawing(b, f, got) || b.alt == "" || b.caption == "" {
		return nil
	}
	return b
}

// readDrawing reads what a figure block draws: a sketch, or a view of a family.
func (p *page) readDrawing(b *figureBlock, f *form, got map[string]*yaml.Node) bool {
	if got["sketch"] != nil {
		b.sketch, b.viewLine = f.text(got["sketch"], "sketch"), f.at(got["sketch"])
		switch {
		case b.sketch == "":
			return false
		case !slices.Contains(drawing.SketchNames(), b.sketch):
			f.fault(got["sketch"], "there is no sketch %q%s", b.sketch, orAll(suggestion(b.sketch, drawing.SketchNames()), "the sketches", drawing.SketchNames()))
			return false
		}
		return got["sizes"] == nil || b.readSketchSizes(f, got["sizes"])
	}
	b.family, b.view = p.family(f, got["family"]), f.text(got["view"], "view")
	if got["view"] != nil {
		b.viewLine = f.at(got["view"])
	}
	if b.family == nil || b.view == "" || !b.checkView(f, got["view"]) {
		return false
	}
	ok := true
	if got["sizes"] != nil {
		b.blank, ok = b.readBlank(f, got["sizes"])
	}
	return ok
}

// checkView makes sure that the family has a figure of that name.
func (b *figureBlock) checkView(f *form, n *yaml.Node) bool {
	names := drawing.FigureNames(b.family)
	if slices.Contains(names, b.view) {
		return true
	}
	f.fault(n, "%s has no figure %q%s", b.family.ID, b.view, orAll(suggestion(b.view, names), "its figures", names))
	return false
}

// orAll gives a suggestion, or where there is none all that there is.
func orAll(hint, what string, names []string) string {
	if hint == "" {
		hint = ": " + what + " are " + strings.Join(names, ", ")
	}
	return hint
}

// readSketchSizes reads a sketch's own sizes.
func (b *figureBlock) readSketchSizes(f *form, n *yaml.Node) bool {
	known := drawing.SketchSizes(b.sketch)
	b.blank = joint.Values{}
	for _, e := range f.entries(n, "sizes") {
		if !slices.Contains(known, e.key) {
			f.fault(e.name, "%s is no size of the sketch %s%s", e.key, b.sketch, suggestion(e.key, known))
			return false
		}
		text := f.text(e.value, e.key)
		v, err := parseNumber(text)
		if text == "" || err != nil {
			f.fault(e.value, "%s: %q %v", e.key, text, errNumber)
			return false
		}
		b.blank[e.key] = v
	}
	return true
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
	v, err := p.drawn(b)
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

// drawn draws what a figure block asks for.
func (p *page) drawn(b *figureBlock) (drawing.View, error) {
	if b.sketch != "" {
		sizes := b.blank
		if sizes == nil && p.example != nil {
			sizes = p.example.values
		}
		return drawing.Sketch(b.sketch, sizes, p.sizeTexts(sizes))
	}
	blank := b.blank
	if blank == nil && p.example != nil && p.example.family == b.family {
		blank = p.example.blank
	}
	if blank == nil {
		blank = b.family.House
	}
	return drawing.Figure(b.family, b.view, blank)
}

// sizeTexts writes sizes as drawings do, by the symbols of the page.
func (p *page) sizeTexts(sizes joint.Values) map[string]string {
	texts := map[string]string{}
	for id, v := range sizes {
		m, known := p.names[id]
		if !known {
			continue
		}
		texts[id] = p.names.symbol(id) + " = " + strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
		if m.unit == joint.Deg {
			texts[id] += "°"
		}
	}
	return texts
}
