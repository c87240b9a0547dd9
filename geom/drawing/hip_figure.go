package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// hipFigure draws the roof's lesson figures: its sheet views, and both
// triangles on one rise.
func hipFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	if name != "triangles" {
		return sheetFigure(hipSheet)(f, l, name)
	}
	return newHip(l).trianglesFigure(&canvas{sheet: Sheet{Given: labels(f, l)}}), nil
}

// trianglesFigure is the common rafter and the hip over their own level ways,
// with the rise they share.
func (g hip) trianglesFigure(c *canvas) View {
	run := g.span / 2
	long := run * math.Sqrt2
	m := scale{k: math.Min(270/long, 220/g.high)}
	top, foot := m.at(0, g.high), m.at(0, 0)
	common, hipFoot := m.at(-run, 0), m.at(-long, 0)
	c.line(visible, hipFoot, foot, top)
	c.line(visible, common, top)
	c.line(visible, hipFoot, top)
	c.spread(opening{corner: common, a: 0, b: g.pitch, sideA: common.to(foot), sideB: common.to(top), r: math.Max(40, 25/g.pitch)}, "pitch_angle")
	c.spread(opening{corner: top, a: -pi/2 - g.plumb, b: -pi / 2, sideA: top.to(hipFoot), sideB: top.to(foot), r: 54}, "hip_plumb")
	c.measure(ruler{from: hipFoot, to: top, out: top.sub(hipFoot).unit().left(), off: 24}, "hip_length")
	c.pointOut(common.mid(top), pt{1, 1}, "common_length")
	down := pt{0, 1}
	c.mark(ruler{from: common, to: foot, out: down, off: 24}, "the common’s way")
	c.mark(ruler{from: hipFoot, to: foot, out: down, off: 50}, "the hip’s way")
	v := c.view("figure-triangles", "", "both rafters over their own level ways, on one rise")
	v.Title = "Both rafters over their own level ways, on one rise"
	v.Desc = "The common rafter and the hip rise equally high. The hip’s level way is the diagonal of the common rafter’s square, so it is longer and the hip lies flatter."
	return v
}
