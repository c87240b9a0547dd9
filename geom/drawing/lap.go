package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// lap is a cross lap at an angle, laid out on one blank: x along piece A, y
// from its reference edge, the origin where the first shoulder line leaves
// that edge.
type lap struct {
	widthA, widthB, thickness  float64
	depth, spacing, skew, line float64
	crossing, bevel            float64 // radians
}

func newLap(l joint.Layout) lap {
	p, q := l.Parameters, l.Quantities
	return lap{
		widthA: p["width_a"], widthB: p["width_b"], thickness: p["thickness"],
		depth: q["depth"], spacing: q["shoulder_spacing"], skew: q["shoulder_skew"], line: q["shoulder_line"],
		crossing: p["crossing_angle"] * radian, bevel: q["shoulder_bevel"] * radian,
	}
}

var lapPainter = painter{
	sheet:    lapSheet,
	fit:      lapFit,
	figures:  []string{"crossed", "piece-a", "edge", "notch-b"},
	figure:   sheetFigure(lapFigures),
	problems: needs([]string{"width_a", "width_b", "thickness", "depth", "shoulder_spacing", "shoulder_line"}, "shoulder_skew", "shoulder_bevel"),
	scale:    func(l joint.Layout) float64 { return newLap(l).fitScale() },
	template: lapTemplate,
}

func lapSheet(l joint.Layout, s Sheet) []sheetView {
	g := newLap(l)
	return []sheetView{g.crossedView(s), g.edgeView(s), g.faceView(s)}
}

// lapFigures are the views of the sheet, and piece B from its back.
func lapFigures(l joint.Layout, s Sheet) []sheetView {
	return append(lapSheet(l, s), newLap(l).backView(s))
}

// runs is the direction of the shoulder lines on the paper, from the reference
// edge, and out is square to it, toward the end that x leads to.
func (g lap) runs() pt { return heading(g.bevel) }
func (g lap) out() pt  { return g.runs().right() }

// lapStub is how far, in units, pieces are shown beyond what is measured.
const lapStub = 36.0

// reachA is from where to where piece A is shown, in units, its notch being
// drawn at k units a millimetre.
func (g lap) reachA(k float64) (left, right float64) {
	return math.Min(0, g.skew*k) - lapStub, (g.spacing+math.Max(0, g.skew))*k + lapStub
}

// roomAlong is how long the notch may be drawn. A standard scale is often a
// good deal smaller, and then may use the paper better.
func (g lap) roomAlong(s Sheet) float64 {
	if s.Answers != nil {
		return 228
	}
	return 200
}

// crossedView is view A: both pieces put together, seen on the face.
func (g lap) crossedView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(fitTo(g.spacing+math.Abs(g.skew), g.roomAlong(s), g.widthA, 124))}
	left, right := g.reachA(m.k)
	right = math.Max(right, math.Min(right+34, left+300)) // room for the angle
	u := g.runs()
	near, far := m.at(0, 0), m.at(g.skew, g.widthA)
	near2, far2 := m.at(g.spacing, 0), m.at(g.spacing+g.skew, g.widthA)
	tail, tail2 := near.sub(u.times(lapStub)), near2.sub(u.times(lapStub))
	head, head2 := far.add(u.times(lapStub)), far2.add(u.times(lapStub))
	// The ends of piece B lie square to it.
	tail = tail2.onLine(near, u).add(u.times(math.Min(0, tail.sub(tail2.onLine(near, u)).dot(u))))
	tail2 = tail.onLine(near2, u)
	head2 = head2.add(u.times(math.Max(0, head.onLine(near2, u).sub(head2).dot(u))))
	head = head2.onLine(near, u)

	c.line(visible, tail, head)
	c.line(visible, tail2, head2)
	c.breakLine(tail, tail2)
	c.breakLine(head, head2)
	foot, top := pt{right, near.y}, pt{right, far.y}
	c.line(visible, pt{left, near.y}, near)
	c.line(visible, near2, foot)
	c.line(visible, pt{left, far.y}, far)
	c.line(visible, far2, top)
	c.breakLine(pt{left, near.y}, pt{left, far.y})
	c.breakLine(foot, top)

	c.measure(ruler{from: foot, to: top, out: pt{1, 0}, off: 24, along: pt{0, -1}}, "width_a")
	c.measure(ruler{from: head, to: head2, out: u, off: 24}, "width_b")
	c.spread(opening{corner: near2, a: 0, b: g.bevel, sideA: right - near2.x, sideB: g.line * m.k, r: 34}, "crossing_angle")
	c.name(pt{left + 14, near.mid(far).y + 5}, "A")
	c.name(tail.mid(tail2).add(u.times(14)).add(pt{0, 5}), "B")
	v := c.view("crossed", "A", s.said("both pieces put together, seen on their faces", m.k))
	v.Title = "Both pieces put together, seen on their faces"
	v.Desc = "Piece B crosses piece A at the crossing angle; their faces come flush. The reference edge of piece A is the lower one."
	return sheetView{c, v}
}

// faceView is view C: piece A marked out, seen on its face.
func (g lap) faceView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(fitTo(g.spacing+math.Abs(g.skew), g.roomAlong(s), g.widthA, 140))}
	left, right := g.reachA(m.k)
	right = math.Max(math.Min(right+44, left+310), left+290) // room for the angle
	near, far := m.at(0, 0), m.at(g.skew, g.widthA)
	near2, far2 := m.at(g.spacing, 0), m.at(g.spacing+g.skew, g.widthA)
	c.hatch([]pt{near, near2, far2, far})
	for _, y := range []float64{near.y, far.y} {
		c.line(visible, pt{left, y}, pt{right, y})
	}
	c.line(visible, near, far)
	c.line(visible, near2, far2)
	c.breakLine(pt{left, near.y}, pt{left, far.y})
	c.breakLine(pt{right, near.y}, pt{right, far.y})
	c.faceMark(pt{right - 40, near.y}, pt{0, -1})
	datum := pt{right - 14, near.y}
	c.put(solid{[]pt{datum, datum.add(pt{6, 9}), datum.add(pt{-6, 9})}})

	g.skewSize(c, near2, far2)
	g.lineSize(c, near, far)
	c.spread(opening{corner: near2, a: 0, b: g.bevel, sideA: right - near2.x, sideB: g.line * m.k, r: 34}, "shoulder_bevel")
	c.measure(ruler{from: near, to: near2, out: pt{0, 1}, off: 26, along: pt{1, 0}}, "shoulder_spacing")
	c.nameOut(datum.add(pt{0, 9}), pt{-0.4, 1}, "reference edge")
	v := c.view("piece-a", "C", s.said("piece A marked out, seen on its face", m.k))
	v.Title = "Piece A marked out, seen on its face"
	v.Desc = "Two parallel shoulder lines run slanting across the piece from the reference edge, which is the lower one. The notch between them is waste and hatched."
	return sheetView{c, v}
}

// skewSize measures how far the second shoulder line travels, above the wood;
// best with a long answer over its balloon, clear of the first line's.
func (g lap) skewSize(c *canvas, near, far pt) {
	t := c.of("shoulder_skew")
	if t.empty() {
		return
	}
	c.later(c.roomOf(t), func(s *search) {
		d := dimension{from: near, to: far, line: far.sub(pt{0, 24}), along: pt{1, 0}, bare: true}
		mid := d.measure().a.mid(d.measure().b)
		s.measure(ruler{from: near, to: far, out: pt{0, -1}, off: 24, along: pt{1, 0}}, t)
		s.tieAt(mid, mid.add(pt{6, -34}), t, 3, func(c *canvas) { c.dimension(d, tag{}) })
	})
}

// lineSize measures the first shoulder line in the wood before it, with a long
// answer to the left of its balloon, clear of the skew.
func (g lap) lineSize(c *canvas, near, far pt) {
	t := c.of("shoulder_line")
	if t.empty() {
		return
	}
	r := ruler{from: near, to: far, out: g.out().times(-1), off: 20}
	c.later(c.roomOf(t), func(s *search) {
		s.measure(r, t)
		for i, reach := range []float64{0, 40, 54, 70} {
			d := dimension{from: near, to: far, line: near.add(r.out.times(20)), off: true, reach: reach}
			s.try(1.5+float64(i)/2, func(c *canvas) { c.dimensionAside(d, t, end) })
		}
	})
}

// edgeView is view B: one shoulder of piece A's notch, seen on the reference
// edge.
func (g lap) edgeView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(84 / g.thickness)}
	const left, right = -110.0, 96.0
	cheek, foot := m.at(0, -g.depth).y, m.at(0, -g.thickness).y
	c.hatch([]pt{{0, 0}, {right, 0}, {right, cheek}, {0, cheek}})
	c.line(visible, pt{left, 0}, pt{}, pt{0, cheek}, pt{right, cheek})
	c.line(visible, pt{left, foot}, pt{right, foot})
	c.line(phantom, pt{}, pt{right, 0})
	c.breakLine(pt{left, 0}, pt{left, foot})
	c.breakLine(pt{right, 0}, pt{right, foot})
	c.measure(ruler{from: pt{left, foot}, to: pt{left, 0}, out: pt{-1, 0}, off: 24, along: pt{0, -1}}, "thickness")
	c.measure(ruler{from: pt{right, cheek}, to: pt{right, 0}, out: pt{1, 0}, off: 24, along: pt{0, -1}}, "depth")
	c.edgeMark(pt{left + 22, 0}, pt{0, 1})
	c.name(pt{left + 40, -8}, "face")
	c.name(pt{left / 2, foot/2 + 5}, "piece A")
	v := c.view("edge", "B", s.said("a shoulder of piece A, seen on its reference edge", m.k))
	v.Title = "A shoulder of piece A, seen on its reference edge"
	v.Desc = "The face is uppermost. The notch is cut from the face down to the cheek; its waste is hatched."
	return sheetView{c, v}
}

// backView is piece B marked out on its back: its notch, from piece A's edges.
func (g lap) backView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	// The joint is the same turned over about the line between the two pieces:
	// on its back piece B shows the hand that piece A shows on its face.
	long, run := g.widthA/math.Sin(g.crossing), g.widthB/math.Tan(g.crossing)
	m := scale{k: fitTo(long+math.Abs(run), 236, g.widthB, 140)}
	near, near2 := m.at(0, 0), m.at(long, 0)
	far, far2 := m.at(run, g.widthB), m.at(long+run, g.widthB)
	left, right := math.Min(near.x, far.x)-lapStub, math.Max(near2.x, far2.x)+lapStub+20
	c.hatch([]pt{near, near2, far2, far})
	for _, y := range []float64{near.y, far.y} {
		c.line(visible, pt{left, y}, pt{right, y})
	}
	c.line(visible, near, far)
	c.line(visible, near2, far2)
	c.breakLine(pt{left, near.y}, pt{left, far.y})
	c.breakLine(pt{right, near.y}, pt{right, far.y})
	c.measure(ruler{from: pt{right, near.y}, to: pt{right, far.y}, out: pt{1, 0}, off: 22, along: pt{0, -1}}, "width_b")
	c.spread(opening{corner: near2, a: 0, b: g.crossing, sideA: right - near2.x, sideB: g.widthB * m.k, r: 34}, "shoulder_bevel")
	v := c.view("notch-b", "", "piece B marked out, seen on its back")
	v.Title = "Piece B marked out, seen on its back"
	v.Desc = "Piece B is notched from its back. Seen from there, its shoulder lines lean to the same hand as those on the face of piece A."
	return sheetView{c, v}
}
