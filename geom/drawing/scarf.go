package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// scarf is the scarf joint of a tilted head, laid out on one blank: x toward
// the head from where the cut starts, y from the reference edge, z up from the
// neck's face.
type scarf struct {
	thickness, width, kerf, head float64
	run, slope, slot, headRun    float64
	tilt                         float64 // radians
	along, square                geom.Vec
}

func newScarf(l joint.Layout) scarf {
	p, q := l.Parameters, l.Quantities
	g := scarf{
		thickness: p["thickness"], width: p["width"], kerf: p["kerf"], head: p["head_thickness"],
		run: q["face_run"], slope: q["slope_length"], slot: q["kerf_on_face"], headRun: q["head_run"],
		tilt: p["head_angle"] * radian,
	}
	sin, cos := math.Sincos(g.tilt)
	g.along, g.square = geom.Vec{X: cos, Z: -sin}, geom.Vec{X: sin, Z: cos}
	return g
}

var scarfPainter = painter{
	sheet:    scarfSheet,
	fit:      scarfFit,
	figures:  []string{"cut", "joined", "ramp"},
	figure:   sheetFigure(scarfSheet),
	problems: needs([]string{"face_run", "slope_length", "kerf_on_face", "head_run"}),
	scale:    func(l joint.Layout) float64 { return newScarf(l).fitScale() },
	template: scarfTemplate,
}

func scarfSheet(l joint.Layout, s Sheet) []sheetView {
	g := newScarf(l)
	return []sheetView{g.cutView(s), g.joinedView(s), g.rampView(s)}
}

// cutView is view A: the blank with the cut marked on it, seen on the
// reference edge.
func (g scarf) cutView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	before, after := 0.2*g.run, g.slot+0.15*g.run
	m := scale{k: s.scaled(math.Min(286/(before+g.run+after), 76/g.thickness))}
	top, foot := m.at(-before, 0), m.at(-before, -g.thickness)
	endTop, endFoot := m.at(g.run+after, 0), m.at(g.run+after, -g.thickness)
	start, leave := m.at(0, 0), m.at(g.run, -g.thickness)
	slot, slotFoot := m.at(g.slot, 0), m.at(g.run+g.slot, -g.thickness)

	c.line(visible, top, endTop)
	c.line(visible, foot, endFoot)
	c.line(visible, start, leave)
	c.line(narrow, slot, slotFoot)
	c.breakLine(top, foot)
	c.breakLine(endTop, endFoot)

	c.edgeMark(top.add(pt{26, 0}), pt{0, 1})

	up := pt{0, -1}
	along := leave.sub(start).unit()
	c.measure(ruler{from: foot, to: top, out: pt{-1, 0}, off: 22, along: up}, "thickness")
	c.measure(ruler{from: start, to: slot, out: up, off: 24}, "kerf_on_face")
	c.measure(ruler{from: start, to: leave, along: pt{1, 0}, out: up, off: 48}, "face_run")
	c.measure(ruler{from: leave, to: leave.add(along.left().times(g.kerf * m.k)), out: along, off: 18}, "kerf")
	c.spread(opening{corner: start, a: -g.tilt, b: 0, sideA: g.slope * m.k, sideB: (g.run + after) * m.k, r: 0.55 * g.slope * m.k}, "head_angle")
	c.measure(ruler{from: start, to: leave, out: along.right(), off: g.thickness*m.k*math.Cos(g.tilt) + 18}, "slope_length")
	c.name(m.at(-before/2, -g.thickness/2).add(pt{0, 5}), "neck")

	v := c.view("cut", "A", s.said("the blank with the cut marked, seen on the reference edge", m.k))
	v.Title = "The blank with the cut marked, seen on the reference edge"
	v.Desc = "One slanting cut runs from the face to the back. The saw’s slot lies on the far side of the line."
	return sheetView{c, v}
}

// joinedView is view B: the head piece glued on the neck's ramp.
func (g scarf) joinedView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	nut := geom.Along(geom.Vec{}, g.headRun, g.along)
	nutTop := geom.Along(nut, g.head, g.square)
	before, beyond := 0.2*g.run, 1.16*math.Max(g.slope, g.headRun)
	far := geom.Along(geom.Vec{}, beyond, g.along)
	left := -before
	m := scale{k: s.scaled(math.Min(290/(far.X+g.head*g.square.X-left), 130/math.Max(-far.Z, g.thickness)))}
	st := stage{fromEdge, m}
	on := func(along, square float64) pt {
		return st.on(geom.Along(geom.Along(geom.Vec{}, along, g.along), square, g.square))
	}
	neckTop, neckFoot := m.at(left, 0), m.at(left, -g.thickness)
	leave := m.at(g.run, -g.thickness)
	c.line(visible, neckTop, on(0, 0), on(beyond, 0))
	c.line(visible, on(0, 0), st.on(nutTop), on(beyond, g.head))
	c.line(visible, neckFoot, leave)
	c.breakLine(neckTop, neckFoot)
	c.breakLine(on(beyond, g.head), on(beyond, 0))

	out := st.runs(g.square)
	c.measure(ruler{from: on(beyond, 0), to: on(beyond, g.head), out: st.runs(g.along), off: 24, along: out}, "head_thickness")
	c.measure(ruler{from: on(0, 0), to: on(g.headRun, 0), along: st.runs(g.along), out: out, off: g.head*m.k + 26}, "head_run")
	c.nameOut(st.on(nutTop), pt{1, -1}, "nut line")
	c.name(m.at(left*0.5, -g.thickness/2).add(pt{0, 5}), "neck")
	c.name(on(g.headRun+0.5*(beyond-g.headRun), g.head/2).add(pt{0, 5}), "head piece")

	v := c.view("joined", "B", s.said("the head piece on the neck’s ramp, seen on the reference edge", m.k))
	v.Title = "The head piece glued on the neck’s ramp, seen on the reference edge"
	v.Desc = "The head piece lies with its old face on the ramp. Its own ramp comes level with the neck’s face and ends at the nut line."
	return sheetView{c, v}
}

// rampView is view C: the ramp seen square, the reference edge at the foot.
func (g scarf) rampView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	before := 0.22 * g.slope
	m := scale{k: s.scaled(math.Min(250/(g.slope+before), 150/g.width))}
	top, foot := m.at(-before, g.width), m.at(-before, 0)
	startTop, start := m.at(0, g.width), m.at(0, 0)
	endTop, end := m.at(g.slope, g.width), m.at(g.slope, 0)
	c.line(visible, top, endTop, end, foot)
	c.line(visible, startTop, start)
	c.breakLine(top, foot)
	c.datum(m.at(0.2*g.slope, 0), "reference edge")
	c.faceMark(foot.mid(start).add(pt{4, 0}), pt{0, -1})
	c.measure(ruler{from: end, to: endTop, along: pt{0, -1}, out: pt{1, 0}, off: 24}, "width")
	c.pointOut(m.at(0.5*g.slope, 0.5*g.width), pt{1, -1}, "glue_area")
	c.name(m.at(-before/2, 0.7*g.width).add(pt{0, 5}), "face")
	c.name(m.at(0.25*g.slope, 0.2*g.width).add(pt{0, 5}), "ramp")

	v := c.view("ramp", "C", s.said("the ramp, seen square", m.k))
	v.Title = "The ramp, seen square"
	v.Desc = "The whole surface of the cut, from edge to edge: this is where the glue lies."
	return sheetView{c, v}
}
