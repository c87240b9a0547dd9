package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// tenon is the side rail of a tapered seat frame, laid out on one blank. In
// the plan the front is at the foot of the paper, x to the right from the
// middle of the seat.
type tenon struct {
	front, back, depth, leg, rail float64
	splay, bevel                  float64 // radians
	length, shift, thick          float64
}

func newTenon(l joint.Layout) tenon {
	p, q := l.Parameters, l.Quantities
	return tenon{
		front: p["front_width"], back: p["back_width"], depth: p["depth"], leg: p["leg"], rail: p["rail_thickness"],
		splay: q["splay_angle"] * radian, bevel: q["shoulder_bevel"] * radian,
		length: q["shoulder_length"], shift: q["shoulder_shift"], thick: q["tenon_thickness"],
	}
}

var tenonPainter = painter{
	sheet:   tenonSheet,
	fit:     tenonFit,
	figures: []string{"plan", "splay", "rail"},
	figure:  tenonFigure,
	problems: needs([]string{
		"front_width", "back_width", "depth", "leg", "rail_thickness", "shoulder_bevel", "shoulder_length", "tenon_thickness",
	}, "splay_angle", "shoulder_shift"),
	scale:    func(l joint.Layout) float64 { return newTenon(l).railScale() },
	template: tenonTemplate,
}

func tenonSheet(l joint.Layout, s Sheet) []sheetView {
	g := newTenon(l)
	return []sheetView{g.planView(s), g.railView(s)}
}

// middles are the middles of the front and the back leg on the right.
func (g tenon) middles(m scale) (front, back pt) {
	return m.at((g.front-g.leg)/2, g.leg/2), m.at((g.back-g.leg)/2, g.depth-g.leg/2)
}

// planView is view A: the seat frame from above.
func (g tenon) planView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{k: s.scaled(fitTo(g.front, 262, g.depth, 214))}
	g.planWood(c, m)
	front, back := g.middles(m)
	along := back.sub(front).unit()
	c.line(centre, front.sub(along.times(16)), back.add(along.times(16)))
	for _, y := range []float64{m.at(0, 0).y - 10, m.at(0, g.depth).y + 10} {
		c.line(centre, pt{0, y - 20}, pt{0, y + 20})
	}
	square := 0.5 * (front.y - back.y)
	c.line(narrow, front, front.sub(pt{0, square + 12}))

	f, b := g.front/2, g.back/2
	c.measure(ruler{from: m.at(-f, 0), to: m.at(f, 0), out: pt{0, 1}, off: 30}, "front_width")
	c.measure(ruler{from: m.at(-b, g.depth), to: m.at(b, g.depth), out: pt{0, -1}, off: 30}, "back_width")
	c.measure(ruler{from: m.at(-f, 0), to: m.at(-b, g.depth), along: pt{0, -1}, out: pt{-1, 0}, off: 26}, "depth")
	c.measure(ruler{from: m.at(f, 0), to: m.at(f, g.leg), out: pt{1, 0}, off: 22}, "leg")
	g.splayAngle(c, front, square)
	c.name(m.at(0, g.leg/2).add(pt{-34, 4}), "front")
	v := c.view("plan", "A", s.said("the seat frame, seen from above", m.k))
	v.Title = "The seat frame, seen from above"
	v.Desc = "Four square legs stand square to the front, which is at the foot. The side rails run slanting between them; a rail’s centre line joins the middles of its two legs. A line square to the front leaves the middle of the front leg."
	return sheetView{c, v}
}

// splayAngle marks the splay between the rail's centre line and the line square
// to the front, its label inside the seat.
func (g tenon) splayAngle(c *canvas, corner pt, r float64) {
	t := c.of("splay_angle")
	if t.empty() {
		return
	}
	leave := c.angle(angleArc{corner: corner, r: r, a: pi / 2, b: pi/2 + g.splay, tailA: 17, tailB: 32})
	ball := leave.sub(pt{24, 6})
	if t.ball == nil {
		c.callout(leave, ball, t, end)
		return
	}
	c.callout(leave, ball, tag{ball: t.ball}, end)
	if t.text != "" {
		c.write(ball.sub(pt{0, ringRadius + 6}), middle, t.text)
	}
}

// planWood are the legs, the side rails between them, and the front and back
// as narrow lines.
func (g tenon) planWood(c *canvas, m scale) {
	for _, side := range []float64{-1, 1} {
		for _, leg := range [...]struct{ x, y float64 }{{g.front/2 - g.leg, 0}, {g.back/2 - g.leg, g.depth - g.leg}} {
			c.outline(visible, m.at(side*leg.x, leg.y), m.at(side*(leg.x+g.leg), leg.y), m.at(side*(leg.x+g.leg), leg.y+g.leg), m.at(side*leg.x, leg.y+g.leg))
		}
		across := g.rail / 2 / math.Cos(g.splay)
		for _, face := range []float64{-across, across} {
			x := func(y float64) float64 { return (g.front-g.leg)/2 - (y-g.leg/2)*math.Tan(g.splay) + face }
			c.line(visible, m.at(side*x(g.leg), g.leg), m.at(side*x(g.depth-g.leg), g.depth-g.leg))
		}
	}
	f, b := g.front/2-g.leg, g.back/2-g.leg
	c.line(narrow, m.at(-f, 0), m.at(f, 0))
	c.line(narrow, m.at(-b, g.depth), m.at(b, g.depth))
}

// railScale is the scale of the rail's thickness.
func (g tenon) railScale() float64 { return 84 / g.rail }

// Places of the rail's view: each end shows this much of the tenon and of the
// rail, in units, and the break between them is this wide.
const (
	tenonShown = 30.0
	railShown  = 79.0
	railBreak  = 14.0
)

// railPlaces are the corners of the rail seen from above, its outer face
// uppermost, the front to the left.
type railPlaces struct {
	k                    float64
	outer, inner         float64 // the faces
	cheekOut, cheekIn    float64
	front, frontIn       pt // the front shoulder, on the outer and on the inner face
	back, backIn         pt
	end, breakLeft       float64 // the front tenon's end, and where the rail breaks off
	breakRight, endRight float64
}

func (g tenon) railPlaces(k float64) railPlaces {
	half, cheek, shift := g.rail/2*k, g.thick/2*k, g.shift/2*k
	p := railPlaces{k: k, outer: -half, inner: half, cheekOut: -cheek, cheekIn: cheek}
	p.front, p.frontIn = pt{-shift, -half}, pt{shift, half}
	p.end = -tenonShown - shift
	p.breakLeft = railShown
	p.breakRight = p.breakLeft + railBreak
	middle := p.breakRight + railShown
	p.back, p.backIn = pt{middle - shift, -half}, pt{middle + shift, half}
	p.endRight = middle + tenonShown + shift
	return p
}

// railView is view B: the rail from above, its middle left out.
func (g tenon) railView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	p := g.railPlaces(s.scaled(g.railScale()))
	g.railWood(c, p)
	up := pt{0, -1}
	c.spread(opening{corner: p.backIn, a: pi - g.bevel, b: pi, sideA: g.rail * p.k, sideB: railShown, r: 34}, "shoulder_bevel")
	c.measure(ruler{from: p.front, to: p.back, out: up, off: 44}, "shoulder_length")
	c.measure(ruler{from: p.front, to: p.frontIn, along: pt{1, 0}, out: pt{0, 1}, off: 28}, "shoulder_shift")
	c.measure(ruler{from: pt{p.endRight, p.cheekIn}, to: pt{p.endRight, p.cheekOut}, out: pt{1, 0}, off: 20}, "tenon_thickness")
	c.measure(ruler{from: pt{p.end, p.inner}, to: pt{p.end, p.outer}, out: pt{-1, 0}, off: 24}, "rail_thickness")
	c.edgeMark(pt{p.breakLeft - 18, p.outer}, pt{0, 1})
	c.note(pt{p.back.x + 8, p.outer - 8}, start, "outer face")
	c.note(pt{p.front.x - 8, p.outer - 8}, end, "front")
	v := c.view("rail", "B", s.said("the right-hand rail from above, its middle left out", p.k))
	v.Title = "The right-hand rail from above, its middle left out"
	v.Desc = "The outer face, the reference face, is uppermost, the front end to the left. Both shoulder lines slant across the rail and are parallel; on the outer face they lie nearer to the front. The tenons run in line with the rail; the waste beside them is hatched."
	return sheetView{c, v}
}

func (g tenon) railWood(c *canvas, p railPlaces) {
	at := func(a, b pt, y float64) pt { return a.add(b.sub(a).times((y - a.y) / (b.y - a.y))) }
	frontOut, frontIn := at(p.front, p.frontIn, p.cheekOut), at(p.front, p.frontIn, p.cheekIn)
	backOut, backIn := at(p.back, p.backIn, p.cheekOut), at(p.back, p.backIn, p.cheekIn)
	c.hatch(
		[]pt{p.front, frontOut, {p.end, p.cheekOut}, {p.end, p.outer}},
		[]pt{p.frontIn, frontIn, {p.end, p.cheekIn}, {p.end, p.inner}},
		[]pt{p.back, backOut, {p.endRight, p.cheekOut}, {p.endRight, p.outer}},
		[]pt{p.backIn, backIn, {p.endRight, p.cheekIn}, {p.endRight, p.inner}})
	c.line(visible, pt{p.breakLeft, p.outer}, p.front, frontOut, pt{p.end, p.cheekOut}, pt{p.end, p.cheekIn}, frontIn, p.frontIn, pt{p.breakLeft, p.inner})
	c.line(visible, pt{p.breakRight, p.outer}, p.back, backOut, pt{p.endRight, p.cheekOut}, pt{p.endRight, p.cheekIn}, backIn, p.backIn, pt{p.breakRight, p.inner})
	c.line(narrow, frontOut, frontIn)
	c.line(narrow, backOut, backIn)
	c.line(phantom, p.front, pt{p.end, p.outer}, pt{p.end, p.cheekOut})
	c.line(phantom, p.frontIn, pt{p.end, p.inner}, pt{p.end, p.cheekIn})
	c.line(phantom, p.back, pt{p.endRight, p.outer}, pt{p.endRight, p.cheekOut})
	c.line(phantom, p.backIn, pt{p.endRight, p.inner}, pt{p.endRight, p.cheekIn})
	c.breakLine(pt{p.breakLeft, p.outer}, pt{p.breakLeft, p.inner})
	c.breakLine(pt{p.breakRight, p.outer}, pt{p.breakRight, p.inner})
	c.line(centre, pt{p.end - 10, 0}, pt{p.endRight + 10, 0})
}
