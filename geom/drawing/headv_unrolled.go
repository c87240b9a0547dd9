package drawing

import "math"

// neckFigure is the neck's face, reference edge and back, unrolled about the
// arrises into one strip: lines that meet at an arris meet here.
func (g headV) neckFigure(c *canvas) View {
	const end, stub = 262.0, 26.0
	g.k = math.Min(1.55, 104/g.width)
	u := unrolled{
		face: scale{pt{end - g.shoulder*g.k, g.width * g.k}, g.k},
		end:  end, stub: stub,
	}
	u.edge = scale{pt{u.face.o.x, u.face.o.y}, g.k}
	u.back = scale{pt{u.face.o.x, u.face.o.y + g.thickness*g.k}, g.k}
	g.unrolledWood(c, u)
	g.unrolledSizes(c, u)

	v := c.view("figure-neck", "", "the neck’s face, reference edge and back, unrolled")
	v.Title = "The neck’s face, reference edge and back, unrolled"
	v.Desc = "The shoulder line runs square across the face, slants away from the end across the edge, and runs square across the back. The V on the back is the V on the face, moved away from the end by the back shift. The waste is hatched."
	return v
}

// unrolled places the three surfaces: the face above, the back below with its
// far edge at the foot.
type unrolled struct {
	face, edge, back scale
	end, stub        float64
}

// onBack is a point of the back: x along the neck, y from the reference edge,
// which is uppermost there.
func (u unrolled) onBack(x, y float64) pt {
	p := u.back.at(x, 0)
	return pt{p.x, p.y + y*u.back.k}
}

func (g headV) unrolledWood(c *canvas, u unrolled) {
	axis := (g.near + g.far) / 2
	f := u.face
	face := []pt{f.at(0, 0), f.at(0, g.near), f.at(g.faceV, axis), f.at(0, g.far), f.at(0, g.width)}
	s := -g.backShift
	back := []pt{u.onBack(s, 0), u.onBack(s, g.near), u.onBack(s+g.faceV, axis), u.onBack(s, g.far), u.onBack(s, g.width)}
	ends := []pt{f.at(g.shoulder, g.width), f.at(g.shoulder, 0), u.onBack(g.shoulder, 0), u.onBack(g.shoulder, g.width)}

	c.hatch(append(append([]pt{}, face...), ends[0], ends[1]))
	c.hatch([]pt{face[0], back[0], ends[2], ends[1]})
	c.hatch(append(append([]pt{}, back...), ends[3], ends[2]))
	c.line(visible, append(append([]pt{{u.stub, face[4].y}}, face[4]), ends[0], ends[3], pt{u.stub, ends[3].y})...)
	c.line(visible, pt{u.stub, face[0].y}, ends[1])
	c.line(visible, pt{u.stub, back[0].y}, ends[2])
	c.line(visible, face...)
	c.line(visible, face[0], back[0])
	c.line(visible, back...)
	c.breakLine(pt{u.stub, face[4].y}, pt{u.stub, back[4].y})
	c.line(centre, pt{u.stub - 8, face[2].y}, pt{u.end + 12, face[2].y})
	c.line(centre, pt{u.stub - 8, back[2].y}, pt{u.end + 12, back[2].y})
	c.note(pt{u.stub + 10, face[4].y + 17}, start, "face")
	c.note(pt{u.stub + 10, (face[0].y+back[0].y)/2 + 5}, start, "reference edge")
	c.note(pt{u.stub + 10, back[4].y - 9}, start, "back")
}

func (g headV) unrolledSizes(c *canvas, u unrolled) {
	f := u.face
	axis := (g.near + g.far) / 2
	top, endTop := f.at(0, g.width), f.at(g.shoulder, g.width)
	along := pt{1, 0}
	c.dimension(dimension{from: top, to: f.at(g.faceV, axis), line: pt{0, top.y - 20}, along: along, text: beyondFrom, bareFrom: true}, c.of("face_v_length"))
	c.dimension(dimension{from: top, to: endTop, line: pt{0, top.y - 46}, along: along, text: beyondFrom}, c.of("shoulder_from_end"))
	backFoot := u.onBack(-g.backShift, g.width)
	c.dimension(dimension{
		from: backFoot, to: u.onBack(g.shoulder, g.width), line: pt{0, backFoot.y + 24}, along: along, text: beyondFrom,
	}, c.of("back_shoulder_from_end"))
	tip := f.at(g.faceV, axis)
	cheekLine := g.faceV * g.k / math.Cos(g.faceHalf)
	leave := c.angle(angleArc{corner: tip, r: arcRadius(g.faceHalf, cheekLine), a: pi, b: pi + g.faceHalf})
	c.callout(leave, pt{f.at(0, 0).x - 22, tip.y + 22}, c.of("face_half_angle"), end)
	g.slant(c, u)
}

// slant marks the angle of the shoulder on the edge, from square, and how far
// it has gone by the back.
func (g headV) slant(c *canvas, u unrolled) {
	o := u.edge.at(0, 0)
	square := pt{o.x, o.y + g.thickness*g.k}
	c.line(narrow, o, square)
	x := u.end + 16
	c.line(narrow, o.mid(square).add(pt{-2, 6}), pt{x, o.y + 12})
	c.write(pt{x + 4, o.y + 17}, start, c.of("head_angle").text)
	c.dimension(dimension{
		from: square, to: pt{o.x - g.backShift*g.k, square.y}, line: pt{0, square.y + 17}, along: pt{1, 0}, text: beyondTo,
	}, c.of("back_shift"))
}
