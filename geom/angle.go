package geom

import "math"

// Angle is an angle in radians. It enters as degrees through [Deg] and leaves
// through [Angle.Degrees]; nothing outside geom handles radians.
type Angle float64

// Deg gives the angle of d degrees.
func Deg(d float64) Angle { return Angle(d * math.Pi / 180) }

// Degrees gives the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * 180 / math.Pi }

// Sin gives the sine.
func (a Angle) Sin() float64 { return math.Sin(float64(a)) }

// Cos gives the cosine.
func (a Angle) Cos() float64 { return math.Cos(float64(a)) }

// Tan gives the tangent.
func (a Angle) Tan() float64 { return math.Tan(float64(a)) }
