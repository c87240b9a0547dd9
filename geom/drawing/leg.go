package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// leg is a leg that leans two ways, with its mirror image, the seat and the
// stretcher: x the rake direction, y outward, z up, the origin between the two
// holes on the seat's underside.
type leg struct {
	parts                               []joint.Part
	height, spacing, stretcher          float64
	rake, splay, resultant, sight       float64 // radians
	hole, foot, plumb                   geom.Vec
	otherHole, otherFoot, rail, railEnd geom.Vec // the rail's ends lie on the axes
}

func newLeg(l joint.Layout) leg {
	p, q := l.Parameters, l.Quantities
	f, _ := joint.Lookup("splayed-leg")
	g := leg{
		height: p["height"], spacing: p["top_spacing"], stretcher: p["stretcher_height"],
		rake: p["rake"] * radian, splay: p["splay"] * radian,
		resultant: q["resultant"] * radian, sight: q["sightline"] * radian,
	}
	g.parts, _ = f.Pieces(l.Parameters) // there are some: the painter has asked
	g.hole = geom.Vec{Y: g.spacing / 2}
	g.plumb = geom.Vec{Y: g.spacing / 2, Z: -g.height}
	g.foot = geom.Vec{X: q["foot_rake"], Y: g.spacing/2 + q["foot_splay"], Z: -g.height}
	g.rail = geom.Along(g.hole, 1-g.stretcher/g.height, r3.Sub(g.foot, g.hole))
	g.otherHole, g.otherFoot, g.railEnd = mirrored(g.hole), mirrored(g.foot), mirrored(g.rail)
	return g
}

func mirrored(v geom.Vec) geom.Vec { return geom.Vec{X: v.X, Y: -v.Y, Z: v.Z} }

var legPainter = painter{
	sheet:    legSheet,
	fit:      legFit,
	figures:  []string{"front", "side", "plan", "lean", "legs", "box"},
	figure:   legFigure,
	problems: needsParts([]string{"leg_length", "resultant", "drill_tilt"}, "sightline", "foot_rake", "foot_splay", "stretcher_bevel"),
	scale:    func(l joint.Layout) float64 { return newLeg(l).fitScale() },
	template: legTemplate,
}

func legSheet(l joint.Layout, s Sheet) []sheetView {
	g := newLeg(l)
	return []sheetView{g.frontView(s), g.sideView(s), g.planView(s), g.leanView(s), g.legsView(s)}
}

// axes draws the legs' axes and the stretcher's as centre lines, a little
// beyond their ends.
func (g leg) axes(c *canvas, st stage) {
	for _, a := range [...][2]geom.Vec{{g.hole, g.foot}, {g.otherHole, g.otherFoot}} {
		c.axis(st.on(a[0]), st.on(a[1]))
	}
}

// axis is a centre line a little longer than what it is the middle of.
func (c *canvas) axis(a, b pt) {
	if a.to(b) < 1 {
		return
	}
	u := b.sub(a).unit().times(9)
	c.line(centre, a.sub(u), b.add(u))
}

// floor draws the floor under the feet.
func (g leg) floor(c *canvas, st stage, from, to float64) {
	y := st.on(g.foot).y
	c.line(narrow, pt{from, y}, pt{to, y})
}

// frontView is view A: square from the front.
func (g leg) frontView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(roomFor(g.parts, fromEnd, 196, 290))}
	st := stage{fromEnd, m}
	c.surface(st, g.parts)
	g.axes(c, st)
	hole, foot, other := st.on(g.hole), st.on(g.foot), st.on(g.otherFoot)
	lo, hi := extentOf(g.parts, fromEnd)
	left, right, top := lo.x*m.k, hi.x*m.k, -hi.y*m.k
	g.floor(c, st, left-20, right+20)
	plumb := st.on(g.plumb)
	c.line(narrow, hole.add(pt{0, 4}), plumb)

	down, up := pt{0, 1}, pt{0, -1}
	c.measure(ruler{from: pt{left, other.y}, to: st.on(g.railEnd), along: up, out: pt{-1, 0}, off: 24}, "stretcher_height")
	c.measure(ruler{from: pt{left, other.y}, to: pt{left, st.on(g.hole).y}, along: up, out: pt{-1, 0}, off: 50}, "height")
	c.measure(ruler{from: plumb, to: foot, out: down, off: 26}, "foot_splay")
	c.spread(opening{corner: hole, a: -pi / 2, b: -pi/2 + g.splay, sideA: hole.to(plumb), sideB: hole.to(foot), r: math.Max(0.42*hole.to(plumb), 25/g.splay)}, "splay")
	c.measure(ruler{from: st.on(g.railEnd), to: st.on(g.rail), out: up, off: 26, inside: []float64{-26, 44, -44}}, "stretcher_length")
	c.measure(ruler{from: st.on(g.otherHole), to: hole, out: up, off: hole.y - top + 22}, "top_spacing")
	v := c.view("front", "A", s.said("seat and legs, seen square from the front", m.k))
	v.Title = "Seat and legs, seen square from the front"
	v.Desc = "Both legs lean outward. The height is plumb from the underside of the seat to the floor; sizes across are between the legs’ axes."
	return sheetView{c, v}
}

// sideView is view B: square from the side, the rake direction to the right.
func (g leg) sideView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(roomFor(g.parts, fromEdge, 190, 270))}
	st := stage{fromEdge, m}
	c.surface(st, g.parts)
	hole, foot, plumb := st.on(g.hole), st.on(g.foot), st.on(g.plumb)
	c.axis(hole, foot)
	lo, hi := extentOf(g.parts, fromEdge)
	g.floor(c, st, lo.x*m.k-24, hi.x*m.k+24)
	c.line(narrow, hole.add(pt{0, 4}), plumb)
	c.measure(ruler{from: plumb, to: foot, out: pt{0, 1}, off: 26}, "foot_rake")
	c.spread(opening{corner: hole, a: -pi / 2, b: -pi/2 + g.rake, sideA: hole.to(plumb), sideB: hole.to(foot), r: math.Max(0.5*hole.to(plumb), 25/g.rake)}, "rake")
	v := c.view("side", "B", s.said("seat and legs, seen square from the side", m.k))
	v.Title = "Seat and legs, seen square from the side"
	v.Desc = "The legs lean in the rake direction, to the right."
	return sheetView{c, v}
}

// planView is view C: the seat from above with the direction in which the leg
// leans.
func (g leg) planView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	shown := cutTo(g.parts[:2], geom.Plane{N: geom.Vec{Y: -1}, D: -0.1 * g.spacing})
	m := scale{k: s.scaled(roomFor(shown, fromFace, 230, 230))}
	st := stage{fromFace, m}
	lo, hi := extentOf(shown, fromFace)
	for _, e := range project(shown, st.camera) {
		if math.Max(e.a.y, e.b.y) > lo.y+sliver { // what is cut off goes on
			c.projected(st, e)
		}
	}
	hole, foot := st.on(g.hole), st.on(g.foot)
	c.breakLine(m.at(lo.x, lo.y), m.at(hi.x, lo.y))
	away := foot.sub(hole).unit()
	c.line(centre, hole.sub(away.times(16)), foot.add(away.times(40)))
	rake := math.Max(hole.to(foot)*0.9, 80)
	c.line(narrow, hole.sub(pt{14, 0}), hole.add(pt{rake + 8, 0}))
	c.put(ring{visible, hole, 3})
	c.spread(opening{corner: hole, a: 0, b: g.sight, sideA: rake, sideB: hole.to(foot) + 30, r: math.Max(0.55*rake, 25/math.Max(g.sight, 0.05))}, "sightline")
	c.nameOut(hole.add(pt{rake, 0}), pt{1, 1}, "rake direction")
	v := c.view("plan", "C", s.said("the seat from above, the leg’s direction marked", m.k))
	v.Title = "The seat from above, the leg’s direction marked"
	v.Desc = "The sightline runs from the hole’s centre to above the foot. It is counted from the rake direction."
	return sheetView{c, v}
}

// sightCamera looks square on the plane in which the leg leans.
func (g leg) sightCamera() camera {
	sin, cos := math.Sincos(g.sight)
	return look(geom.Vec{X: sin, Y: -cos}, geom.Vec{Z: 1})
}

// leanView is view D: square to the plane in which the leg leans.
func (g leg) leanView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	cam := g.sightCamera()
	around := 3.2 * seatLeg
	shown := cutTo(g.parts[:2],
		geom.Plane{N: cam.right, D: geom.Dot(cam.right, g.foot) + seatLeg},
		geom.Plane{N: r3.Scale(-1, cam.right), D: -geom.Dot(cam.right, g.hole) + around})
	m := scale{k: s.scaled(roomFor(shown, cam, 170, 260))}
	st := stage{cam, m}
	c.surface(st, shown)
	hole, foot, plumb := st.on(g.hole), st.on(g.foot), st.on(g.plumb)
	c.axis(hole, foot)
	g.floor(c, st, plumb.x-30, foot.x+50)
	c.line(narrow, hole.add(pt{0, 4}), plumb)
	along := foot.sub(hole).unit()
	c.spread(opening{corner: hole, a: -pi / 2, b: -pi/2 + g.resultant, sideA: hole.to(plumb), sideB: hole.to(foot), r: math.Max(0.62*hole.to(plumb), 25/g.resultant)}, "resultant")
	c.spread(opening{corner: hole, a: -pi/2 + g.resultant, b: 0, sideA: hole.to(foot), sideB: 70, r: 58}, "drill_tilt")
	c.measure(ruler{from: hole, to: foot, out: along.left(), off: 34, inside: []float64{50, 66}}, "leg_length")
	v := c.view("lean", "D", s.said("along the floor, square to the sightline", m.k))
	v.Title = "Seen square to the sightline: the leg’s lean in its true size"
	v.Desc = "The leg’s true lean is counted from plumb. The bevel for boring is the angle between the leg and the seat’s underside."
	return sheetView{c, v}
}

// seatLeg is how thick legs are shown, in millimetres.
const seatLeg = 34.0

// legsView is view E: square to the plane that holds both legs' axes.
func (g leg) legsView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	up, _ := geom.Unit(r3.Sub(between(g.hole, g.otherHole), between(g.foot, g.otherFoot)))
	cam := look(geom.Cross(geom.Vec{Y: 1}, up), up)
	m := scale{k: s.scaled(roomFor(g.parts, cam, 250, 230))}
	st := stage{cam, m}
	c.surface(st, g.parts)
	g.axes(c, st)
	rail, end, foot := st.on(g.rail), st.on(g.railEnd), st.on(g.foot)
	c.axis(end, rail)
	down := math.Atan2(-(foot.y - rail.y), foot.x-rail.x)
	c.spread(opening{corner: rail, a: down, b: 0, sideA: rail.to(foot), sideB: 30, r: 44}, "stretcher_bevel")
	v := c.view("legs", "E", s.said("both legs, seen square to the plane they share", m.k))
	v.Title = "Both legs, seen square to the plane they share"
	v.Desc = "The stretcher enters a leg at the bevel between its own direction, carried on outward, and the leg going down."
	return sheetView{c, v}
}
