package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// offsetsSketch is the triangle of offsets on a base board.
func offsetsSketch(c *canvas, v joint.Values) View {
	const base, tall = 206.0, 150.0
	lean := v["angle"] * radian
	foot := pt{120, base}
	prick := foot.add(pt{0, -tall})
	hit := foot.add(pt{tall * math.Tan(lean), 0})
	c.line(visible, pt{30, base}, pt{330, base})
	c.line(visible, prick, foot)
	c.line(visible, prick, hit)
	c.line(narrow, prick.add(pt{0, -4}), prick.add(pt{0, -22}))
	c.dimension(dimension{from: foot, to: prick, line: pt{foot.x - 34, 0}, along: pt{0, 1}, bareFrom: true}, c.of("along"))
	c.dimension(dimension{from: foot, to: hit, line: pt{0, base + 30}, along: pt{1, 0}}, c.of("across"))
	leave := c.angle(angleArc{corner: prick, r: arcRadius(lean, tall), a: -pi / 2, b: -pi/2 + lean})
	c.callout(leave, pt{hit.x + 26, prick.y + 40}, c.of("angle"), start)
	c.note(pt{330, base - 8}, end, "true edge")
	view := c.view("", "", "the base board, true edge toward you")
	view.Title = "The triangle of offsets"
	view.Desc = "A line is squared up from the true edge and one length is laid off along it. From its foot the other length is laid off along the edge. The line between the two ends leans by the angle from square."
	return view
}

// readingsSketch reads one line three ways: from square, from the edge, and on
// the blade's other side.
func readingsSketch(c *canvas, v joint.Values) View {
	const base = 190.0
	lean := v["angle"] * radian
	o := pt{170, base}
	c.line(visible, pt{24, base}, pt{330, base})
	c.line(centre, o.add(pt{0, 6}), o.add(pt{0, -158}))
	c.line(visible, o, o.add(heading(pi/2-lean).times(168)))
	whole := v["angle"]
	arcs := []struct {
		r, a, b, at float64
		anchor      anchor
		value       float64
		from        string
	}{
		{132, pi / 2, pi/2 - lean, 0, start, whole, "from square"},
		{62, 0, pi/2 - lean, 0.35, start, 90 - whole, "from the edge"},
		{62, pi/2 - lean, pi, pi - 0.7, end, 90 + whole, "other side"},
	}
	for i, a := range arcs {
		leave := c.angle(angleArc{corner: o, r: a.r, a: a.a, b: a.b})
		at := onCircle(o, a.r, a.at)
		if i == 0 {
			at = pt{252, base - 128}
			c.line(narrow, leave, at.add(pt{-4, -5}))
		}
		off := 10.0
		if a.anchor == end {
			off = -10
		}
		c.write(at.add(pt{off, -4}), a.anchor, degrees(a.value))
		c.note(at.add(pt{off, 12}), a.anchor, a.from)
	}
	view := c.view("", "", "one line, read three ways")
	view.Title = "One line and three readings of it"
	view.Desc = "A line leans to the right of a line square to the edge. From square it is a small angle, from the edge the rest to ninety, and on the other side of the blade ninety and the angle together."
	return view
}

// bevelReversalSketch proves a setting: the same line struck with the bevel
// both ways up.
func bevelReversalSketch(c *canvas, v joint.Values) View {
	c.reversed(math.Min(v["angle"], 24)*radian, "along", "spread")
	view := c.view("", "", "the bevel proved by reversal")
	view.Title = "A bevel setting proved by reversal"
	view.Desc = "From one nick on the edge two lines lean to either side by the same angle. With the edge they make a triangle with two equal sides. The spread is measured between them at a known height."
	return view
}

// endAndEdgeSketch is one line on a board's corner, with the bevel's stock on
// the end and on the edge. The slope is drawn larger than it is.
func endAndEdgeSketch(c *canvas, v joint.Values) View {
	const left, top, right, foot = 70.0, 50.0, 260.0, 260.0
	lean := math.Max(v["slope_angle"], 22) * radian
	c.line(visible, pt{right, top}, pt{left, top}, pt{left, foot})
	c.breakLine(pt{right, top}, pt{right, foot})
	c.breakLine(pt{left, foot}, pt{right, foot})
	from := pt{left + 92, top}
	low := pt{left, top + 92/math.Tan(lean)}
	for low.y > foot-10 {
		from.x -= 4
		low.y = top + (from.x-left)/math.Tan(lean)
	}
	c.line(visible, from, low)
	c.note(pt{right - 4, top - 10}, end, "end")
	c.note(pt{left - 10, foot - 60}, end, "edge")
	onEnd := c.angle(angleArc{corner: from, r: 40, a: pi, b: pi + pi/2 - lean})
	c.callout(onEnd, pt{left - 20, top + 74}, c.of("bevel_from_end"), end)
	onEdge := c.angle(angleArc{corner: low, r: arcRadius(lean, 90), a: pi / 2, b: pi/2 - lean})
	c.callout(onEdge, low.add(pt{70, -24}), c.of("slope_angle"), start)
	view := c.view("", "", "the slope is drawn larger than it is")
	view.Title = "One line, measured from the end and from the edge"
	view.Desc = "A line runs from the end of a board to its edge. Against the end it makes the bevel’s angle, against the edge the slope angle."
	return view
}
