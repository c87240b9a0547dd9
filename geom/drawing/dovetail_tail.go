package drawing

// tailView is view D: one tail with the rooms beside it, enlarged.
func (g dovetail) tailView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	k := g.drawTail(c)
	v := c.view("tail", "D", s.said("one tail, enlarged, seen on the reference face", k))
	v.Title = "One tail, enlarged, seen on the reference face"
	v.Desc = "The tail’s wide end is uppermost. Below the baseline the board is whole; on both sides of the tail the waste is hatched."
	return sheetView{c, v}
}

// drawTail draws the tail and says at what scale.
func (g dovetail) drawTail(c *canvas) float64 {
	k := c.sheet.scaled(fitTo(g.tail, 150, g.length, 112, g.narrow/2+g.pinWide, 128))
	half, narrowHalf := g.tail/2*k, g.narrow/2*k
	base := g.length * k
	foot, side := base+30, narrowHalf+g.pinWide*k+16
	for _, turn := range []float64{-1, 1} {
		x := func(x float64) float64 { return turn * x }
		near, nearBase := half+g.pin*k, narrowHalf+g.pinWide*k
		c.hatch([]pt{{x(half), 0}, {x(near), 0}, {x(nearBase), base}, {x(narrowHalf), base}})
		c.line(visible, pt{0, 0}, pt{x(half), 0}, pt{x(narrowHalf), base}, pt{x(nearBase), base}, pt{x(near), 0}, pt{x(side), 0})
		c.line(phantom, pt{x(half), 0}, pt{x(near), 0})
		c.breakLine(pt{x(side), 0}, pt{x(side), foot})
	}
	c.line(narrow, pt{-narrowHalf, base}, pt{narrowHalf, base})
	c.breakLine(pt{-side, foot}, pt{side, foot})

	along := pt{1, 0}
	c.sized(dimension{from: pt{-half, 0}, to: pt{half, 0}, line: pt{0, -28}, along: along}, "tail_width")
	c.sized(dimension{from: pt{-narrowHalf, base}, to: pt{narrowHalf, base}, line: pt{0, foot + 28}, along: along}, "tail_at_baseline")
	return k
}

// flankView is view C: the corner of a tail, enlarged, with what the bevel is
// set to.
func (g dovetail) flankView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	g.drawFlank(c)
	v := c.view("flank", "C", "the corner of a tail, much enlarged, seen on the reference face")
	v.Title = "The corner of a tail, much enlarged, seen on the reference face"
	v.Desc = "The flank of the tail runs from the end to the baseline and leans in under the end. A line square to the end leaves the same corner."
	return sheetView{c, v}
}

func (g dovetail) drawFlank(c *canvas) {
	const base, right, left, foot, square = 104.0, 186.0, -74.0, 176.0, 160.0
	corner := pt{}
	flank := heading(-pi/2 + g.angle)
	at := func(y float64) pt { return flank.times(y / flank.y) }
	c.hatch([]pt{corner, at(base), {left, base}, {left, 0}})
	c.line(visible, pt{right, 0}, corner, at(base), pt{left, base})
	c.line(phantom, corner, pt{left, 0})
	c.line(narrow, at(base), pt{right, base})
	c.breakLine(pt{right, 0}, pt{right, foot})
	c.breakLine(pt{left, 0}, pt{left, foot})
	c.note(pt{right - 8, base - 8}, end, "tail")
	c.note(pt{right - 8, base + 18}, end, "baseline")
	c.note(pt{left + 4, -8}, start, "waste")

	if t := c.of("bevel_from_end"); !t.empty() {
		leave := c.angle(angleArc{corner: corner, r: 46, a: -pi/2 + g.angle, b: 0})
		c.callout(leave, pt{70, 46}, t, start)
	}
	if t := c.of("slope"); t.text != "" {
		p := at(84)
		c.line(narrow, p, p.add(pt{22, -4}))
		c.withRoom(t, func() { c.write(p.add(pt{26, 1}), start, "1 : "+bareValue(t.text)) })
	}
	if t := c.of("slope_angle"); !t.empty() {
		c.line(narrow, corner.add(pt{0, extGap}), pt{0, square + 8})
		c.line(narrow, at(base).add(flank.times(extGap)), flank.times(square+8))
		leave := c.angle(angleArc{corner: corner, r: square - 16, a: -pi / 2, b: -pi/2 + g.angle, tailA: 18, tailB: 34})
		c.callout(leave, leave.add(pt{34, 4}), t, start)
	}
}
