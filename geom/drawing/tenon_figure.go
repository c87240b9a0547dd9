package drawing

import (
	"math"
	"strconv"

	"arrisbook/geom/joint"
)

// tenonFigure draws one lesson figure: a view of the sheet, or the triangle of
// the splay.
func tenonFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	if name == "splay" {
		return newTenon(l).splayFigure(&canvas{sheet: Sheet{Given: labels(f, l)}}), nil
	}
	return sheetFigure(tenonSheet)(f, l, name)
}

// splayFigure is the triangle between the middles of the two legs: half the
// difference of the widths across, the depth less a leg along.
func (g tenon) splayFigure(c *canvas) View {
	across, along := (g.front-g.back)/2, g.depth-g.leg
	m := scale{k: fitTo(along, 230, across, 200)}
	front, back, square := m.at(0, 0), m.at(-across, along), m.at(0, along)
	half := g.leg / 2
	for _, middle := range []pt{{0, 0}, {-across, along}} {
		at := func(x, y float64) pt { return m.at(middle.x+x, middle.y+y) }
		c.outline(narrow, at(-half, -half), at(half, -half), at(half, half), at(-half, half))
	}
	c.line(visible, front, back)
	c.line(visible, back, square)
	c.line(visible, front, square)
	c.squareMark(square, back, front)
	c.mark(ruler{from: back, to: square, out: pt{0, -1}, off: half*m.k + 22}, "(F − B)/2 = "+written(across))
	c.mark(ruler{from: front, to: square, out: pt{1, 0}, off: half*m.k + 22}, "D − l = "+written(along))
	c.spread(opening{corner: front, a: pi / 2, b: pi/2 + g.splay, sideA: along * m.k, sideB: along * m.k, r: 0.6 * along * m.k}, "splay_angle")
	c.nameOut(back.add(front.sub(back).times(0.3)), pt{-1, 0}, "centre line")
	v := c.view("figure-splay", "", "the triangle between the middles of the two legs")
	v.Title = "The triangle between the middles of the two legs"
	v.Desc = "A line square to the front, as long as the depth less a leg, and half the difference of the two widths are the short sides. The rail’s centre line is the longest one."
	return v
}

// written is a length with at most two decimals.
func written(x float64) string { return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64) }
