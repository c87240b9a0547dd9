package joint

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Mirrored parts mirror their gaps. Each family has its own way of being
// mirrored; that of the V joint stands with its fit.
func TestMirroredDovetails(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	for range 500 {
		p := randomBlankOf(throughDovetail, rng)
		p["tails"] = 2
		l, _ := throughDovetail.Layout(p)
		q := l.Quantities
		near := func(id string) float64 { return q[id] + rng.NormFloat64()/4 }
		first, second, width := near("first_tail_start"), near("second_tail_start"), near("tail_width")
		others := Values{"bevel_from_end": near("bevel_from_end"), "tail_at_baseline": near("tail_at_baseline"), "tail_baseline": near("tail_baseline")}
		here, errHere := throughDovetail.Fit(p, with(others, Values{
			"first_tail_start": first, "second_tail_start": second, "tail_width": width, "last_tail_end": second + width,
		}))
		// Counted from the other edge, starts are ends.
		there, errThere := throughDovetail.Fit(p, with(others, Values{
			"first_tail_start": p["width"] - second - width, "second_tail_start": p["width"] - first - width,
			"tail_width": width, "last_tail_end": p["width"] - first,
		}))
		sameOutcomes(t, p, here, there, errHere, errThere, "gap", "interference", "proud")
	}
}

// A lap that crosses the other way.
func TestMirroredLap(t *testing.T) {
	rng := rand.New(rand.NewPCG(73, 74))
	for range 500 {
		p := randomBlankOf(angledLap, rng)
		l, _ := angledLap.Layout(p)
		s := randomSlipOf(angledLap, rng, l.Quantities)
		bevel, ok := s["shoulder_bevel"]
		if !ok {
			bevel = l.Quantities["shoulder_bevel"]
		}
		here, errHere := angledLap.Fit(p, s)
		there, errThere := angledLap.Fit(with(p, Values{"crossing_angle": 180 - p["crossing_angle"]}), with(s, Values{"shoulder_bevel": 180 - bevel}))
		sameOutcomes(t, p, here, there, errHere, errThere, "side_gap", "flush_error")
		if got, want := value(t, there, "angle_made").Max, 180-bevel; math.Abs(got-want) > 1e-9 {
			t.Errorf("%v: mirrored angle made %g, want %g", p, got, want)
		}
	}
}

// A frame seen from the back: what leaned in leans out.
func TestMirroredSeatFrame(t *testing.T) {
	rng := rand.New(rand.NewPCG(75, 76))
	for range 500 {
		p := randomBlankOf(angledTenon, rng)
		l, _ := angledTenon.Layout(p)
		s := with(l.Quantities, randomSlipOf(angledTenon, rng, l.Quantities))
		here, errHere := angledTenon.Fit(p, s)
		there, errThere := angledTenon.Fit(
			with(p, Values{"front_width": p["back_width"], "back_width": p["front_width"]}),
			with(s, Values{"splay_angle": -s["splay_angle"], "shoulder_bevel": 180 - s["shoulder_bevel"], "shoulder_shift": -s["shoulder_shift"]}))
		sameOutcomes(t, p, here, there, errHere, errThere, "shoulder_gap", "length_error")
		if got, want := value(t, there, "width_error").Max, -value(t, here, "width_error").Max; math.Abs(got-want) > 1e-9 {
			t.Errorf("%v: mirrored width error %g, want %g", p, got, want)
		}
	}
}

func sameOutcomes(t *testing.T, p Values, here, there Fit, errHere, errThere error, ids ...string) {
	t.Helper()
	if errHere != nil || errThere != nil {
		t.Fatal(errHere, errThere)
	}
	for _, id := range ids {
		if a, b := value(t, here, id), value(t, there, id); apart(a, b) > 1e-9 {
			t.Errorf("%v: %s is %v, mirrored %v", p, id, a, b)
		}
	}
}
