package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// hip is the roof over one corner: the plates along x and y, z up. Timber is
// shown as thick as the solids have it.
type hip struct {
	hip, common             []joint.Part
	rise, run, span         float64
	pitch, plumb, backing   float64 // radians
	commonLength, hipLength float64
	high                    float64 // the ridge above the plates
}

func newHip(l joint.Layout) hip {
	p, q := l.Parameters, l.Quantities
	f, _ := joint.Lookup("hip-rafter")
	parts, _ := f.Pieces(l.Parameters) // there are some: the painter has asked
	g := hip{
		rise: p["rise"], run: p["run"], span: p["span"],
		pitch: q["pitch_angle"] * radian, plumb: q["hip_plumb"] * radian, backing: q["backing_angle"] * radian,
		commonLength: q["common_length"], hipLength: q["hip_length"],
		high: p["span"] / 2 * p["rise"] / p["run"],
	}
	for i := range parts {
		if parts[i].Name == "hip" {
			g.hip = parts[i : i+1]
		} else {
			g.common = parts[i : i+1]
		}
	}
	return g
}

var hipPainter = painter{
	sheet:    hipSheet,
	fit:      hipFit,
	figures:  []string{"plan", "common", "hip", "section", "triangles"},
	figure:   hipFigure,
	problems: needsParts([]string{"common_length", "hip_length", "pitch_angle", "backing_angle"}, "hip_plumb", "roof_dihedral"),
	scale:    func(l joint.Layout) float64 { return hipFitScale },
	template: hipTemplate,
}

func hipSheet(l joint.Layout, s Sheet) []sheetView {
	g := newHip(l)
	return []sheetView{g.planView(s), g.commonView(s), g.hipView(s), g.sectionView(s)}
}

// planView is view A: one end of the roof from above, as lines.
func (g hip) planView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(math.Min(240/(0.85*g.span), 260/g.span))}
	end := 0.85 * g.span
	c.line(visible, m.at(end, 0), m.at(0, 0), m.at(0, g.span), m.at(end, g.span))
	ridge := m.at(g.span/2, g.span/2)
	c.line(visible, m.at(0, 0), ridge, m.at(0, g.span))
	c.line(visible, ridge, m.at(end, g.span/2))
	c.line(narrow, m.at(g.span/2, 0), ridge)
	c.breakLine(m.at(end, g.span), m.at(end, 0))
	c.measure(ruler{from: m.at(0, 0), to: m.at(0, g.span), out: pt{-1, 0}, off: 26}, "span")
	c.nameOut(m.at(g.span/4, g.span/4), pt{-1, -1}, "hip")
	c.nameOut(m.at(g.span/2, g.span/5), pt{1, 0}, "common rafter")
	c.nameOut(m.at(0.68*g.span, g.span/2), pt{1, -1}, "ridge")
	c.nameOut(m.at(0.3*g.span, 0), pt{1, 1}, "plate")
	v := c.view("plan", "A", s.said("one end of the roof, seen from above", m.k))
	v.Title = "One end of the roof, seen from above"
	v.Desc = "The hips run in plan at half a right angle from the plates’ corners to the ridge. The span is the whole building’s width."
	return sheetView{c, v}
}

// commonView is view B: a common rafter from the side.
func (g hip) commonView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	cam := camera{geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}}
	m := scale{k: s.scaled(math.Min(250/(g.span/2), 250/g.high))}
	st := stage{cam, m}
	c.surface(st, g.common)
	foot, head := m.at(0, 0), m.at(g.span/2, g.high)
	level := m.at(g.span/2, 0)
	c.line(narrow, foot, level, head)
	along := head.sub(foot).unit()
	c.measure(ruler{from: foot, to: head, out: along.left(), off: 30, inside: []float64{54}}, "common_length")
	c.spread(opening{corner: foot, a: 0, b: g.pitch, sideA: foot.to(level), sideB: foot.to(head), r: math.Max(0.42*foot.to(level), 25/g.pitch)}, "pitch_angle")
	g.slopeTriangle(c, foot, head)
	v := c.view("common", "B", s.said("a common rafter, seen from the side", m.k))
	v.Title = "A common rafter, seen from the side"
	v.Desc = "Its theory length runs along the top, from the plate to the middle of the ridge, over half the span. The small triangle shows the rise in the run."
	return sheetView{c, v}
}

// slopeTriangle is the rise in the run, beside the rafter.
func (g hip) slopeTriangle(c *canvas, foot, head pt) {
	u := head.sub(foot).unit()
	wide, high := 62.0, 62.0*g.rise/g.run
	if high > 96 {
		wide, high = wide*96/high, 96
	}
	o := foot.add(u.times(0.3 * foot.to(head))).add(pt{-wide - 16, -high - 56})
	corner := o.add(pt{0, 0})
	low, right := corner.add(pt{0, high}), corner.add(pt{wide, 0})
	c.outline(narrow, low, corner, right)
	c.measure(ruler{from: corner, to: right, out: pt{0, -1}, off: 16}, "run")
	c.measure(ruler{from: low, to: corner, out: pt{-1, 0}, off: 16}, "rise")
}

// hipView is view C: the hip from the side, square to its plan.
func (g hip) hipView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	cam := look(geom.Vec{X: 1, Y: -1}, geom.Vec{Z: 1})
	m := scale{k: s.scaled(roomFor(g.hip, cam, 250, 250))}
	st := stage{cam, m}
	c.surface(st, g.hip)
	foot, head := st.on(geom.Vec{}), st.on(geom.Vec{X: g.span / 2, Y: g.span / 2, Z: g.high})
	level := pt{head.x, foot.y}
	c.line(narrow, foot, level, head)
	along := head.sub(foot).unit()
	c.measure(ruler{from: foot, to: head, out: along.left(), off: 30, inside: []float64{54}}, "hip_length")
	down := -pi / 2
	c.spread(opening{corner: head, a: down - g.plumb, b: down, sideA: head.to(foot), sideB: head.to(level), r: math.Max(44, 25/g.plumb)}, "hip_plumb")
	c.nameOut(foot.mid(level), pt{0, 1}, "level")
	v := c.view("hip", "C", s.said("the hip, seen from the side", m.k))
	v.Title = "The hip, seen from the side"
	v.Desc = "Its theory length runs along the top, from the plates’ corner to the middle of the ridge. The upright cut is counted from the hip’s length."
	return sheetView{c, v}
}
