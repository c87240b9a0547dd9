package geom

import "math"

// Angle is an angle in radians. It enters as degrees through [Deg] and leaves
// through [Angle.Degrees]; nothing outside geom handles radians.
type Angle float64

// Right is a right angle.
const Right Angle = math.Pi / 2

// Deg gives the angle of d degrees.
func Deg(d float64) Angle { return Angle(d * math.Pi / 180) }

// Degrees gives the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * 180 / math.Pi }

// Sin gives the sine.
func (a Angle) Sin() float64 {
	s, _ := sincos(float64(a))
	return s
}

// Cos gives the cosine.
func (a Angle) Cos() float64 {
	_, c := sincos(float64(a))
	return c
}

// SinCos gives both at the price of one.
func (a Angle) SinCos() (sin, cos float64) { return sincos(float64(a)) }

// Tan gives the tangent.
func (a Angle) Tan() float64 {
	s, c := sincos(float64(a))
	return s / c
}

// Atan2 is the angle of the direction (x, y), from -180 to 180 degrees. The
// two need not be of unit length: this is how every angle here is measured,
// because it is as exact near 0 and 90 degrees as anywhere.
func Atan2(y, x float64) Angle { return Angle(atan2(y, x)) }
