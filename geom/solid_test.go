package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// testTol is the tolerance of clipping here: some hundred times the rounding
// of coordinates near 50.
const testTol = 1e-12

// randomSolid is a convex piece with n faces near a ball of radius 30.
func randomSolid(rng *rand.Rand, n int, centre Vec) ([]Plane, Solid) {
	for {
		planes := make([]Plane, n)
		for i := range planes {
			u, _ := Unit(randomVec(rng, 1))
			planes[i], _ = NewPlane(u, Along(centre, 20+10*rng.Float64(), u))
		}
		if s, ok := FromHalfSpaces(planes, 500, testTol); ok {
			return planes, s
		}
	}
}

// sound checks the contract: closed, convex, wound anticlockwise from outside.
func sound(t *testing.T, s Solid) {
	t.Helper()
	used := map[Vec]bool{}
	edges := 0
	for _, f := range s.Faces() {
		n, ok := f.Corners.Normal()
		if !ok || Dot(n, f.Plane.N) < 1-1e-6 {
			t.Errorf("face %v winds about %v, want its normal", f.Plane, n)
		}
		for _, v := range f.Corners {
			used[v] = true
			if d := math.Abs(f.Plane.Dist(v)); d > 1e-9 {
				t.Errorf("corner is %g off its face", d)
			}
		}
		for _, v := range s.Vertices() {
			if d := f.Plane.Dist(v); d > 1e-9 {
				t.Errorf("corner sticks out of a face by %g", d)
			}
		}
		edges += len(f.Corners)
	}
	if got := len(used) - edges/2 + len(s.Faces()); got != 2 || edges%2 != 0 || len(used) != len(s.Vertices()) {
		t.Errorf("corners - edges + faces = %d, want 2 (Euler)", got)
	}
	if got, want := len(s.Edges()), edges/2; got != want {
		t.Errorf("%d edges, want %d", got, want)
	}
	for _, e := range s.Edges() {
		if e.Right == (Vec{}) || Triple(r3.Sub(e.B, e.A), e.Left, e.Right) < 0 {
			t.Errorf("edge %v has faces %v and %v on the wrong sides", e, e.Left, e.Right)
		}
	}
}

func TestBox(t *testing.T) {
	s, ok := Box(Vec{X: -1, Y: 2, Z: 3}, Vec{X: 4, Y: 4, Z: 10})
	if !ok || s.Volume() != 70 || s.Area() != 2*(10+35+14) {
		t.Errorf("Box volume %g, area %g %v, want 70, 118", s.Volume(), s.Area(), ok)
	}
	sound(t, s)
	if got := len(s.Edges()); got != 12 {
		t.Errorf("a box has %d edges, want 12", got)
	}
}

func TestRandomSolidsAreSoundAndHaveTheirVolume(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	worst := 0.0
	for i := 0; i < 60; i++ {
		planes, s := randomSolid(rng, 8+rng.IntN(16), randomVec(rng, 10))
		sound(t, s)
		want := allTriplesVolume(planes)
		worst = max(worst, math.Abs(s.Volume()/want-1))
	}
	t.Logf("worst relative difference of volumes %.1e", worst)
	if worst > 1e-12 {
		t.Errorf("volume differs from that of all triples by %g, want at most 1e-12", worst)
	}
}

func TestCuttingConservesVolume(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for i := 0; i < 300; i++ {
		_, s := randomSolid(rng, 12, Vec{})
		cut, _ := NewPlane(randomVec(rng, 1), randomVec(rng, 12))
		below, okBelow := s.Clip(cut, testTol)
		above, okAbove := s.Clip(cut.Flip(), testTol)
		if !okBelow && !okAbove {
			t.Fatal("a cut left nothing on both sides")
		}
		if okBelow {
			sound(t, below)
		}
		if got, want := below.Volume()+above.Volume(), s.Volume(); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("volumes %g and %g add to %g, want %g", below.Volume(), above.Volume(), got, want)
		}
	}
}

// A cut through corners, edges and faces that are there already must not
// leave slivers or holes.
func TestCutsThroughWhatIsThere(t *testing.T) {
	s, _ := Box(Vec{}, Vec{X: 10, Y: 10, Z: 10})
	diagonal, _ := NewPlane(Vec{X: 1, Y: -1}, Vec{})
	corner, _ := NewPlane(Vec{X: 1, Y: 1, Z: 1}, Vec{X: 10, Y: 10})
	for _, c := range []struct {
		name   string
		plane  Plane
		volume float64
		faces  int
	}{
		{"along two edges", diagonal, 500, 5},
		{"through three corners", corner, 1000 * 5 / 6.0, 7},
		{"on a face", Plane{N: Vec{X: 1}, D: 10}, 1000, 6},
		{"at an edge from outside", Plane{N: r3.Scale(math.Sqrt(0.5), Vec{X: 1, Y: 1}), D: 20 * math.Sqrt(0.5)}, 1000, 6},
		{"on a face from the wrong side", Plane{N: Vec{X: -1}, D: -10}, 0, 0},
		{"past it", Plane{N: Vec{X: 1}, D: -1}, 0, 0},
	} {
		got, ok := s.Clip(c.plane, testTol)
		if ok != (c.volume > 0) || math.Abs(got.Volume()-c.volume) > 1e-9 || len(got.Faces()) != c.faces {
			t.Errorf("cut %s: volume %g, %d faces, want %g, %d", c.name, got.Volume(), len(got.Faces()), c.volume, c.faces)
		}
		if ok {
			sound(t, got)
		}
	}
}

func TestIntersectAgainstRandomPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for i := 0; i < 20; i++ {
		pa, a := randomSolid(rng, 10, Vec{})
		pb, b := randomSolid(rng, 10, randomVec(rng, 10))
		both, ok := a.Intersect(b, testTol)
		swapped, okSwapped := b.Intersect(a, testTol)
		if ok != okSwapped || ok && math.Abs(both.Volume()/swapped.Volume()-1) > 1e-12 {
			t.Errorf("a in b has %g, b in a has %g", both.Volume(), swapped.Volume())
		}
		const n, half = 20000, 60.0
		inside := 0
		for j := 0; j < n; j++ {
			v := Vec{X: (rng.Float64()*2 - 1) * half, Y: (rng.Float64()*2 - 1) * half, Z: (rng.Float64()*2 - 1) * half}
			in := inAll(pa, v) && inAll(pb, v)
			if in {
				inside++
			}
			if in != both.Contains(v, 0) {
				t.Fatalf("point %v: in all half-spaces %v, in the solid %v", v, in, !in)
			}
		}
		whole := 8 * half * half * half
		p := both.Volume() / whole
		if sigma := math.Sqrt(p * (1 - p) / n); math.Abs(float64(inside)/n-p) > 5*sigma {
			t.Errorf("random points give %g, want %g", float64(inside)/n*whole, both.Volume())
		}
	}
}

func inAll(planes []Plane, v Vec) bool {
	for _, p := range planes {
		if p.Dist(v) > 0 {
			return false
		}
	}
	return true
}

func TestVolumeDoesNotChangeUnderRigidMotion(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for i := 0; i < 100; i++ {
		_, s := randomSolid(rng, 12, Vec{})
		moved := s.Carried(randomMotion(rng))
		sound(t, moved)
		if got, want := moved.Volume(), s.Volume(); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("volume %g became %g", want, got)
		}
	}
}

func TestSolidsWithoutEndOrWoodAreRefused(t *testing.T) {
	x, y := Plane{N: Vec{X: 1}, D: 1}, Plane{N: Vec{Y: 1}, D: 1}
	for name, planes := range map[string][]Plane{
		"no planes":         nil,
		"without end":       {x, y},
		"without wood":      {x, {N: Vec{X: -1}, D: -2}},
		"a plane of no use": {x, y, {N: Vec{X: math.NaN()}}},
	} {
		if s, ok := FromHalfSpaces(planes, 100, testTol); ok {
			t.Errorf("%s: got %d faces, want it refused", name, len(s.Faces()))
		}
	}
	b, _ := Box(Vec{}, Vec{X: 1, Y: 1, Z: 1})
	if _, ok := b.Intersect(Solid{}, testTol); ok {
		t.Error("Intersect with nothing: ok, want nothing")
	}
	if _, ok := (Solid{}).Clip(x, testTol); ok || (Solid{}).Volume() != 0 || (Solid{}).Contains(Vec{}, 1) {
		t.Error("the zero Solid is something, want nothing")
	}
}
