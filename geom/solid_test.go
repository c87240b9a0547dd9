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

// Solids that lie nowhere, and planes and bounds beyond all numbers, are
// refused; nothing comes back that is not a number.
func TestCuttingAbsurdSolids(t *testing.T) {
	box, _ := Box(Vec{X: -1, Y: -1, Z: -1}, Vec{X: 1, Y: 1, Z: 1})
	for _, v := range []Vec{{X: math.NaN()}, {Y: math.NaN()}, {Z: math.Inf(1)}} {
		lost := box.Moved(v)
		if s, ok := lost.Clip(Plane{N: Vec{X: 1}}, testTol); ok {
			t.Errorf("a box moved by %v is cut to %v, want it refused", v, s.Vertices())
		}
		if s, ok := box.Intersect(lost, testTol); ok {
			t.Errorf("a box and one moved by %v share %v, want it refused", v, s.Vertices())
		}
	}
	for _, size := range []float64{1e150, 1e300, math.MaxFloat64} {
		s, ok := FromHalfSpaces([]Plane{{N: Vec{X: 1}, D: 1}, {N: Vec{X: 0.6, Y: 0.8}, D: 2}}, size, testTol)
		for _, v := range s.Vertices() {
			if ok && !Finite(v) {
				t.Errorf("bounds of %g leave a corner at %v", size, v)
			}
		}
	}
}

// A plane through corners and along edges leaves outlines that need no new
// corner there: cut in two, a box's halves are whole and sound.
func TestCutsThroughCornersAndAlongEdges(t *testing.T) {
	box, _ := Box(Vec{}, Vec{X: 2, Y: 2, Z: 2})
	for name, c := range map[string]struct {
		normal, at Vec
		volume     float64 // of what stays
		corners    int
	}{
		"diagonal along two edges":     {Vec{X: 1, Y: -1}, Vec{}, 4, 6},
		"three corners":                {Vec{X: 1, Y: 1, Z: 1}, Vec{X: 2}, 4.0 / 3, 4},
		"the other three":              {Vec{X: -1, Y: -1, Z: -1}, Vec{X: 2}, 8 - 4.0/3, 7},
		"one edge and two new corners": {Vec{X: 1, Y: -2}, Vec{}, 8 - 2, 8},
		"one corner and four faces":    {Vec{X: 2, Y: 1, Z: 1}, Vec{X: 2}, 8 - 8.0/6*3.5, 0},
	} {
		p, _ := NewPlane(c.normal, c.at)
		s, ok := box.Clip(p, testTol)
		rest, okRest := box.Clip(p.Flip(), testTol)
		if !ok || !okRest || math.Abs(s.Volume()+rest.Volume()-8) > 1e-12 {
			t.Errorf("%s: %g and %g left, want 8 together", name, s.Volume(), rest.Volume())
		}
		if c.corners != 0 && (math.Abs(s.Volume()-c.volume) > 1e-12 || len(s.Vertices()) != c.corners) {
			t.Errorf("%s: %g left with %d corners, want %g with %d", name, s.Volume(), len(s.Vertices()), c.volume, c.corners)
		}
		sound(t, s)
		sound(t, rest)
	}
}

// Solids with more corners than a mask has bits are cut all the same.
func TestCuttingManyCorners(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 20))
	planes, s := randomSolid(rng, 150, Vec{})
	more, o := randomSolid(rng, 120, Vec{X: 4, Y: 3})
	if len(s.Vertices()) <= 64 || len(o.Vertices()) <= 64 {
		t.Fatalf("%d and %d corners, want more than 64", len(s.Vertices()), len(o.Vertices()))
	}
	both, ok := s.Intersect(o, testTol)
	want := allTriplesVolume(append(planes, more...))
	if got := both.Volume(); !ok || math.Abs(got/want-1) > 1e-11 {
		t.Errorf("shared volume %.13g %v, want %.13g", got, ok, want)
	}
	sound(t, both)
}

// Where corners lie on the plane by tolerance only, links may make no ring:
// then the outline is sorted, and comes out the same.
func TestOutlineSortedAndLinkedAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for range 300 {
		_, s := randomSolid(rng, 8+rng.IntN(16), Vec{})
		p, _ := NewPlane(randomVec(rng, 1), randomVec(rng, 8))
		k := new(cutter)
		if !k.load(s) {
			t.Fatal("a random solid is refused")
		}
		m := k.sort(&p, testTol)
		if m.outside == 0 || m.inside == 0 {
			continue
		}
		k.edges, k.first, k.links = k.edges[:0], none, 0
		k.cutFaces(m)
		from := len(k.loops)
		linkedMask, ok := k.walk()
		linked := append([]int32(nil), k.loops[from:]...)
		k.loops = k.loops[:from]
		sortedMask := k.walkSorted(p)
		sorted := k.loops[from:]
		if !ok || linkedMask != sortedMask || len(linked) != len(sorted) {
			t.Fatalf("linked %v %v, sorted %v, want the same ring", linked, ok, sorted)
		}
		shift := 0
		for sorted[shift] != linked[0] {
			shift++
		}
		for i, c := range linked {
			if sorted[(i+shift)%len(sorted)] != c {
				t.Fatalf("linked %v, sorted %v, want the same ring", linked, sorted)
			}
		}
	}
}

// A torn outline is not walked: an end, a corner linked twice, two rings.
func TestTornOutlines(t *testing.T) {
	for name, links := range map[string][][2]int32{
		"nothing": nil, "an end": {{0, 1}, {1, 2}, {2, 3}}, "two only": {{0, 1}, {1, 0}}, "linked twice": {{0, 1}, {1, 2}, {2, 0}, {1, 0}},
		"two rings": {{0, 1}, {1, 2}, {2, 0}, {3, 4}, {4, 5}, {5, 3}}, "to itself": {{0, 1}, {1, 2}, {2, 2}},
	} {
		k := &cutter{corners: make([]cutCorner, 6), first: none}
		for i := range k.corners {
			k.corners[i].next = none
		}
		for _, l := range links {
			k.link(l[0], l[1])
		}
		if _, ok := k.walk(); ok {
			t.Errorf("%s: walked as a ring, want it refused", name)
		}
	}
}
