package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestTrigAgainstStandardLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	worst := 0.0
	for i := 0; i < 200000; i++ {
		x := (rng.Float64() - 0.5) * 40
		s, c := sincos(x)
		worst = max(worst, math.Abs(s-math.Sin(x)), math.Abs(c-math.Cos(x)))
		y, z := rng.NormFloat64(), rng.NormFloat64()
		worst = max(worst, math.Abs(atan2(y, z)-math.Atan2(y, z))/3)
	}
	if worst > 4e-16 {
		t.Errorf("worst difference %g, want at most 4e-16", worst)
	}
}

func TestAtan2Corners(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ y, x float64 }{
		{0, 1}, {0, -1}, {1, 0}, {-1, 0}, {0, 0}, {1, 1}, {-1, -1}, {1, -1},
		{inf, 1}, {1, inf}, {inf, inf}, {inf, -inf}, {-inf, 1}, {1e-320, 1e300}, {1e300, 1e-320},
	} {
		got, want := atan2(c.y, c.x), math.Atan2(c.y, c.x)
		if math.Abs(got-want) > 5e-16 {
			t.Errorf("atan2(%g, %g) = %.17g, want %.17g", c.y, c.x, got, want)
		}
	}
	if s, c := sincos(1e9); math.Hypot(s, c) > 1+1e-15 || math.Hypot(s, c) < 1-1e-15 {
		t.Errorf("sincos(1e9) = %g, %g: not on the unit circle", s, c)
	}
}

func TestDegreesAndBack(t *testing.T) {
	for d := -180.0; d <= 180; d += 0.37 {
		if got := Deg(d).Degrees(); math.Abs(got-d) > 1e-13 {
			t.Errorf("Deg(%g).Degrees() = %g, want %g", d, got, d)
		}
		s, c := Deg(d).SinCos()
		if got := Atan2(s, c).Degrees(); math.Abs(got-d) > 1e-12 {
			t.Errorf("Atan2 of sine and cosine of %g = %g", d, got)
		}
	}
}
