package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestSlideHomeIntoAVee(t *testing.T) {
	// Walls at 30 degrees to the direction, 0.5 and 0.1 away; a stop 2 ahead.
	sin, cos := Deg(30).SinCos()
	left := Contact{N: Vec{X: sin, Y: cos}, Room: 0.5}
	right := Contact{N: Vec{X: sin, Y: -cos}, Room: 0.1}
	stop := Contact{N: Vec{X: 1}, Room: 2}
	x, side := Vec{X: 1}, []Vec{{Y: 1}}

	got, ok := SlideHome(x, side, []Contact{left, right, stop}, 1e-9)
	// By hand: the walls add up to 2·sin·t ≤ 0.6, their difference moves it.
	if want := 0.6; !ok || !near(got.Travel, want) || !near(got.Side[0], 0.2/cos) || got.Play[0] > 1e-12 {
		t.Errorf("into the walls: %+v %v, want travel %g, side %g, no play", got, ok, want, 0.2/cos)
	}
	stop.Room = 0.3
	got, ok = SlideHome(x, side, []Contact{left, right, stop}, 1e-9)
	// At t = 0.3 the left wall leaves y ≤ 0.35/cos, the right one y ≥ 0.05/cos.
	if !ok || !near(got.Travel, 0.3) || !near(got.Side[0], 0.2/cos) || !near(got.Play[0], 0.3/cos) {
		t.Errorf("onto the stop: %+v %v, want travel 0.3, side %g, play %g", got, ok, 0.2/cos, 0.3/cos)
	}
	got, ok = SlideHome(x, side, []Contact{left, {N: Vec{X: 1}, Room: -0.7}}, 1e-9)
	if !ok || !near(got.Travel, -0.7) || got.Side[0] != 0 {
		t.Errorf("short of a stop with one wall: %+v %v, want travel -0.7 and no side move", got, ok)
	}
}

func TestSlideHomeRefuses(t *testing.T) {
	x, y := Vec{X: 1}, []Vec{{Y: 1}}
	for name, c := range map[string][]Contact{
		"nothing in the way":      nil,
		"only walls beside":       {{N: Vec{Y: 1}}, {N: Vec{Y: -1}}},
		"a stop behind the limit": {{N: Vec{X: 1}, Room: -2}, {N: Vec{X: -1}, Room: 1}},
		"walls too near":          {{N: Vec{X: 1}}, {N: Vec{Y: 1}, Room: -1}, {N: Vec{Y: -1}, Room: 0.5}},
		"no number":               {{N: Vec{X: 1}, Room: math.NaN()}},
		"no end":                  {{N: Vec{X: 1}, Room: math.Inf(1)}},
	} {
		if got, ok := SlideHome(x, y, c, 1e-9); ok {
			t.Errorf("%s: %+v, want it refused", name, got)
		}
	}
	if _, ok := SlideHome(x, []Vec{{Y: 1}, {Z: 1}, {X: 1}}, []Contact{{N: x}}, 1e-9); ok {
		t.Error("three free directions: ok, want it refused")
	}
}

// The best travel is at a corner of what the contacts allow: trying every
// corner is the slow way to the same answer.
func TestSlideHomeAgainstAllCorners(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	solved := 0
	for i := 0; i < 2000; i++ {
		contacts := make([]Contact, 3+rng.IntN(8))
		for j := range contacts {
			u, _ := Unit(randomVec(rng, 1))
			contacts[j] = Contact{N: u, Room: rng.NormFloat64()}
		}
		// A crate about it all, so that there is always an end.
		for _, u := range []Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
			contacts = append(contacts, Contact{N: u, Room: 5})
		}
		got, ok := SlideHome(Vec{X: 1}, []Vec{{Y: 1}, {Z: 1}}, contacts, 1e-9)
		want, feasible := bestCorner(contacts)
		if ok != feasible {
			t.Fatalf("case %d: seated %v, want %v", i, ok, feasible)
		}
		if !ok {
			continue
		}
		solved++
		if math.Abs(got.Travel-want) > 1e-9 {
			t.Errorf("case %d: travel %g, want %g", i, got.Travel, want)
		}
		for _, c := range contacts {
			if over := Dot(c.N, got.Move) - c.Room; over > 1e-9 {
				t.Errorf("case %d: goes %g too far into a contact", i, over)
			}
		}
	}
	if solved < 500 {
		t.Errorf("only %d cases could be solved, want at least 500", solved)
	}
}

func bestCorner(contacts []Contact) (best float64, ok bool) {
	best = math.Inf(-1)
	planes := make([]Plane, len(contacts))
	for i, c := range contacts {
		planes[i] = Plane{N: c.N, D: c.Room}
	}
	for i := range planes {
		for j := i + 1; j < len(planes); j++ {
			for k := j + 1; k < len(planes); k++ {
				v, met := cramer(planes[i], planes[j], planes[k])
				for _, p := range planes {
					met = met && p.Dist(v) < 1e-9
				}
				if met {
					best, ok = max(best, v.X), true
				}
			}
		}
	}
	return best, ok
}

func TestSeatTurnsWithTheFrame(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 20))
	for i := 0; i < 300; i++ {
		sin, cos := Deg(10 + 60*rng.Float64()).SinCos()
		contacts := []Contact{
			{N: Vec{X: sin, Y: cos}, Room: rng.NormFloat64()},
			{N: Vec{X: sin, Y: -cos}, Room: rng.NormFloat64()},
			{N: Vec{X: 1}, Room: rng.NormFloat64()},
		}
		want, ok := SlideHome(Vec{X: 1}, []Vec{{Y: 1}}, contacts, 1e-9)
		m := randomMotion(rng)
		m.Shift = Vec{}
		for j := range contacts {
			contacts[j].N = m.Point(contacts[j].N)
		}
		got, okTurned := SlideHome(m.Point(Vec{X: 1}), []Vec{m.Point(Vec{Y: 1})}, contacts, 1e-9)
		if !ok || !okTurned || Distance(got.Move, m.Point(want.Move)) > 1e-11 {
			t.Errorf("turned by %v: move %v, want %v", m, got.Move, m.Point(want.Move))
		}
	}
}
