package drawing

import "math"

// sectionFigure is a section through the centre line: the triangle that the
// head's V length, the neck's and the proud tip make, and what stays whole.
func (g headV) sectionFigure(c *canvas) View {
	g.k = math.Min(132/g.faceV, 104/g.thickness)
	m := scale{pt{84, 0}, g.k}
	j := g.joinedPoints(m)
	j.headTop = j.o.add(j.along.times(194))
	j.headFoot = j.headTop.sub(j.square.times(j.o.to(j.back)))
	j.neckTop.x, j.neckFoot.x = 40, 40

	c.hatch([]pt{j.o, j.tip, j.tipOnFace})
	c.line(visible, j.neckTop, j.tip, j.tipFoot, j.neckFoot)
	c.line(visible, j.tipOnFace, j.headTop)
	under := meet(j.tipFoot, j.square, j.back, j.along)
	c.line(visible, j.tipFoot, under, j.headFoot)
	c.line(hidden, j.o, j.back, under)
	c.line(phantom, j.o, j.tipOnFace)
	c.breakLine(j.neckTop, j.neckFoot)
	c.breakLine(j.headTop, j.headFoot)
	c.note(pt{j.o.x + 26, j.back.y - 12}, start, "neck")
	c.note(j.headTop.mid(j.headFoot).sub(j.along.times(22)), middle, "head")
	g.sectionSizes(c, j)

	v := c.view("figure-section", "", "a section through the centre line")
	v.Title = "A section through the centre line"
	v.Desc = "The tip’s line stands square to the head’s face. With the V length along the head’s face and the longer V length along the neck’s face it makes a right-angled triangle, whose third side is the proud tip. Below the head’s face the tip’s line reaches the tip depth."
	return v
}

func (g headV) sectionSizes(c *canvas, j joinedPoints) {
	down := j.square.times(-1)
	c.dimension(dimension{from: j.neckFoot, to: j.neckTop, line: pt{18, 0}, along: pt{0, 1}, loose: true}, c.of("thickness"))
	c.dimension(dimension{from: j.o, to: j.tip, line: pt{0, j.o.y - 22}, along: pt{1, 0}}, c.of("face_v_length"))
	c.dimension(dimension{from: j.o, to: j.tipOnFace, line: j.o.add(down.times(26)), along: j.along, bareTo: true}, c.of("v_length"))
	beyond := 14 + 0.5*math.Max(0, 126-j.o.to(j.tip)) // clear of the back shift where the tongue is short
	line := j.tip.add(j.along.times(beyond))
	c.dimensionAside(dimension{from: j.tipOnFace, to: j.tip, line: line, along: j.square, reach: 48, bareFrom: true}, c.of("tip_proud"), start)
	a := j.tipFoot.onLine(line, j.square)
	reach := (j.headFoot.y+18-a.y)/down.y + ballRadius // below the break
	c.dimensionAside(dimension{from: j.tipOnFace, to: j.tipFoot, line: line, along: down, reach: reach, bareFrom: true}, c.of("tip_depth"), start)
	c.dimension(dimension{from: j.o, to: j.back, line: pt{0, j.back.y + 48}, along: pt{1, 0}, text: beyondFrom}, c.of("back_shift"))

	r := 178.0
	c.line(narrow, j.tip.add(pt{extGap, 0}), j.o.add(pt{r + 8, 0}))
	c.angle(angleArc{corner: j.o, r: r, a: -g.head, b: 0})
	c.write(onCircle(j.o, r+10, -g.head/2).add(pt{0, 5}), start, c.of("head_angle").text)
}
