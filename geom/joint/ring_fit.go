package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// ringNumbers are a ring's sizes and the numbers that decide how it closes.
type ringNumbers struct {
	sides     float64
	thickness float64
	slant     geom.Angle // of the ends, on the face, from square to the bottom edge
	bevel     geom.Angle // of the ends, from square to the face
	// butt is the bevel of ends that come against the next side's inside face
	// instead; butted says that the ring has such a corner.
	butt   geom.Angle
	butted bool
	// width is the bottom edge outside, length the board's up the face, and
	// level by how much its edges lean from square to the face.
	width, length float64
	level         geom.Angle
}

// ringMade is the ring that these numbers make, one side of it.
type ringMade struct {
	ringNumbers
	tilt        geom.Angle
	side        ringSide
	bottom, top geom.Plane // the board's edges
	foot        geom.Vec   // the bottom corner outside, before it slides home
	mitre, butt ringCorner
	end         geom.Plane // the mitred end, toward +y, before it slides home
	home        geom.Vec   // how far the side slides
}

// makeRing tilts the sides until their end lines meet, then brings the sides
// together at their corners.
func makeRing(v ringNumbers, m *ringMade) (trouble string) {
	m.ringNumbers = v
	if v.bevel <= -geom.Right || v.bevel >= geom.Right || v.butt <= -geom.Right || v.butt >= geom.Right {
		return "With this bevel there is no end to join."
	}
	if !(v.length > 0 && v.width > 0 && v.thickness > 0 && v.sides > 2) {
		return "With these numbers there are no sides to join."
	}
	var ok bool
	if m.tilt, ok = tiltMade(v.sides, v.slant); !ok {
		return "Sides with ends that slant so far do not close to a ring, however they lean."
	}
	radius := v.width / 2 / halfTurn(v.sides).Tan()
	if m.side, ok = sideOfRing(v.sides, m.tilt, v.thickness, radius); !ok {
		return "Sides with ends that slant so far lie flat."
	}
	m.foot = geom.Vec{X: radius, Y: v.width / 2}
	lean, square := v.level.SinCos()
	up := geom.Along(r3.Scale(square, m.side.slope), -lean, m.side.outside.N)
	m.top, ok = geom.NewPlane(up, geom.Along(m.foot, v.length, m.side.slope))
	if !ok {
		return "With these numbers there are no sides to join."
	}
	m.bottom = geom.Plane{N: r3.Scale(-1, up), D: -geom.Dot(up, m.foot)}
	return m.join()
}

// join brings both kinds of corner together.
func (m *ringMade) join() (trouble string) {
	inward := geom.Vec{X: -1}
	var ok, okJoin bool
	m.end, ok = m.side.endCut(m.foot, m.slant, m.bevel)
	if m.mitre, okJoin = m.corner(m.end, m.side.between, inward, m.bevel); !ok || !okJoin {
		return "With these numbers the ends of the sides do not meet."
	}
	m.home = r3.Scale(m.mitre.slid, inward)
	// Both sides of a mitre turn away from the plane between them.
	m.mitre.gap *= 2
	m.mitre.closing *= 2
	if !m.butted {
		return ""
	}
	// The next side's inside face, a quarter turn round, is the wall.
	turn := geom.Motion{Axis: geom.Vec{Z: 1}, Turn: 2 * halfTurn(m.sides)}
	wall := turn.Plane(m.side.inside).Flip()
	end, ok := m.side.endCut(m.foot, m.slant, -m.ringNumbers.butt)
	if m.butt, okJoin = m.corner(end, wall, m.side.along, -m.ringNumbers.butt); !ok || !okJoin {
		return "With these numbers the ends of the sides do not meet."
	}
	return ""
}

// endCut is the end of a side as marked: through a point of the outside face,
// its line there slanting outward going up, leaning from square to the face by
// bevel. The outside is longer than the inside where the bevel is positive.
func (s ringSide) endCut(at geom.Vec, slant, bevel geom.Angle) (geom.Plane, bool) {
	sin, cos := slant.SinCos()
	square := geom.Along(r3.Scale(cos, s.along), -sin, s.slope)
	lean, level := bevel.SinCos()
	return geom.NewPlane(geom.Along(r3.Scale(level, square), -lean, s.outside.N), at)
}

// ringCorner is one corner of a ring as the submitted bevels make it.
type ringCorner struct {
	// gap is how far the corner stands apart at the face where it does not
	// touch; closing is how far the last one does if all the others are pulled
	// tight. last is false where that would be a right angle or more.
	gap, closing float64
	last         bool
	// inside is how far the bevel is beyond what the corner needs, so that it
	// stands off on the inside; negative where it stands off on the outside.
	inside geom.Angle
	slid   float64
}

// corner slides an end home against a wall and hinges the last corner.
//
// An end whose bevel is out touches its wall along one arris and turns away
// from it by the error. Where every other joint is pulled tight, the errors of
// all of them add up at the last one: there the end turns away, about the same
// arris, by as many times the error as the ring has sides.
func (m *ringMade) corner(end, wall geom.Plane, home geom.Vec, bevel geom.Angle) (c ringCorner, ok bool) {
	s := m.side
	needs, okNeeds := geom.FromSquare(s.outside, wall)
	outer, okOuter := s.outside.Meet(end)
	inner, okInner := s.inside.Meet(end)
	if !okNeeds || !okOuter || !okInner {
		return c, false
	}
	var store [2][12]geom.Vec
	buffer := [2]geom.Polygon{store[0][:0], store[1][:0]}
	across := outer.Dist(inner.At)
	limits := [4]geom.Plane{s.outside, s.inside, m.bottom, m.top}
	mate := mating{wall: wall, face: facet(end, m.foot, 4*(m.length+across+m.thickness), limits[:], &buffer)}
	contact, okFace := mate.contact(wall)
	if !okFace {
		return c, false
	}
	seat, okSeat := geom.SlideHome(home, nil, []geom.Contact{contact}, seatTolerance)
	if !okSeat {
		return c, false
	}
	c.inside = bevel - needs
	c.slid = seat.Travel
	c.gap = mate.gap(seat.Move).Value.Max
	total := math.Abs(float64(c.inside)) * m.sides
	if c.last = total < float64(geom.Right); c.last {
		c.closing = across * geom.Angle(total).Sin()
	}
	return c, true
}

// fitRing sets the consequences of a ring: the tilt made, the gap of the worse
// kind of corner and its side, and what is left open at the last joint.
func fitRing(v ringNumbers, out []Made) string {
	var m ringMade
	if trouble := makeRing(v, &m); trouble != "" {
		return trouble
	}
	worse := m.mitre
	if m.butted && m.butt.gap > worse.gap {
		worse = m.butt
	}
	out[0] = number(m.tilt.Degrees())
	out[1] = number(worse.gap)
	out[2] = number(0)
	if worse.gap > gapNoise {
		// The outside is the outer side: there the sign is positive.
		out[2] = number(math.Copysign(1, -float64(worse.inside)))
	}
	if m.mitre.last && (!m.butted || m.butt.last) {
		out[3] = number(max(m.mitre.closing, m.butt.closing))
	}
	return ""
}

// ringPlaces says on which face the corners stand off; the other one touches.
func ringPlaces(v ringNumbers) map[string]Place {
	var m ringMade
	if makeRing(v, &m) != "" {
		return map[string]Place{}
	}
	worse := m.mitre
	if m.butted && m.butt.gap > worse.gap {
		worse = m.butt
	}
	switch {
	case worse.gap <= sameGap:
		return map[string]Place{"gap": {}}
	case worse.inside > 0:
		return map[string]Place{"gap": {Least: "outside", Most: "inside"}}
	}
	return map[string]Place{"gap": {Least: "inside", Most: "outside"}}
}
