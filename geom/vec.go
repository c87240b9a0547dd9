package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Vec is a point or a direction. Its sums and differences are gonum's; its
// products are the ones below, which round alike everywhere.
type Vec = r3.Vec

// Parallel is the sine of the angle below which two directions count as
// parallel: a thousand times the rounding of float64, and a thousandth of a
// hair's breadth over the length of a street.
const Parallel = 1e-12

// Dot is the product a·b.
func Dot(a, b Vec) float64 {
	return float64(a.X*b.X) + float64(a.Y*b.Y) + float64(a.Z*b.Z)
}

// Cross is the product a×b.
func Cross(a, b Vec) Vec {
	return Vec{
		X: float64(a.Y*b.Z) - float64(a.Z*b.Y),
		Y: float64(a.Z*b.X) - float64(a.X*b.Z),
		Z: float64(a.X*b.Y) - float64(a.Y*b.X),
	}
}

// Triple is the volume a·(b×c) of the box the three span.
func Triple(a, b, c Vec) float64 { return Dot(a, Cross(b, c)) }

// Norm is the length of a.
func Norm(a Vec) float64 { return math.Sqrt(Dot(a, a)) }

// Distance is the length from a to b.
func Distance(a, b Vec) float64 { return Norm(r3.Sub(b, a)) }

// Unit is the direction of a. ok is false where a has no direction or no
// finite length.
func Unit(a Vec) (u Vec, ok bool) {
	n := Norm(a)
	// Below 1e-150 the squares inside Norm have lost their digits.
	if !finite(n) || n < 1e-150 {
		return Vec{}, false
	}
	return Vec{X: a.X / n, Y: a.Y / n, Z: a.Z / n}, true
}

// Along is the point reached from a by going t times d. What a was worked out
// from is rounded first, for it may be a product too.
func Along(a Vec, t float64, d Vec) Vec {
	return Vec{X: float64(a.X) + float64(t*d.X), Y: float64(a.Y) + float64(t*d.Y), Z: float64(a.Z) + float64(t*d.Z)}
}

// AngleBetween is the angle from one direction to the other, 0 to 180 degrees.
// ok is false where one of them is no direction.
func AngleBetween(a, b Vec) (Angle, bool) {
	a, oka := Unit(a)
	b, okb := Unit(b)
	if !oka || !okb {
		return 0, false
	}
	return Atan2(Norm(Cross(a, b)), Dot(a, b)), true
}

// AngleOn is the angle from a to b seen from the side that n points to,
// anticlockwise positive, both projected on the plane square to n. ok is false
// where a projection vanishes.
func AngleOn(n, a, b Vec) (Angle, bool) {
	n, ok := Unit(n)
	if !ok {
		return 0, false
	}
	a, oka := Unit(Along(a, -Dot(a, n), n))
	b, okb := Unit(Along(b, -Dot(b, n), n))
	if !oka || !okb {
		return 0, false
	}
	return Atan2(Triple(n, a, b), Dot(a, b)), true
}

// Finite says that a has three ordinary numbers.
func Finite(a Vec) bool { return finite(a.X) && finite(a.Y) && finite(a.Z) }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
