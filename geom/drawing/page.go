package drawing

import (
	"strconv"
	"strings"

	"arrisbook/geom/drawing/fonts"
)

// Page is one side of paper in the making. Places on it are millimetres from
// its left and upper edge, y down. It is a display list like a View, so that
// [PDF] and [Page.SVG] put out the same picture.
type Page struct {
	Paper Paper
	items []item
}

// NewPage starts an empty page.
func NewPage(p Paper) *Page { return &Page{Paper: p} }

// Line is a line type of ISO 128 as pages use them.
type Line layer

// The line types: for frames and fields, for rules between rows, for folds.
const (
	WideLine   = Line(visible)
	NarrowLine = Line(narrow)
	DashedLine = Line(hidden)
)

// Lettering is how a text looks.
type Lettering struct {
	Points float64 // size
	Bold   bool
	Anchor Anchor
	Turn   float64 // degrees clockwise
}

// Anchor says which end of a text its place is.
type Anchor int

// Where a text stands at its place.
const (
	FromStart Anchor = iota
	AtMiddle
	AtEnd
)

// mmPerPoint is a typographic point: 1/72 inch.
const mmPerPoint = 25.4 / 72

// Height is the size in millimetres.
func (l Lettering) Height() float64 { return l.Points * mmPerPoint }

// Width is how wide words come out, in millimetres.
func (l Lettering) Width(words string) float64 {
	return fonts.Of(l.Bold).Width(words) * l.Height()
}

// Wrap breaks words into lines of at most width millimetres, but not at
// no-break spaces. A word that is longer by itself stands alone. No words give
// no line.
func (l Lettering) Wrap(words string, width float64) []string {
	var lines []string
	line := ""
	for _, w := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == '\n' }) {
		longer := strings.TrimPrefix(line+" "+w, " ")
		if line != "" && l.Width(longer) > width {
			lines = append(lines, line)
			longer = w
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Write puts words on a base line at a place.
func (p *Page) Write(x, y float64, l Lettering, words string) {
	t := text{at: onPaper(x, y), turn: l.Turn, size: l.Height() * unitsPerMM, words: words}
	t.anchor = [...]anchor{FromStart: start, AtMiddle: middle, AtEnd: end}[l.Anchor]
	if l.Bold {
		t.face = strong
	}
	p.items = append(p.items, t)
}

func onPaper(x, y float64) pt { return pt{x * unitsPerMM, y * unitsPerMM} }

// Printable says whether the embedded lettering has every letter of a text.
// One that it lacks comes out as a question mark.
func Printable(text string) bool { return fonts.Of(false).Has(text) && fonts.Of(true).Has(text) }

// LineStep is the distance of lines of a paragraph, in sizes.
const LineStep = 1.3

// Paragraph wraps words into a column whose first base line is at y, and says
// where the base line after the last would be.
func (p *Page) Paragraph(x, y, width float64, l Lettering, words string) float64 {
	for _, line := range l.Wrap(words, width) {
		p.Write(x, y, l, line)
		y += LineStep * l.Height()
	}
	return y
}

// Rule draws a straight line.
func (p *Page) Rule(kind Line, x1, y1, x2, y2 float64) {
	p.items = append(p.items, stroke{layer(kind), []step{{op: 'M', p: onPaper(x1, y1)}, {op: 'L', p: onPaper(x2, y2)}}})
}

// Box draws a rectangle's outline.
func (p *Page) Box(kind Line, x, y, w, h float64) {
	a, b, c, d := onPaper(x, y), onPaper(x+w, y), onPaper(x+w, y+h), onPaper(x, y+h)
	p.items = append(p.items, stroke{layer(kind), []step{{op: 'M', p: a}, {op: 'L', p: b}, {op: 'L', p: c}, {op: 'L', p: d}, {op: 'Z', p: a}}})
}

// Fill blackens a rectangle.
func (p *Page) Fill(x, y, w, h float64) {
	p.items = append(p.items, solid{[]pt{onPaper(x, y), onPaper(x+w, y), onPaper(x+w, y+h), onPaper(x, y+h)}})
}

// Balloon puts a number's balloon with its middle at a place, times its size.
func (p *Page) Balloon(x, y, times float64, n int) {
	p.items = append(p.items, disc{Balloon: Balloon{Number: n}, at: onPaper(x, y), times: times})
}

// Put places a view with its left upper corner at (x, y), times its own size,
// which is a quarter of a millimetre for a unit.
func (p *Page) Put(v View, x, y, times float64) {
	p.items = append(p.items, rescaled(v.items, onPaper(x, y), times)...)
}

// rescaled is marks made larger or smaller about the origin, then moved.
func rescaled(items []item, by pt, times float64) []item {
	out := make([]item, len(items))
	for n, i := range items {
		out[n] = scaled(i, times).moved(by)
	}
	return out
}

// scaled is a mark times its size about the origin. Lines keep their width.
func scaled(i item, times float64) item {
	switch m := i.(type) {
	case stroke:
		steps := make([]step, len(m.steps))
		for k, s := range m.steps {
			s.p, s.r = s.p.times(times), s.r*times
			steps[k] = s
		}
		return stroke{m.kind, steps}
	case ring:
		return ring{m.kind, m.centre.times(times), m.r * times}
	case solid:
		corners := make([]pt, len(m.corners))
		for k, c := range m.corners {
			corners[k] = c.times(times)
		}
		return solid{corners}
	case text:
		m.at, m.size = m.at.times(times), m.size*times
		return m
	case disc:
		m.at, m.times, m.linked = m.at.times(times), m.scale()*times, false
		return m
	}
	return i
}

// SVG writes the page as a file of its own, at true size, with its styles.
func (p *Page) SVG(title string) string {
	v := View{ID: "page", Title: title, W: p.Paper.W * unitsPerMM, H: p.Paper.H * unitsPerMM, items: p.items}
	return v.File()
}

// mm writes millimetres for an SVG attribute.
func mm(units float64) string { return strconv.FormatFloat(units/unitsPerMM, 'f', -1, 64) + "mm" }
