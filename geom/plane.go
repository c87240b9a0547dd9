package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Plane is n·p = d with N of unit length. It bounds the half-space n·p ≤ d.
type Plane struct {
	N Vec
	D float64
}

// NewPlane is the plane square to the normal through a point. ok is false
// where the normal has no direction or the point is not finite.
func NewPlane(normal, through Vec) (Plane, bool) {
	n, ok := Unit(normal)
	if !ok || !Finite(through) {
		return Plane{}, false
	}
	return Plane{N: n, D: Dot(n, through)}, true
}

// PlaneThrough is the plane through three points, its normal toward the side
// from which they run anticlockwise. ok is false where they lie on a line.
func PlaneThrough(a, b, c Vec) (Plane, bool) {
	u, oku := Unit(r3.Sub(b, a))
	v, okv := Unit(r3.Sub(c, a))
	if !oku || !okv {
		return Plane{}, false
	}
	n := Cross(u, v)
	if Norm(n) < Parallel {
		return Plane{}, false
	}
	return NewPlane(n, a)
}

// Dist is how far v lies outside the half-space: negative inside.
func (p Plane) Dist(v Vec) float64 { return Dot(p.N, v) - p.D }

// Flip is the other side of the same plane.
func (p Plane) Flip() Plane { return Plane{N: r3.Scale(-1, p.N), D: -p.D} }

// Shift moves the plane by t along its normal, outward where t is positive.
func (p Plane) Shift(t float64) Plane { return Plane{N: p.N, D: float64(p.D) + float64(t)} }

// Foot is the point of the plane nearest to v.
func (p Plane) Foot(v Vec) Vec { return Along(v, -p.Dist(v), p.N) }

// Line is the set of points At + t·Dir, Dir of unit length.
type Line struct{ At, Dir Vec }

// NewLine is the line from one point toward another. ok is false where they
// are the same.
func NewLine(from, to Vec) (Line, bool) {
	d, ok := Unit(r3.Sub(to, from))
	return Line{At: from, Dir: d}, ok && Finite(from)
}

// Foot is the point of the line nearest to v.
func (l Line) Foot(v Vec) Vec { return Along(l.At, Dot(r3.Sub(v, l.At), l.Dir), l.Dir) }

// Dist is the distance of v from the line.
func (l Line) Dist(v Vec) float64 { return Distance(v, l.Foot(v)) }

// Meet is the line in which two planes cut, running along p.N×q.N. ok is false
// where they are parallel.
func (p Plane) Meet(q Plane) (Line, bool) {
	dir := Cross(p.N, q.N)
	s := Dot(dir, dir)
	if !(s > Parallel*Parallel) {
		return Line{}, false
	}
	// The point of the line nearest to the origin is a sum of both normals:
	// at = (p.D·(q.N×dir) + q.D·(dir×p.N)) / |dir|².
	a, b := Cross(q.N, dir), Cross(dir, p.N)
	at := Along(r3.Scale(p.D/s, a), q.D/s, b)
	dir, ok := Unit(dir)
	return Line{At: at, Dir: dir}, ok && Finite(at)
}

// Pierce is the point where the line goes through the plane. ok is false where
// it runs along it.
func (l Line) Pierce(p Plane) (Vec, bool) {
	s := Dot(l.Dir, p.N)
	if s < Parallel && s > -Parallel {
		return Vec{}, false
	}
	v := Along(l.At, -p.Dist(l.At)/s, l.Dir)
	return v, Finite(v)
}

// Corner is the point that three planes share. ok is false where there is
// none or more than one.
func Corner(p, q, r Plane) (Vec, bool) {
	l, ok := p.Meet(q)
	if !ok {
		return Vec{}, false
	}
	return l.Pierce(r)
}

// HalfChord is half the chord that a line at a distance from the centre cuts
// out of a circle. ok is false where the line misses the circle.
func HalfChord(radius, distance float64) (float64, bool) {
	if !(radius >= distance && radius >= -distance) {
		return 0, false
	}
	// As a product, because the difference of squares loses digits near the rim.
	return math.Sqrt(float64((radius - distance) * (radius + distance))), true
}
