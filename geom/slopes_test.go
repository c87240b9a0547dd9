package geom

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// slopes are two planes that rise from the corner of two plates square to one
// another, the first toward +y, the second toward +x, with normals upward.
func slopes(first, second Angle) (Plane, Plane) {
	sin, cos := first.SinCos()
	a := Plane{N: Vec{Y: -sin, Z: cos}}
	sin, cos = second.SinCos()
	return a, Plane{N: Vec{X: -sin, Z: cos}}
}

// source is a figure as printed. An erratum says why it is off; it then has to
// be off by more than its last digit allows.
type source struct {
	name           string
	figure, half   float64
	got            float64
	erratum        string
	erratumAtLeast float64
}

func (s source) check(t *testing.T) {
	t.Helper()
	off := math.Abs(s.got - s.figure)
	if s.erratum == "" && off > s.half {
		t.Errorf("%s = %.6f, want the printed %g to %g", s.name, s.got, s.figure, s.half)
	}
	if s.erratum != "" && (off <= s.half || off > s.erratumAtLeast) {
		t.Errorf("%s = %.6f is off the printed %g by %g, want more than %g and at most %g: %s", s.name, s.got, s.figure, off, s.half, s.erratumAtLeast, s.erratum)
	}
}

func degrees(t *testing.T, a Angle, ok bool) float64 {
	t.Helper()
	if !ok {
		t.Fatal("planes without an angle")
	}
	return a.Degrees()
}

// Machinery's Handbook, 31st edition, page 121, figure 5: the edge of two
// sloping sides, 27 and 36 degrees, rises 22°38.6′ and lies 35°2.5′ in plan.
func TestArrisOfTwoSlopesAgainstMachinerysHandbook(t *testing.T) {
	const minute = 1.0 / 60
	a, b := slopes(Deg(27), Deg(36))
	arris, ok := a.Meet(b)
	level := Plane{N: Vec{Z: 1}}
	plan := Along(arris.Dir, -Dot(arris.Dir, level.N), level.N)
	rises, okRises := AngleBetween(arris.Dir, plan)
	lies, okLies := AngleBetween(plan, Vec{Y: math.Copysign(1, plan.Y)})
	source{name: "C", figure: 22 + 38.6*minute, half: 0.05 * minute, got: degrees(t, rises, ok && okRises)}.check(t)
	source{name: "R", figure: 35 + 2.5*minute, half: 0.05 * minute, got: degrees(t, lies, ok && okLies)}.check(t)
}

// Math Central (University of Regina), QQ.09.17: a hood rises 14 1/4 in; its
// front slants over 21 in and its side over 17 9/16. The page rounded both
// runs to hundredths before going on, which moves its answer in the second
// decimal.
func TestHoodOfUnequalSlopes(t *testing.T) {
	const rise, front, side = 14.25, 21, 17 + 9.0/16
	run := func(slant float64) float64 { return math.Sqrt(slant*slant - rise*rise) }
	a, b := slopes(Atan2(rise, run(front)), Atan2(rise, run(side)))
	normals, ok := AngleBetween(a.N, b.N)
	got := degrees(t, normals, ok)
	source{name: "angle between the normals", figure: 64.5623, half: 0.00005, got: got, erratum: "rounded early", erratumAtLeast: 0.013}.check(t)
	source{name: "half of it", figure: 32.2812, half: 0.00005, got: got / 2, erratum: "rounded early", erratumAtLeast: 0.0065}.check(t)
	source{name: "angle between the normals, exact", figure: 64.5742, half: 0.00005, got: got}.check(t)
	// With the runs as the page rounds them, its own answer comes out.
	a, b = slopes(Atan2(rise, 15.43), Atan2(rise, 10.27))
	normals, ok = AngleBetween(a.N, b.N)
	source{name: "angle between the normals, runs rounded", figure: 64.5623, half: 0.005, got: degrees(t, normals, ok)}.check(t)
}

// Math Central, QQ.09.08: a pyramid with a base of 36 by 28, cut off 16 up at
// 6 by 6. Its faces are built from their corners; the dihedral is not given
// there and was worked out elsewhere.
func TestTruncatedPyramid(t *testing.T) {
	low := [2]Vec{{X: 18, Y: -14}, {X: 18, Y: 14}}
	high := [2]Vec{{X: 3, Y: -3, Z: 16}, {X: 3, Y: 3, Z: 16}}
	side, okSide := PlaneThrough(low[0], low[1], high[1])
	end, okEnd := PlaneThrough(low[1], Vec{X: -18, Y: 14}, high[1])
	up := Plane{N: Vec{Z: 1}}
	slope := func(p Plane) float64 {
		a, ok := AngleBetween(p.N, up.N)
		return degrees(t, a, ok && okSide && okEnd)
	}
	dihedral, ok := Dihedral(side, end)
	source{name: "slope over the long half", figure: 46.85, half: 0.005, got: slope(side)}.check(t)
	source{name: "slope over the short half", figure: 55.49, half: 0.005, got: slope(end)}.check(t)
	source{name: "dihedral", figure: 112.797, half: 0.0005, got: degrees(t, dihedral, ok)}.check(t)
}

// J. Bartok's notes on hip roofs, a roof of 10 in 12 that meets one of 7 in 12:
// blade bevel 33.57154 and mitre 52.78951. They are the cut of a board that
// rises by the first pitch, by a plumb plane that runs, in plan, at the second
// pitch to the board's level lines.
func TestCutsOfUnequalPitches(t *testing.T) {
	first, second := Atan2(10, 12), Atan2(7, 12)
	board, _ := slopes(first, second)
	sin, cos := second.SinCos()
	cut := Plane{N: Vec{X: sin, Y: cos}}
	upSlope := Cross(board.N, Vec{X: 1})
	bevel, okBevel := FromSquare(board, cut)
	mitre, okMitre := Bevel(board, cut, upSlope)
	source{name: "bevel", figure: 33.57154, half: 0.000005, got: math.Abs(degrees(t, bevel, okBevel))}.check(t)
	source{name: "mitre", figure: 52.78951, half: 0.000005, got: degrees(t, mitre, okMitre)}.check(t)
	source{name: "pitch of 10 in 12", figure: 39.80557, half: 0.000005, got: first.Degrees()}.check(t)
	source{name: "pitch of 7 in 12", figure: 30.25644, half: 0.000005, got: second.Degrees()}.check(t)
}

// Griffith, Carpentry (1916), section 47: a main roof of 8 in 12 and a minor
// one of 5 in 6. At the minor ridge, 5 up, the valley has gone 7 1/2 over the
// main run and 6 over the minor, 9.60 in plan, at 38°40′.
func TestValleyOfUnequalPitches(t *testing.T) {
	main, minor := slopes(Atan2(8, 12), Atan2(5, 6))
	valley, ok := main.Meet(minor)
	top, okTop := valley.Pierce(Plane{N: Vec{Z: 1}, D: 5})
	if !ok || !okTop {
		t.Fatal("the roofs do not meet")
	}
	plan := top
	plan.Z = 0
	angle, okAngle := AngleBetween(plan, Vec{Y: 1})
	source{name: "run over the main roof", figure: 7.5, half: 1e-9, got: top.Y}.check(t)
	source{name: "run over the minor roof", figure: 6, half: 1e-9, got: top.X}.check(t)
	source{name: "valley run", figure: 9.60, half: 0.005, got: Norm(plan)}.check(t)
	source{name: "valley run on 12", figure: 19.20, half: 0.01, got: Norm(r3.Scale(2, plan))}.check(t)
	source{name: "plan angle", figure: 38 + 40.0/60, half: 0.5 / 60, got: degrees(t, angle, okAngle)}.check(t)
}
