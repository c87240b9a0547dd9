package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestPatch(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for i := 0; i < 200; i++ {
		p, _ := NewPlane(randomVec(rng, 1), randomVec(rng, 40))
		g := p.Patch(nil, randomVec(rng, 40), 7)
		n, ok := g.Normal()
		if !ok || Distance(n, p.N) > 1e-12 || !near(g.Area(), 196) {
			t.Errorf("Patch of %v has normal %v, area %g, want 196", p, n, g.Area())
		}
		lo, hi, _ := g.Reach(p)
		if max(-lo, hi) > 1e-12 {
			t.Errorf("Patch leaves its plane by %g", max(-lo, hi))
		}
	}
}

func TestClippedPolygonsAddUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	for i := 0; i < 500; i++ {
		p, _ := NewPlane(randomVec(rng, 1), Vec{})
		g := p.Patch(nil, Vec{}, 10)
		want := g.Area()
		for j := 0; j < 4; j++ {
			cut, _ := NewPlane(randomVec(rng, 1), randomVec(rng, 3))
			in, out := g.Clip(nil, cut, testTol), g.Clip(nil, cut.Flip(), testTol)
			if sum := in.Area() + out.Area(); math.Abs(sum-want) > 1e-10 {
				t.Fatalf("parts have %g and %g, want %g together", in.Area(), out.Area(), want)
			}
			if _, farthest, ok := in.Reach(cut); ok && farthest > 1e-11 {
				t.Errorf("the part inside reaches %g outside", farthest)
			}
			if g = in; len(g) < 3 {
				break
			}
			want = g.Area()
		}
	}
}

func TestClipAwayAndClipNothing(t *testing.T) {
	g := (Plane{N: Vec{Z: 1}}).Patch(nil, Vec{}, 1)
	if got := g.Clip(nil, Plane{N: Vec{X: 1}, D: -1}, 1e-12); len(got) != 0 {
		t.Errorf("clipped to one edge: %v, want nothing", got)
	}
	if got := g.Clip(nil, Plane{N: Vec{X: 1}, D: 1}, 1e-12); len(got) != 4 {
		t.Errorf("clipped at an edge: %d corners, want 4", len(got))
	}
	if got := Polygon(nil).Clip(nil, Plane{N: Vec{X: 1}}, 0); len(got) != 0 {
		t.Errorf("nothing clipped: %v, want nothing", got)
	}
	if _, _, ok := Polygon(nil).Reach(Plane{N: Vec{X: 1}}); ok {
		t.Error("nothing reaches somewhere, want ok false")
	}
	if (Plane{}).Patch(nil, Vec{}, 1) != nil {
		t.Error("Patch of no plane, want nothing")
	}
}
