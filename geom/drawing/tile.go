package drawing

import (
	"fmt"
	"math"
)

// TemplateHead is what stands on top of every page of templates.
type TemplateHead struct {
	Title string // "Template: Head V joint"
	Who   string // whose it is, and which sheet
	Says  string // a caution, one or two sentences
}

// TemplatePages lays flats out at true size: small ones together on a page, a
// larger one over several pages that overlap, with match marks and a map. Every
// page has check bars both ways and says what to do if they are off. No flat
// gives no page.
func TemplatePages(paper Paper, head TemplateHead, flats []Flat) []*Page {
	s := &templateSheets{paper: paper, head: head}
	for _, f := range flats {
		s.add(f)
	}
	return s.pages
}

// TemplateRoll lays flats out at true size on one page that is as large as it
// must be. No flat gives no page.
func TemplateRoll(head TemplateHead, flats []Flat) (p *Page, ok bool) {
	if len(flats) == 0 {
		return nil, false
	}
	wide, high := 160.0, barInch+10
	for _, f := range flats {
		wide = max(wide, f.W)
	}
	sum := 0.0
	for _, f := range flats {
		sum += captionHeight(f.Title, f.Says, columnOf(f, wide)) + f.H + tileGap
	}
	high = max(high, sum)
	paper := Paper{"roll", math.Ceil(wide + 2*tileMargin + tileRight), math.Ceil(high + 2*tileMargin + tileHead + tileFoot)}
	return TemplatePages(paper, head, flats)[0], true
}

// templateSheets collects pages and knows where there is room left.
type templateSheets struct {
	paper Paper
	head  TemplateHead
	pages []*Page
	last  *templatePage // that takes more flats; nil: none
}

// Places on a page of templates, in millimetres: the margin that printers
// leave white, and the strips for the bars.
const (
	tileMargin = 10.0
	tileHead   = 14.0
	tileRight  = 22.0 // standing bars
	tileFoot   = 22.0 // lying bars and their sentence
	tileGap    = 9.0  // between two flats
	overlap    = 15.0 // of neighbouring pages
)

// templatePage is a page with the room that flats have on it.
type templatePage struct {
	*Page
	x, y, w, h float64 // the room
	side       Room    // beside the flat that was put last
}

// blankPage starts a page of templates, upright or across.
func (s *templateSheets) blankPage(paper Paper) *templatePage {
	p := &templatePage{Page: NewPage(paper), x: tileMargin, y: tileMargin + tileHead}
	p.w = paper.W - 2*tileMargin - tileRight
	p.h = paper.H - 2*tileMargin - tileHead - tileFoot
	return p
}

// start puts a page among the others with what all have.
func (s *templateSheets) start(paper Paper) *templatePage {
	p := s.blankPage(paper)
	s.pages = append(s.pages, p.Page)
	p.Write(p.x, tileMargin+4, Lettering{Points: 12, Bold: true}, s.head.Title)
	p.Write(paper.W-tileMargin, tileMargin+4, Lettering{Points: 10, Anchor: AtEnd}, s.head.Who)
	p.Paragraph(p.x, tileMargin+8.6, paper.W-2*tileMargin, Lettering{Points: 8.5}, s.head.Says)
	foot := paper.H - tileMargin
	p.barsAcross(p.x, foot-barPitch-4)
	p.barsDown(paper.W-tileMargin-barPitch-4, p.y+p.h-barInch)
	p.Paragraph(p.x+barInch+8, foot-barPitch-5.5, paper.W-2*tileMargin-barInch-8, Lettering{Points: 8.5}, BarsSay)
	return p
}

// add finds room for a flat.
func (s *templateSheets) add(f Flat) {
	switch {
	case s.last == nil:
	case s.last.putBeside(f):
		return
	case s.last.takes(f):
		s.last.put(f)
		return
	}
	s.last = nil
	for _, paper := range []Paper{s.paper, s.paper.Across()} {
		if s.blankPage(paper).takes(f) {
			s.last = s.start(paper)
			s.last.put(f)
			return
		}
	}
	s.tile(f)
}

var (
	flatTitle = Lettering{Points: 10, Bold: true}
	flatSays  = Lettering{Points: 9}
)

// captionHeight is the room that a flat's title and directions need.
func captionHeight(title, says string, width float64) float64 {
	high := func(l Lettering, words string) float64 {
		return LineStep * l.Height() * float64(len(l.Wrap(words, width)))
	}
	return high(flatTitle, title) + high(flatSays, says) + 3
}

// columnOf is how wide a flat's title and directions run in a room.
func columnOf(f Flat, room float64) float64 { return math.Min(room, math.Max(f.W, 72)) }

func (p *templatePage) takes(f Flat) bool {
	return f.W <= p.w && captionHeight(f.Title, f.Says, columnOf(f, p.w))+f.H <= p.h
}

// caption writes a flat's title and directions at the top of the room left,
// and takes that much of the room.
func (p *templatePage) caption(f Flat, title string, width float64) {
	h := captionHeight(title, f.Says, width)
	below := p.Paragraph(p.x, p.y+4, width, flatTitle, title)
	p.Paragraph(p.x, below, width, flatSays, f.Says)
	p.y, p.h = p.y+h, p.h-h
}

// put places a flat in the room left, and sees what room is beside it.
func (p *templatePage) put(f Flat) {
	column := columnOf(f, p.w)
	top := p.y
	p.caption(f, f.Title, column)
	p.show(f, 0, 0, f.W, f.H)
	p.y, p.h = p.y+f.H+tileGap, p.h-f.H-tileGap
	p.side = Room{X: p.x + column + tileGap, Y: top, W: p.w - column - tileGap, H: p.y - tileGap - top}
}

// putBeside places a flat beside the last one, if there is room.
func (p *templatePage) putBeside(f Flat) bool {
	beside := &templatePage{Page: p.Page, x: p.side.X, y: p.side.Y, w: p.side.W, h: p.side.H}
	if columnOf(f, beside.w) < 60 || !beside.takes(f) {
		return false
	}
	beside.put(f)
	p.side = Room{}
	return true
}

// show puts the part of a flat from (x, y) on, in its millimetres, into the
// room's left upper corner.
func (p *templatePage) show(f Flat, x, y, w, h float64) {
	const pen = 0.5 // lines on the very edge show whole
	p.items = append(p.items, window{
		lo: onPaper(p.x-pen, p.y-pen), hi: onPaper(p.x+w+pen, p.y+h+pen),
		marks: rescaled(f.items, onPaper(p.x-x, p.y-y), 1),
	})
}

// grid says how a flat is cut into pages.
type grid struct {
	paper        Paper
	cols, rows   int
	w, h         float64 // what a page shows
	stepX, stepY float64
}

// longestTile is what a page of a larger flat adds to its title at most.
const longestTile = ": page AA99 of A1 to AA99"

// gridFor cuts a flat for a paper. Pages show the same width and height each,
// and neighbours share the overlap.
func (s *templateSheets) gridFor(paper Paper, f Flat) grid {
	p := s.blankPage(paper)
	g := grid{paper: paper, w: p.w, h: p.h - captionHeight(f.Title+longestTile, f.Says, p.w)}
	g.stepX, g.stepY = g.w-overlap, g.h-overlap
	g.cols = max(1, int(math.Ceil((f.W-overlap)/g.stepX)))
	g.rows = max(1, int(math.Ceil((f.H-overlap)/g.stepY)))
	return g
}

// tile spreads a flat over pages, upright or across, whichever takes fewer.
func (s *templateSheets) tile(f Flat) {
	f.Says += " Lay the pages over each other so that rings of the same name meet, see that long lines run straight, then tape them."
	g := s.gridFor(s.paper, f)
	if across := s.gridFor(s.paper.Across(), f); across.cols*across.rows < g.cols*g.rows {
		g = across
	}
	for row := range g.rows {
		for col := range g.cols {
			p := s.start(g.paper)
			p.pageMap(g, col, row)
			p.caption(f, fmt.Sprintf("%s: page %s of %s", f.Title, tileName(col, row), pagesWord(g)), p.w)
			x, y := float64(col)*g.stepX, float64(row)*g.stepY
			p.show(f, x, y, math.Min(g.w, f.W-x), math.Min(g.h, f.H-y))
			p.matches(g, f, col, row)
		}
	}
}

func pagesWord(g grid) string {
	return fmt.Sprintf("%s to %s", tileName(0, 0), tileName(g.cols-1, g.rows-1))
}

// tileName names a page by its column's letter and its row's number.
func tileName(col, row int) string {
	name := string(rune('A' + col%26))
	if col >= 26 {
		name = string(rune('A'+col/26-1)) + name
	}
	return fmt.Sprintf("%s%d", name, row+1)
}
