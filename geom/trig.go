package geom

import "math"

// The standard library's sine, cosine and arctangent may be compiled to fused
// instructions on some processors, or be written in assembly, and then differ
// in the last bit. These use plain products, sums and square roots only, which
// are rounded alike everywhere. They are good to about 1e-16.

// A right angle in two parts: the first has 33 bits, so that n times it is
// exact for every n that occurs, and the second is the rest.
const (
	rightHead = 0x1.921fb544p+0
	rightTail = 0x1.0b4611a626331p-34
)

// sincos gives sine and cosine of x radians. It takes off whole right angles,
// n of them, and sums the power series over what is left, at most π/4: the
// first term left out is below (π/4)^19/19! = 1e-19.
func sincos(x float64) (s, c float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return math.NaN(), math.NaN()
	}
	if math.Abs(x) > 1e5 {
		x = math.Mod(x, 2*math.Pi)
	}
	n := math.Round(x / (math.Pi / 2))
	r := (x - float64(n*rightHead)) - float64(n*rightTail)
	s, c = sineSeries(r), cosineSeries(r)
	switch int64(n) & 3 {
	case 1:
		return c, -s
	case 2:
		return -s, -c
	case 3:
		return -c, s
	}
	return s, c
}

// sineSeries is r - r³/3! + r⁵/5! - …, summed from the small end.
func sineSeries(r float64) float64 {
	z, sum := float64(r*r), 0.0
	for k := 16.0; k >= 2; k -= 2 {
		sum = float64((1-sum)*z) / float64(k*(k+1))
	}
	return r - float64(r*sum)
}

// cosineSeries is 1 - r²/2! + r⁴/4! - …, summed from the small end.
func cosineSeries(r float64) float64 {
	z, sum := float64(r*r), 0.0
	for k := 17.0; k >= 1; k -= 2 {
		sum = float64((1-sum)*z) / float64(k*(k+1))
	}
	return 1 - sum
}

// atan2 is the angle of (x, y) in radians. The direction is folded into the
// first eighth of a turn, where atan01 works, and unfolded again.
func atan2(y, x float64) float64 {
	if math.IsNaN(x) || math.IsNaN(y) {
		return math.NaN()
	}
	ay, ax := math.Abs(y), math.Abs(x)
	var a float64
	switch {
	case ay == 0 && ax == 0:
	case math.IsInf(ay, 1) && math.IsInf(ax, 1):
		a = math.Pi / 4
	case ay <= ax:
		a = atan01(ay / ax)
	default:
		a = math.Pi/2 - atan01(ax/ay)
	}
	if math.Signbit(x) {
		a = math.Pi - a
	}
	return math.Copysign(a, y)
}

// atan01 is the arctangent of q in 0…1. Halving the angle twice,
// tan(a/2) = q/(1+sqrt(1+q²)), brings q below tan(π/16) = 0.199; there the
// series q - q³/3 + q⁵/5 - … needs twelve terms (0.199^25/25 = 1e-19).
func atan01(q float64) float64 {
	q /= 1 + math.Sqrt(1+float64(q*q))
	q /= 1 + math.Sqrt(1+float64(q*q))
	z, sum := float64(q*q), 0.0
	for k := 23.0; k >= 3; k -= 2 {
		sum = float64(z * (1/k - sum))
	}
	return 4 * (q - float64(q*sum))
}
