package drawing

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// hoopCorner is one corner of a ring cut square to the line in which its sides
// meet: the corner itself, the two boards' directions away from it on their
// outside faces, and the camera that looks along the line with the ring's
// outside up.
type hoopCorner struct {
	hoop
	camera
	outer, inner   geom.Vec // of the joint, on the outside and on the inside
	first, next    geom.Vec // along the outside faces, away from the corner
	firstN, nextN  geom.Vec // the outside faces' normals
	second, within geom.Plane
}

// corner is the corner between the first side and the next.
func (h hoop) corner() (k hoopCorner, ok bool) {
	turn := geom.Motion{Axis: geom.Vec{Z: 1}, Turn: geom.Deg(360 / h.sides)}
	k.hoop, k.second, k.within = h, turn.Plane(h.outside), turn.Plane(h.inside)
	line, okLine := h.outside.Meet(k.second)
	inner, okInner := h.inside.Meet(k.within)
	if !okLine || !okInner {
		return k, false
	}
	along := line.Dir
	if along.Z < 0 {
		along = r3.Scale(-1, along)
	}
	k.outer = between(h.lowRight, h.highRight)
	k.inner = inner.Foot(k.outer)
	k.camera = look(along, r3.Add(h.outside.N, k.second.N))
	k.firstN, k.nextN = h.outside.N, k.second.N
	k.first, k.next = geom.Cross(along, k.firstN), geom.Cross(k.nextN, along)
	if geom.Dot(k.first, geom.Vec{Y: 1}) > 0 {
		k.first, k.next = r3.Scale(-1, k.first), r3.Scale(-1, k.next)
	}
	return k, true
}

// shown is how much of each board a picture of a corner shows, in thicknesses.
const cornerShown = 4.2

// boards are the two sides as they come together, a short way from the corner,
// cut through the middle of its line.
func (k hoopCorner) boards() []geom.Polygon {
	limit := func(dir geom.Vec) geom.Plane {
		return geom.Plane{N: dir, D: geom.Dot(dir, k.outer) + cornerShown*k.thickness}
	}
	cut := geom.Plane{N: k.toward, D: geom.Dot(k.toward, k.outer)}
	a := cutTo(k.parts[:1], limit(k.first))
	b := cutTo(k.parts[1:2], limit(k.next))
	_, faces := section(append(a, b...), cut)
	return faces
}

// cornerScale fills the paper's width with a corner, as far as it is thin.
func (k hoopCorner) cornerScale() float64 {
	long := cornerShown * k.thickness * math.Abs(k.seen(k.next).x-k.seen(k.first).x)
	return math.Min(math.Min(260/long, 48/k.thickness), 12)
}

func (k hoopCorner) cornerK(s Sheet) float64 { return s.scaled(k.cornerScale()) }

// headingOf is a direction of the wood as an angle on the paper.
func (s stage) headingOf(v geom.Vec) float64 {
	p := s.seen(v)
	return math.Atan2(p.y, p.x)
}

// cornerView is the section of a mitred corner.
func (k hoopCorner) cornerView(s Sheet, letter, bevel, angle string) sheetView {
	c := &canvas{sheet: s}
	faces := k.boards()
	m := scale{k: k.cornerK(s)}
	st := stage{k.camera, m}
	c.hatchFaces(st, faces)
	for _, g := range faces {
		c.outline(visible, st.outline(g)...)
	}
	outer, inner := st.on(k.outer), st.on(k.inner)
	k.cornerBreaks(c, st)

	c.spread(opening{corner: outer, a: st.headingOf(k.nextN), b: pi / 2, r: 44}, bevel)
	a, b := st.headingOf(k.first), st.headingOf(k.next)
	if b < a {
		b += 2 * pi
	}
	if b-a > pi {
		a, b = b, a+2*pi
	}
	long := (cornerShown - 0.5) * k.thickness * m.k
	c.spread(opening{corner: inner, a: a, b: b, sideA: long, sideB: long, r: 0.5 * long}, angle)
	end := geom.Along(k.outer, 0.72*cornerShown*k.thickness, k.first)
	c.measure(ruler{from: st.on(end), to: st.on(geom.Along(end, -k.thickness, k.firstN)), out: st.runs(k.first), off: 0.28*cornerShown*k.thickness*m.k + 20}, "thickness")
	c.name(outer.sub(pt{0, 60}), "outside")
	v := c.view("corner", letter, s.said("a corner, cut square to its line", m.k))
	v.Title = "A corner, cut square to the line in which the sides meet"
	v.Desc = "Two sides meet in a mitre. The bevel is counted from square to the outside face, the corner’s angle between the two inside faces."
	return sheetView{c, v}
}

// cornerBreaks ends both boards: they go on.
func (k hoopCorner) cornerBreaks(c *canvas, st stage) {
	for _, b := range [...]struct{ dir, n geom.Vec }{{k.first, k.firstN}, {k.next, k.nextN}} {
		end := geom.Along(k.outer, cornerShown*k.thickness, b.dir)
		c.breakLine(st.on(end), st.on(geom.Along(end, -k.thickness, b.n)))
	}
}
