package drawing

import "math"

// Places of the head's view: the cut end's station, and the dimension columns
// left of it and right of the break.
const (
	headEnd      = 106.0
	headBreak    = 320.0
	headMouthCol = headEnd - 22
	headFarCol   = headEnd - 62
	headTop      = 64.0
)

// headView is view C: the head seen square on its face, the socket's end to
// the left, the reference edge at the foot.
func (g headV) headView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	g.drawHead(c)
	v := c.view("head", "C", s.said("the head, seen square on its face", g.k))
	v.Title = "The head, seen square on its face"
	v.Desc = "A V-shaped socket in the head’s end, its centre line midway between the edges."
	return sheetView{c, v}
}

// drawHead draws the head and its dimensions, and says where the reference
// edge is on the paper.
func (g headV) drawHead(c *canvas) (footY float64) {
	m := scale{pt{headEnd, headTop + g.width*g.k}, g.k}
	axis := (g.near + g.far) / 2
	tip, mouth, mouthFar := m.at(g.vLength, axis), m.at(0, g.near), m.at(0, g.far)
	foot, top := m.at(0, 0), m.at(0, g.width)
	endFoot, endTop := pt{headBreak, foot.y}, pt{headBreak, top.y}

	c.line(visible, endTop, top, mouthFar, tip, mouth, foot, endFoot)
	c.breakLine(endTop, endFoot)
	c.line(centre, pt{headEnd - 14, tip.y}, pt{headBreak + 6, tip.y})
	c.datum(pt{headEnd + 76, foot.y}, "reference edge")
	c.faceMark(pt{headBreak - 26, foot.y}, pt{0, -1})

	c.dimension(dimension{from: top, to: tip, line: pt{0, headTop - 22}, along: pt{1, 0}, text: beyondTo}, c.of("v_length"))
	c.dimension(dimension{from: endFoot, to: endTop, line: pt{headBreak + 26, 0}, along: pt{0, 1}}, c.of("width"))
	g.mouthDimensions(c, foot, mouth, mouthFar)
	g.headAngle(c, tip)
	g.cheekLength(c, mouth, tip)
	return foot.y
}

// mouthDimensions puts the mouth and its near point in one column, the far
// point in a second one farther out.
func (g headV) mouthDimensions(c *canvas, foot, mouth, mouthFar pt) {
	col := pt{headMouthCol, 0}
	up := pt{0, -1}
	c.dimension(dimension{from: mouth, to: mouthFar, line: col, along: up}, c.of("v_width"))
	c.dimensionAside(dimension{from: mouth, to: foot, line: col, along: up, off: true, reach: 32}, c.of("mouth_near"), start)
	c.dimension(dimension{from: foot, to: mouthFar, line: pt{headFarCol, 0}, along: up}, c.of("mouth_far"))
}

// headAngle marks the half angle inside the socket, between the centre line
// and the far V line, its balloon in the wood beyond the tip.
func (g headV) headAngle(c *canvas, tip pt) {
	t := c.of("half_angle")
	if t.empty() {
		return
	}
	mouthLine := g.vLength * g.k / math.Cos(g.half)
	leave := c.angle(angleArc{corner: tip, r: arcRadius(g.half, mouthLine), a: pi - g.half, b: pi})
	ball := tip.add(pt{40, -38})
	if t.ball == nil {
		ball.x -= 18 // a text alone takes less room
	}
	c.callout(leave, ball, t, start)
}

// cheekLength measures the near V line from inside the wood.
func (g headV) cheekLength(c *canvas, mouth, tip pt) {
	n := tip.sub(mouth).unit().right()
	c.measure(ruler{from: mouth, to: tip, out: n, off: 23, inside: []float64{31, 39}}, "cheek_length")
}
