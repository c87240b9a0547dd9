package drawing

import "math"

// endView is view D: across one cheek, cut square to its line on the neck's
// face, so that the tilt from square is seen in its true size.
func (g headV) endView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	t := c.of("cheek_tilt")
	const x, y, left, right = 206.0, 44.0, 70.0, 306.0
	k := s.scaled(math.Min(4, 104/g.thickness))
	high := g.thickness * k
	face := pt{x, y}
	back := pt{x - high*math.Tan(g.tilt), y + high}

	c.hatch([]pt{face, {right, y}, {right, y + high}, back})
	c.line(visible, pt{left, y}, face, back, pt{left, y + high})
	c.line(phantom, face, pt{right, y}, pt{right, y + high}, back)
	c.breakLine(pt{left, y}, pt{left, y + high})
	c.note(pt{left + 8, y - 8}, start, "neck’s face")
	c.note(pt{left + 14, y + high/2 + 4}, start, "tongue")
	c.note(pt{right + 6, y + high/2 + 4}, start, "waste")

	r := high + 38
	c.line(narrow, face, pt{x, y + r + 10})
	ext := heading(-pi/2 - g.tilt)
	c.line(narrow, back.add(ext.times(extGap)), face.add(ext.times(r+10)))
	if !t.empty() {
		leave := c.angle(angleArc{corner: face, r: r, a: -pi/2 - g.tilt, b: -pi / 2, tailA: 18, tailB: 34})
		ball := leave.add(heading(-pi/2 + 34/r).left().times(30))
		c.callout(leave, ball, t, start)
		c.note(pt{x + 5, y + r + 16}, start, "square")
	}
	v := c.view("end", "D", s.said("across one cheek, square to its line on the neck’s face", k))
	v.Title = "Across one cheek, square to its line on the neck’s face"
	v.Desc = "The tongue with the neck’s face up. The cheek leans under the face, away from the line that stands square to it."
	return sheetView{c, v}
}
