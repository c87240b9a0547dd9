package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// marksSketch is the blank's face with the edge folded down below it, the cut
// end to the left, and the marks of both.
func marksSketch(c *canvas, v joint.Values) View {
	const left, right, top, k = 66.0, 290.0, 40.0, 1.7
	edge := top + v["width"]*k
	foot := edge + v["thickness"]*k
	c.line(visible, pt{right, top}, pt{left, top}, pt{left, foot}, pt{right, foot})
	c.line(visible, pt{left, edge}, pt{right, edge})
	c.breakLine(pt{right, top}, pt{right, foot})

	touch := pt{170, edge}
	loop := touch.add(pt{-46, -20})
	c.put(ring{visible, loop, 10})
	c.put(stroke{visible, []step{{op: 'M', p: loop.add(pt{0, -10})}, {op: 'A', p: touch, r: 52, clockwise: true}}})
	c.line(visible, touch.add(pt{-14, 22}), touch, touch.add(pt{14, 22}))

	c.note(pt{left + 12, top + 22}, start, "reference face")
	c.note(pt{left + 8, foot - 12}, start, "ref. edge")
	c.note(pt{left - 8, (top + edge) / 2}, end, "cut")
	c.note(pt{left - 8, (top+edge)/2 + 16}, end, "end")
	c.dimension(dimension{from: pt{left, top}, to: pt{left + 86, top}, line: pt{0, top - 18}, bareTo: true}, words("station"))
	c.line(centre, pt{left + 86, top - 22}, pt{left + 86, top + 10})
	at := edge - 62
	c.line(narrow, pt{right - 70, at}, pt{right - 58, at})
	c.dimension(dimension{from: pt{right - 64, edge}, to: pt{right - 64, at}, line: pt{right - 64, 0}, bareFrom: true, bareTo: true}, tag{text: "offset"})
	view := c.view("", "", "the face, with the edge folded down")
	view.Title = "The marks of the reference face and the reference edge"
	view.Desc = "A loop on the face and a V on the edge touch at the arris between them. Stations run from the cut end, offsets from the reference edge."
	return view
}

// windingSketch looks along a board over two strips, twice.
func windingSketch(c *canvas, _ joint.Values) View {
	for i, turn := range []float64{0, 5 * radian} {
		x := 10 + float64(i)*176
		mid := pt{x + 79, 50}
		far := make([]pt, 0, 4)
		for _, p := range []pt{{-62, -6}, {62, -6}, {62, 6}, {-62, 6}} {
			far = append(far, mid.add(heading(turn).times(p.x)).add(pt{0, p.y}))
		}
		c.outline(visible, far...)
		c.bar(visible, pt{x, 78}, pt{x + 158, 94})
		c.bar(narrow, pt{x + 14, 94}, pt{x + 144, 116})
		c.note(pt{x + 79, 140}, middle, [2]string{"true", "in wind"}[i])
	}
	c.note(pt{89, 32}, middle, "far strip")
	c.note(pt{89, 91}, middle, "near strip")
	view := c.view("", "", "looking along the board")
	view.Title = "Winding sticks on a true board and on a board in wind"
	view.Desc = "On the true board the far strip is level with the near one. On the board in wind one end of the far strip stands higher."
	return view
}

// stockSketch shows the blank's end four times, with the square on each side.
func stockSketch(c *canvas, v joint.Values) View {
	names := []string{"face", "ref. edge", "far edge", "back"}
	k := 46 / v["width"]
	w, h := 46.0, math.Max(18, v["thickness"]*k*1.4)
	for i, name := range names {
		o := pt{26 + float64(i)*86, 56}
		c.bar(visible, o, o.add(pt{w, h}))
		c.squareOn(i, o, w, h)
		c.put(text{at: o.add(pt{-14, -26}), size: sizeText, words: string(rune('1' + i)), face: strong})
		c.note(o.add(pt{w / 2, h + 42}), middle, name)
	}
	view := c.view("", "", "the blank’s end, face up, reference edge to the left")
	view.Title = "Where the stock of the square lies for each of the four lines"
	view.Desc = "One: line on the face, stock on the reference edge. Two: line on the reference edge, stock on the reference face. Three: line on the far edge, stock on the reference face. Four: line on the back, stock on the reference edge."
	return view
}

// squareOn draws the square's blade along one side of an end at o and its
// stock, hatched, on the side it is held to.
func (c *canvas) squareOn(side int, o pt, w, h float64) {
	const blade, stock, off = 3.0, 9.0, 2.5
	var thin, thick [2]pt
	switch side {
	case 0: // blade on the face, stock on the reference edge
		thin = [2]pt{{-off - stock, -off - blade}, {w + 10, -off}}
		thick = [2]pt{{-off - stock, -off}, {-off, h + 8}}
	case 1: // blade on the reference edge, stock on the face
		thin = [2]pt{{-off - blade, -off - stock}, {-off, h + 12}}
		thick = [2]pt{{-off, -off - stock}, {w * 0.8, -off}}
	case 2: // blade on the far edge, stock on the face
		thin = [2]pt{{w + off, -off - stock}, {w + off + blade, h + 12}}
		thick = [2]pt{{w * 0.2, -off - stock}, {w + off, -off}}
	default: // blade on the back, stock on the reference edge
		thin = [2]pt{{-off - stock, h + off}, {w + 10, h + off + blade}}
		thick = [2]pt{{-off - stock, -8}, {-off, h + off}}
	}
	c.put(solid{rectangle(o.add(thin[0]), o.add(thin[1]))})
	c.bar(narrow, o.add(thick[0]), o.add(thick[1]))
	c.hatchEvery(4, rectangle(o.add(thick[0]), o.add(thick[1])))
}

// reversalSketch is a line struck twice from one nick, the second time with
// the square turned over; the lean is drawn larger than it is.
func reversalSketch(c *canvas, v joint.Values) View {
	const lean = 7 * radian
	c.reversed(lean, "reach", "spread")
	view := c.view("", "", "the lean is drawn larger than it is")
	view.Title = "A try square proved by reversal"
	view.Desc = "From one nick on the reference edge two lines lean to either side of a line square to the edge. The spread is measured between them at the reach of the blade."
	return view
}

// reversed draws an edge, a nick on it and two lines that lean to either side,
// with the height and the spread as dimensions.
func (c *canvas) reversed(lean float64, high, wide string) {
	const base, tall = 210.0, 160.0
	nick := pt{170, base}
	l := nick.add(pt{-tall * math.Tan(lean), -tall})
	r := nick.add(pt{tall * math.Tan(lean), -tall})
	c.line(visible, pt{16, base}, pt{300, base})
	c.datum(pt{30, base}, "reference edge")
	c.line(visible, l, nick, r)
	c.line(centre, nick.add(pt{0, 8}), nick.add(pt{0, -tall - 4}))
	c.dimension(dimension{from: l, to: r, line: pt{0, l.y - 24}, along: pt{1, 0}}, c.of(wide))
	c.dimension(dimension{from: pt{nick.x, base}, to: r, line: pt{math.Max(r.x, 236) + 36, 0}, along: pt{0, 1}, bareFrom: true}, c.of(high))
	c.note(nick.add(pt{16, 18}), start, "nick")
}

// unrolledSketch lays the four sides flat with the two chains of lines; the
// lean is drawn larger than it is.
func unrolledSketch(c *canvas, v joint.Values) View {
	const left, right, top, lean = 96.0, 330.0, 20.0, 9 * radian
	k := 190 / (2 * (v["width"] + v["thickness"]))
	high := []float64{v["thickness"] * k, v["width"] * k, v["thickness"] * k, v["width"] * k}
	y := top
	for i, name := range []string{"far edge", "face", "ref. edge", "back"} {
		c.line(visible, pt{left, y}, pt{right, y})
		c.note(pt{left - 8, y + high[i]/2 + 5}, end, name)
		y += high[i]
	}
	c.line(visible, pt{left, y}, pt{right, y})
	c.line(visible, pt{left, top}, pt{left, y})
	c.breakLine(pt{right, top}, pt{right, y})
	begin := pt{210, top + high[0] + high[1]}
	drift := (begin.y - top) * math.Tan(lean)
	up, down := pt{begin.x + drift, top}, pt{begin.x - drift, y}
	c.line(visible, down, begin, up)
	c.put(ring{ink, begin, 3.5})
	c.line(hidden, up, pt{up.x, y})
	c.dimension(dimension{from: down, to: pt{up.x, y}, line: pt{0, y + 26}, along: pt{1, 0}}, c.of("misclose"))
	view := c.view("", "", "the lean is drawn larger than it is")
	view.Title = "The four sides of the blank laid flat, with a line carried round"
	view.Desc = "From one nick the line leans one way over face and far edge, the other way over reference edge and back. At the last arris the two ends are apart by the misclose."
	return view
}
