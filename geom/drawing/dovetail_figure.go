package drawing

import "arrisbook/geom/joint"

// dovetailFigure draws one lesson figure: a view of the sheet, or the triangle
// of a flank.
func dovetailFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	if name == "triangle" {
		return newDovetail(l).flankTriangle(&canvas{sheet: Sheet{Given: labels(f, l)}}), nil
	}
	return sheetFigure(dovetailSheet)(f, l, name)
}

// flankTriangle is the triangle between the end, the baseline and a flank: the
// tail's length along, what the flank goes across over it.
func (g dovetail) flankTriangle(c *canvas) View {
	k := fitTo(g.length, 150, g.offset(), 90)
	top, square, foot := pt{}, pt{0, g.length * k}, pt{g.offset() * k, g.length * k}
	const left, right = -70.0, 150.0
	c.line(narrow, pt{left, 0}, pt{right, 0})
	c.line(narrow, pt{left, square.y}, pt{right, square.y})
	c.line(visible, top, square, foot)
	c.line(visible, top, foot)
	c.squareMark(square, top, foot)
	c.mark(ruler{from: square, to: top, out: pt{-1, 0}, off: 24}, c.of("tail_baseline").text)
	c.mark(ruler{from: square, to: foot, out: pt{0, 1}, off: 24}, "g₁/s = "+written(g.offset()))
	c.spread(opening{corner: top, a: -pi / 2, b: -pi/2 + g.angle, sideA: square.y, sideB: square.y, r: 0.62 * square.y}, "slope_angle")
	c.name(pt{right - 24, -7}, "end")
	c.name(pt{right - 34, square.y - 7}, "baseline")
	c.nameOut(top.mid(foot), pt{1, 0}, "flank")
	v := c.view("figure-triangle", "", "the triangle of a flank, between the end and the baseline")
	v.Title = "The triangle of a flank, between the end and the baseline"
	v.Desc = "A line square to the end, as long as the tail, and what the flank goes across over that length are the short sides. The flank is the longest. The slope angle lies at the end, between the square line and the flank."
	return v
}
