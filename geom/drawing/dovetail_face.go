package drawing

import "strings"

// faceView is view E: the tail board seen on its reference face, the end with
// the tails uppermost, the reference edge to the left.
func (g dovetail) faceView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	k := s.scaled(fitTo(g.width, 258, g.length, 130))
	at := func(y, down float64) pt { return pt{y * k, down * k} }
	base := g.length * k
	foot := base + 46
	g.tailOutline(c, at, foot)

	left, right := pt{0, foot}, pt{g.width * k, foot}
	c.breakLine(left, right)
	c.datumLeft(pt{0, base + 26})
	c.faceMark(pt{0, base + 36}, pt{1, 0})
	c.edgeName(pt{-9, base + 26}, foot+62)
	g.runningSizes(c, at)
	c.sized(dimension{from: left, to: right, line: pt{0, foot + 30}, along: pt{1, 0}, text: beyondTo}, "width")
	if n := c.of("tails"); n.text != "" {
		c.withRoom(n, func() { c.write(pt{right.x / 2, base + 31}, middle, countOf(bareValue(n.text), "tail")) })
	}

	v := c.view("tail-board", "E", s.said("the tail board, seen on its reference face"+g.drawnTails(s), k))
	v.Title = "The tail board, seen on its reference face"
	v.Desc = "The end is uppermost, the reference edge to the left. The tails are widest at the end; the rooms for the pins between them and the half-pins at both edges are waste and hatched" + g.drawnTails(s) + "."
	return sheetView{c, v}
}

// tailOutline draws the tails from the end to the baseline and the board down
// to its break; the end before sawing is a phantom line.
func (g dovetail) tailOutline(c *canvas, at func(y, down float64) pt, foot float64) {
	outline := []pt{{at(0, 0).x, foot}}
	var waste [][]pt
	for _, r := range g.rooms() {
		outline = append(outline, at(r.baseFrom, g.length), at(r.baseTo, g.length), at(r.to, 0), at(r.to+g.tail, 0))
		waste = append(waste, []pt{at(r.from, 0), at(r.to, 0), at(r.baseTo, g.length), at(r.baseFrom, g.length)})
		c.line(phantom, at(r.from, 0), at(r.to, 0))
		if r.to < g.width {
			c.line(narrow, at(r.baseTo, g.length), at(r.baseTo+g.narrow, g.length))
		}
	}
	outline = append(outline[:len(outline)-2], pt{at(g.width, 0).x, foot})
	c.hatch(waste...)
	c.line(visible, outline...)
	for _, y := range []float64{0, g.width} {
		c.line(phantom, at(y, 0), at(y, g.length))
	}
}

// Rows of dimensions above the tail board's end.
const (
	faceRow1 = -24.0
	faceRow2 = -54.0
	faceRow3 = -104.0
)

// runningSizes are the offsets on the end, all from the reference edge.
func (g dovetail) runningSizes(c *canvas, at func(y, down float64) pt) {
	along, origin := pt{1, 0}, at(0, 0)
	rows := []struct {
		id string
		to float64
		y  float64
	}{
		{"first_tail_start", g.first, faceRow1},
		{"second_tail_start", g.start(1), faceRow2},
		{"last_tail_end", g.end(g.tails - 1), faceRow3},
	}
	if g.tails < 2 {
		rows[1].id = ""
	}
	if c.sheet.Answers != nil && at(g.width, 0).x < 200 {
		// A small scale leaves the lines no room for answers.
		for i, r := range rows {
			y := faceRow1 - 2*float64(i)*hitRadius
			c.dimensionAside(dimension{from: at(r.to, 0), to: origin, line: pt{0, y}, along: pt{-1, 0}, off: true}, c.of(r.id), end)
		}
		return
	}
	c.firstSize(dimension{from: origin, to: at(g.first, 0), line: pt{0, faceRow1}, along: along, ball: beyondFrom, off: true, text: beyondFrom})
	for _, r := range rows[1:] {
		c.sized(dimension{from: origin, to: at(r.to, 0), line: pt{0, r.y}, along: along, share: 0.85}, r.id)
	}
}

// firstSize is the shortest offset: its balloon stands before the edge, an
// answer over that.
func (c *canvas) firstSize(d dimension) {
	t := c.of("first_tail_start")
	if t.ball == nil {
		c.dimension(d, t)
		return
	}
	ball := c.dimension(d, tag{ball: t.ball})
	if t.text != "" {
		c.write(pt{-5, ball.y - ringRadius - 6}, end, t.text)
	}
}

// edgeName names the reference edge, which runs upright, by a leader from its
// datum to words below the wood.
func (c *canvas) edgeName(from pt, y float64) {
	at := pt{from.x - 5, y - 5}
	c.line(narrow, from, pt{at.x, from.y + 5}, at, at.add(pt{6, 0}))
	c.note(pt{at.x + 10, y}, start, "reference edge")
}

// countOf is a count with its noun: "1 tail", "3 tails".
func countOf(n, noun string) string {
	if n == "1" {
		return n + " " + noun
	}
	return n + " " + noun + "s"
}

// bareValue is the value in a given text, without a symbol before it: "3" of
// "n = 3".
func bareValue(text string) string {
	_, value, found := strings.Cut(text, " = ")
	if !found {
		return text
	}
	return value
}

// datumLeft marks an upright edge that everything is measured from: a filled
// triangle that touches it from the left.
func (c *canvas) datumLeft(p pt) {
	c.put(solid{[]pt{p, p.add(pt{-9, -6}), p.add(pt{-9, 6})}})
}
