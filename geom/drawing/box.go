package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// The splayed box: a ring whose sides are level at top and bottom.
var boxPainter = painter{
	sheet:    boxSheet,
	fit:      boxFit,
	figures:  []string{"section", "side", "corner", "butt", "plan", "last-joint"},
	figure:   hoopFigures{boxSheet, newBoxHoop, "sides", "mitre_bevel"}.draw,
	problems: needsParts([]string{"mitre_bevel", "slant_height"}, "face_angle"),
	scale:    func(l joint.Layout) float64 { return hoopFitScale(l.Parameters["thickness"]) },
	template: boxTemplate,
}

func newBoxHoop(l joint.Layout) (hoopCorner, bool) {
	h, ok := newHoop("splayed-box", l, l.Parameters["tilt"], l.Parameters["sides"])
	if !ok {
		return hoopCorner{}, false
	}
	return h.corner()
}

func boxSheet(l joint.Layout, s Sheet) []sheetView {
	k, ok := newBoxHoop(l)
	if !ok {
		return nil
	}
	views := []sheetView{
		k.boxSection(s), k.boxSide(s, l.Quantities["face_angle"]*radian),
		k.cornerView(s, "C", "mitre_bevel", "corner_angle"),
	}
	if _, butted := l.Quantities["butt_bevel"]; butted {
		views = append(views, k.buttView(s))
	}
	return views
}

// boxSection is view A: one side cut upright, its outside to the right.
func (h hoop) boxSection(s Sheet) sheetView {
	c := &canvas{sheet: s}
	_, faces := section(h.parts[:1], geom.Plane{N: geom.Vec{Y: -1}})
	low, high := between(h.lowLeft, h.lowRight), between(h.highLeft, h.highRight)
	m := scale{k: s.scaled(math.Min(190/(high.X-low.X+h.thickness), 240/(high.Z-low.Z)))}
	st := stage{fromEdge, m}
	c.hatchFaces(st, faces)
	for _, g := range faces {
		c.outline(visible, st.outline(g)...)
	}
	top, foot := st.on(high), st.on(low)
	in := st.on(geom.Vec{X: low.X - h.thickness/math.Cos(h.lean), Z: low.Z})
	c.measure(ruler{from: foot, to: top, out: st.runs(h.outside.N), off: 34, inside: []float64{58, 82}}, "slant_height")
	c.spread(opening{corner: top, a: -pi / 2, b: -pi/2 - h.lean, sideB: top.to(foot), r: 0.55 * top.to(foot)}, "tilt")
	c.measure(ruler{from: in, to: pt{in.x, top.y}, along: pt{0, -1}, out: pt{-1, 0}, off: 26}, "height")
	c.name(in.mid(top).sub(pt{70, 0}), "inside")
	other := h.counted(c, top.sub(pt{4, 0}), pt{1, -1}, "sides", "sides")
	v := c.view("section", "A", s.said("one side cut upright, its outside to the right", m.k)+other)
	v.Title = "One side cut upright, its outside to the right"
	v.Desc = "The side leans outward. The tilt is counted from vertical, the height is plumb, the slant height runs up the face."
	return sheetView{c, v}
}

// boxSide is view B: a side's outside face, the bottom edge at the foot.
func (h hoop) boxSide(s Sheet, slant float64) sheetView {
	c := &canvas{sheet: s}
	cam := h.sideFace()
	m := scale{k: s.scaled(roomFor(h.parts[:1], cam, 290, 150))}
	st := stage{cam, m}
	c.surface(st, h.parts[:1])
	corner, top := st.on(h.lowRight), st.on(h.highRight)
	c.spread(opening{corner: corner, a: pi/2 - slant, b: pi / 2, sideA: corner.to(top), r: 0.6 * corner.to(top)}, "face_angle")
	c.name(st.on(between(h.lowLeft, h.lowRight)).add(pt{0, 22}), "bottom edge")
	c.name(st.on(between(h.lowLeft, h.highRight)).sub(pt{60, 0}), "outside face")
	v := c.view("side", "B", s.said("one side, seen square on its outside face", m.k))
	v.Title = "One side, seen square on its outside face"
	v.Desc = "Its ends slant outward going up. The face angle is counted from square to the bottom edge."
	return sheetView{c, v}
}

// buttView is view D: a corner where one side ends against the other's inside
// face, cut square to its line.
func (k hoopCorner) buttView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: k.cornerK(s)}
	st := stage{k.camera, m}
	stop, ends, through := k.butt()
	c.hatch(st.outline(ends))
	c.hatch(st.outline(through))
	c.outline(visible, st.outline(ends)...)
	c.outline(visible, st.outline(through)...)
	k.cornerBreaks(c, st)
	at := st.on(stop)
	line := st.runs(k.next) // the next side's inside face, carried on outward
	if line.y > 0 {
		line = line.times(-1)
	}
	c.spread(opening{corner: at, a: st.headingOf(k.firstN), b: math.Atan2(-line.y, line.x), r: 44}, "butt_bevel")
	v := c.view("butt", "D", s.said("a butted corner, cut square to its line", m.k))
	v.Title = "A butted corner, cut square to its line"
	v.Desc = "One side ends against the inside face of the next. Its bevel is counted from square to its own outside face."
	return sheetView{c, v}
}

// butt is the butted corner in its section: where the side that stops meets
// the other's inside on its own outside face, and the outlines of both.
func (k hoopCorner) butt() (stop geom.Vec, ends, through geom.Polygon) {
	d := geom.Plane{N: k.toward, D: geom.Dot(k.toward, k.outer)}
	point := func(a, b geom.Plane) geom.Vec {
		v, _ := geom.Corner(a, b, d)
		return v
	}
	long := cornerShown * k.thickness
	end := geom.Along(k.outer, long, k.first)
	far := geom.Along(k.outer, long, k.next)
	stop = point(k.outside, k.within)
	ends = geom.Polygon{stop, point(k.inside, k.within), geom.Along(end, -k.thickness, k.firstN), end}
	through = geom.Polygon{stop, k.outer, far, geom.Along(far, -k.thickness, k.nextN)}
	return stop, ends, through
}
