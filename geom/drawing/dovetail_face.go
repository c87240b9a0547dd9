package drawing

import "strings"

// Rows of dimensions above the tail board's end.
const (
	faceRow1 = -24.0
	faceRow2 = -54.0
	faceRow3 = -104.0
)

// faceView is view A: the tail board seen on its reference face, the end with
// the tails uppermost, the reference edge to the left.
func (g dovetail) faceView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	k := fitTo(g.width, 258, g.length, 130)
	at := func(y, down float64) pt { return pt{y * k, down * k} }
	base := g.length * k
	foot := base + 46
	g.tailOutline(c, at, foot)

	left, right := pt{0, foot}, pt{g.width * k, foot}
	c.breakLine(left, right)
	c.datumLeft(pt{0, base + 26})
	c.note(pt{9, base + 31}, start, "reference edge")
	if n := c.of("tails"); n.text != "" {
		c.write(pt{g.width*k - 10, base + 31}, end, bareValue(n.text)+" tails")
	}
	g.runningSizes(c, at)
	c.dimension(dimension{from: left, to: right, line: pt{0, foot + 30}, along: pt{1, 0}}, c.of("width"))

	v := c.view("tail-board", "B", "the tail board, seen on its reference face"+g.drawnTails(s))
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

// runningSizes are the offsets on the end, all from the reference edge.
func (g dovetail) runningSizes(c *canvas, at func(y, down float64) pt) {
	along, origin := pt{1, 0}, at(0, 0)
	first := c.of("first_tail_start")
	d := dimension{from: origin, to: at(g.first, 0), line: pt{0, faceRow1}, along: along, ball: beyondFrom, off: true, text: beyondFrom}
	if first.ball != nil {
		ball := c.dimension(d, tag{ball: first.ball})
		if first.text != "" {
			c.write(pt{-5, ball.y - ringRadius - 6}, end, first.text)
		}
	} else {
		c.dimension(d, first)
	}
	if g.tails > 1 {
		c.dimension(dimension{from: origin, to: at(g.start(1), 0), line: pt{0, faceRow2}, along: along}, c.of("second_tail_start"))
	}
	c.dimension(dimension{from: origin, to: at(g.end(g.tails-1), 0), line: pt{0, faceRow3}, along: along, share: 0.88}, c.of("last_tail_end"))
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
