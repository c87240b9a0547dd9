package drawing

// pinsView is view B: the pin board's end and, below it, its inner face,
// unrolled about the arris they share.
func (g dovetail) pinsView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	k := g.drawPins(c)
	v := c.view("pin-board", "B", s.said("the pin board’s end and, below it, its inner face"+g.drawnTails(s), k))
	v.Title = "The pin board’s end and, below it, its inner face"
	v.Desc = "On the end the pins are narrow where the tails end and wide at the inner face. On the inner face their sides run square down to the baseline. The sockets for the tails are waste and hatched" + g.drawnTails(s) + "."
	return sheetView{c, v}
}

// drawPins draws end and face and says at what scale.
func (g dovetail) drawPins(c *canvas) float64 {
	k := c.sheet.scaled(fitTo(g.width, 240, g.pinBoard+g.pinLength, 150))
	lap := g.lap * k              // from the outer face to the narrow sides of the pins
	inner := g.pinBoard * k       // the arris between end and inner face
	base := inner + g.pinLength*k // the baseline on the inner face
	foot, far := base+34, g.width*k
	x := func(y float64) float64 { return y * k }
	d := g.offset()

	var waste [][]pt
	for t := range g.tails {
		from, to := x(g.start(t)), x(g.end(t))
		baseFrom, baseTo := x(g.start(t)+d), x(g.end(t)-d)
		waste = append(waste,
			[]pt{{from, lap}, {to, lap}, {baseTo, inner}, {baseFrom, inner}},
			[]pt{{baseFrom, inner}, {baseTo, inner}, {baseTo, base}, {baseFrom, base}})
		c.line(visible, pt{from, lap}, pt{baseFrom, inner}, pt{baseFrom, base}, pt{baseTo, base}, pt{baseTo, inner}, pt{to, lap})
		if g.lapped {
			c.line(visible, pt{from, lap}, pt{to, lap})
		}
	}
	c.hatch(waste...)
	c.line(visible, pt{0, foot}, pt{0, 0}, pt{far, 0}, pt{far, foot})
	c.line(visible, pt{0, inner}, pt{far, inner})
	c.breakLine(pt{0, foot}, pt{far, foot})
	c.datumLeft(pt{0, base + 17})
	c.faceMark(pt{0, base + 24}, pt{1, 0})
	c.edgeName(pt{-9, base + 17}, foot+82)
	g.pinSizes(c, k, lap, inner, base, foot)
	return k
}

// pinSizes are the sizes of the pins: narrow above the end, wide below the
// inner face.
func (g dovetail) pinSizes(c *canvas, k, lap, inner, base, foot float64) {
	along, far := pt{1, 0}, g.width*k
	x := func(y float64) float64 { return y * k }
	c.sized(dimension{from: pt{0, lap}, to: pt{x(g.first), lap}, line: pt{0, -46}, along: along}, "half_pin")
	if g.tails > 1 {
		d, last := g.offset(), g.tails-1
		c.sized(dimension{from: pt{x(g.end(0)), lap}, to: pt{x(g.start(1)), lap}, line: pt{0, -20}, along: along}, "pin")
		from, to := pt{x(g.start(last) + d), base}, pt{x(g.end(last-1) - d), base}
		t := c.of("pin_wide")
		wide := dimension{from: from, to: to, line: pt{0, foot + 42}, along: pt{-1, 0}, off: true, text: beyondFrom}
		if t.ball == nil {
			wide.text = beyondTo
		}
		c.dimension(wide, t)
	}
	t := c.of("pin_baseline")
	d := dimension{from: pt{far, inner}, to: pt{far, base}, line: pt{far + 28, 0}, along: pt{0, 1}, text: beyondFrom, off: true}
	if t.ball == nil {
		d.text = beyondTo
	}
	c.dimension(d, t)
}
