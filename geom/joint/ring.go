package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rings of tilted sides: splayed boxes and coopered vessels. All sides are
// equal and symmetric, so one side and one corner tell about all of them.
//
// Frame: the ring's axis is z, up. The side that is looked at has its outside
// face toward +x, its bottom edge along +y, and leans outward, +x, going up.
// Its neighbour is reached by a turn of 360/n about the axis; the plane
// between the two holds the axis and stands half of that turn away.

// ringSide is one side of a ring. All normals point out of the wood.
type ringSide struct {
	outside, inside geom.Plane
	along           geom.Vec // the bottom edge, +y
	slope           geom.Vec // up the outside face, square to the bottom edge
	between         geom.Plane
}

// sideOfRing is a side of a ring of so many, leaning by tilt, with its outside
// bottom edge at a distance from the axis. ok is false where there is no ring:
// fewer than three sides, or sides that lie flat.
func sideOfRing(sides float64, tilt geom.Angle, thickness, radius float64) (s ringSide, ok bool) {
	sin, cos := tilt.SinCos()
	if !(sides > 2 && cos > geom.Parallel && tilt > -geom.Right && tilt < geom.Right) {
		return ringSide{}, false
	}
	s.along = geom.Vec{Y: 1}
	s.slope = geom.Vec{X: sin, Z: cos}
	s.outside, ok = geom.NewPlane(geom.Cross(s.along, s.slope), geom.Vec{X: radius})
	s.inside = s.outside.Flip().Shift(thickness)
	s.between = betweenSides(sides)
	return s, ok
}

// betweenSides is the plane between the side and its neighbour toward +y,
// which bounds the side's sector.
func betweenSides(sides float64) geom.Plane {
	sin, cos := halfTurn(sides).SinCos()
	return geom.Plane{N: geom.Vec{X: -sin, Y: cos}}
}

// halfTurn is half of the turn from one side to the next.
func halfTurn(sides float64) geom.Angle { return 2 * geom.Right / geom.Angle(sides) }

// endSlant is how far the end line that a cut leaves on the outside face
// slants outward going up, from square to the bottom edge.
func (s ringSide) endSlant(cut geom.Plane) (geom.Angle, bool) {
	line, ok := s.outside.Meet(cut)
	if !ok {
		return 0, false
	}
	up := line.Dir
	if geom.Dot(up, s.slope) < 0 {
		up = r3.Scale(-1, up)
	}
	return geom.AngleOn(s.outside.N, up, s.slope)
}

// tiltMade is the tilt at which sides close to a ring whose ends slant by
// slant: the side turns up about its bottom edge until the tip of its end
// line, going round on a circle, lies in the plane between the sides. ok is
// false where the circle never gets there: the ends slant more than those of a
// ring that lies flat.
func tiltMade(sides float64, slant geom.Angle) (geom.Angle, bool) {
	if !(sides > 2 && slant > -geom.Right && slant < geom.Right) {
		return 0, false
	}
	// One unit along the end line goes sin sideways and cos up the face.
	sideways, upward := slant.SinCos()
	bottom := geom.Line{At: geom.Vec{Y: sideways}, Dir: geom.Vec{X: 1}}
	tip, ok := bottom.Pierce(betweenSides(sides))
	if !ok {
		return 0, false
	}
	height, ok := geom.HalfChord(upward, tip.X)
	if !ok {
		return 0, false
	}
	return geom.AngleOn(geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: tip.X, Z: height})
}
