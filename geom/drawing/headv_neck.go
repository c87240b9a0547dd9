package drawing

import "math"

// Places of the neck's view: the blank's cut end to the right, the break to
// the left, the rows of dimensions above and below.
const (
	neckEnd   = 274.0
	neckBreak = 22.0
	neckTop   = 78.0
	neckRow1  = neckTop - 22
	neckRow2  = neckRow1 - 27
	// neckRowBelow leaves room for the datum's name over a text of that row.
	neckRowBelow = 38.0
)

// neckView is view B: the neck marked out and not yet cut, seen on its face,
// the reference edge at the foot.
func (g headV) neckView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{pt{neckEnd - g.shoulder*g.k, neckTop + g.width*g.k}, g.k}
	n := g.neckPoints(m)
	g.neckOutline(c, n)
	c.datum(pt{neckBreak + 12, n.foot.y}, "reference edge")
	c.faceMark(pt{neckBreak + 26, n.foot.y}, pt{0, -1})

	along := pt{1, 0}
	inner := c.asks("shoulder_from_end") // its row, farther out, carries the extension line
	c.dimension(dimension{
		from: n.top, to: n.tip, line: pt{0, neckRow1}, along: along,
		text: beyondFrom, ball: beyondFrom, off: inner, bareFrom: inner,
	}, c.of("face_v_length"))
	c.dimension(dimension{
		from: n.top, to: n.endTop, line: pt{0, neckRow2}, along: along, text: beyondFrom, ball: beyondTo,
	}, c.of("shoulder_from_end"))
	c.dimension(dimension{
		from: n.backFoot, to: n.endFoot, line: pt{0, n.foot.y + neckRowBelow}, along: along, text: beyondFrom, ball: beyondTo,
	}, c.of("back_shoulder_from_end"))
	g.allowanceDim(c, n)
	g.neckAngle(c, n)

	if s.shows("cheek_tilt") {
		g.seenAlong(c, n)
	}
	v := c.view("neck", "B", s.said("the neck marked out, seen on its face", g.k))
	v.Title = "The neck marked out, seen on its face"
	v.Desc = "The tongue’s V and the shoulder line, the blank not yet cut; the waste is hatched, the shoulder line on the back is dashed."
	return sheetView{c, v}
}

// neckPoints are the corners of the neck's view on the paper.
type neckPoints struct {
	foot, top         pt // the shoulder line at the edges
	near, far, tip    pt
	endFoot, endTop   pt
	backFoot, backTop pt
}

func (g headV) neckPoints(m scale) neckPoints {
	return neckPoints{
		foot: m.at(0, 0), top: m.at(0, g.width),
		near: m.at(0, g.near), far: m.at(0, g.far), tip: m.at(g.faceV, (g.near+g.far)/2),
		endFoot: m.at(g.shoulder, 0), endTop: m.at(g.shoulder, g.width),
		backFoot: m.at(-g.backShift, 0), backTop: m.at(-g.backShift, g.width),
	}
}

func (g headV) neckOutline(c *canvas, n neckPoints) {
	c.hatch([]pt{n.foot, n.near, n.tip, n.far, n.top, n.endTop, n.endFoot})
	stubFoot, stubTop := pt{neckBreak, n.foot.y}, pt{neckBreak, n.top.y}
	c.line(visible, stubFoot, n.foot, n.near, n.tip, n.far, n.top, stubTop)
	c.line(phantom, n.foot, n.endFoot, n.endTop, n.top)
	c.line(hidden, n.backFoot, n.backTop)
	c.breakLine(stubTop, stubFoot)
	c.line(centre, pt{neckBreak - 10, n.tip.y}, pt{neckEnd + 14, n.tip.y})
	c.nameOut(pt{neckEnd - 4, n.foot.y - 10}, pt{1, 0.2}, "waste")
}

// allowanceDim measures what is left beyond the tip, inside the waste.
func (g headV) allowanceDim(c *canvas, n neckPoints) {
	y := n.top.y + 20
	c.dimension(dimension{
		from: n.tip, to: n.endTop, line: pt{0, y}, along: pt{1, 0}, bareTo: true, text: beyondTo,
		bareFrom: c.asks("face_v_length"),
	}, c.of("allowance"))
}

// neckAngle marks the angle between the centre line and the near cheek line,
// its balloon in the neck.
func (g headV) neckAngle(c *canvas, n neckPoints) {
	t := c.of("face_half_angle")
	if t.empty() {
		return
	}
	cheekLine := g.faceV * g.k / math.Cos(g.faceHalf)
	leave := c.angle(angleArc{corner: n.tip, r: arcRadius(g.faceHalf, cheekLine), a: pi, b: pi + g.faceHalf})
	ball := pt{n.backFoot.x - 32, n.tip.y + 30}
	c.callout(leave, ball, t, end)
}

// seenAlong is the arrow that says from where view D is seen: along the far
// cheek line, from beyond the tip.
func (g headV) seenAlong(c *canvas, n neckPoints) {
	u := n.far.sub(n.tip).unit()
	c.viewArrow(n.tip.sub(u.times(10)), u, 40, "D")
}
