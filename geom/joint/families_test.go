package joint

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// testFamily is what the tests know of a family besides its catalogue.
type testFamily struct {
	// ranges are the sizes such joints are made in, by parameter.
	ranges map[string][2]float64
	// touches lists what a wrong number can move, by quantity. A quantity that
	// is left out can move nothing.
	touches map[string][]string
	// maybe are the quantities that have no value on some buildable blanks.
	maybe []string
	// collide is how deep the parts as made go into each other, in millimetres;
	// nil where their overlap is not tested.
	collide func(f Fit) float64
	// exactly says that what collides is all to be seen in the parts.
	exactly bool
}

// neverCollide is for parts that are always shown as they would come to rest.
func neverCollide(Fit) float64 { return 0 }

// outcome is a consequence's one value, 0 where it has none.
func outcome(f Fit, id string) float64 {
	o, _ := f.Outcome(id)
	return o.Value.Min
}

// interference is for parts that are shown overlapping by what must go.
func interference(f Fit) float64 { return outcome(f, "interference") }

// closes are the quantities that some consequence depends on, in the family's
// order.
func (tf testFamily) closes(f *Family) []string {
	var ids []string
	for _, q := range f.Quantities {
		if len(tf.touches[q.ID]) > 0 {
			ids = append(ids, q.ID)
		}
	}
	return ids
}

// eachFamily runs a test for every family of the catalogue; one that the tests
// know nothing of fails.
func eachFamily(t *testing.T, test func(t *testing.T, f *Family, tf testFamily)) {
	t.Helper()
	for _, f := range All() {
		t.Run(f.ID, func(t *testing.T) {
			tf, ok := testFamilies[f.ID]
			if !ok {
				t.Fatalf("testFamilies has no line for %s", f.ID)
			}
			test(t, f, tf)
		})
	}
}

// with is v with some numbers replaced.
func with(v Values, more Values) Values {
	out := Values{}
	for id, x := range v {
		out[id] = x
	}
	for id, x := range more {
		out[id] = x
	}
	return out
}

// randomBlankOf draws a buildable blank of the sizes such joints are made in.
func randomBlankOf(f *Family, rng *rand.Rand) Values {
	ranges := testFamilies[f.ID].ranges
	for {
		p := Values{}
		for _, par := range f.Parameters {
			r := ranges[par.ID]
			p[par.ID] = r[0] + (r[1]-r[0])*rng.Float64()
			if par.Whole {
				p[par.ID] = math.Floor(r[0] + (r[1]-r[0]+1)*rng.Float64())
			}
		}
		if l, err := f.Layout(p); err == nil && l.Buildable() {
			return p
		}
	}
}

// randomSlipOf is the key with up to three of its numbers off by up to 2.
func randomSlipOf(f *Family, rng *rand.Rand, key Values) Values {
	closes := testFamilies[f.ID].closes(f)
	s := Values{}
	for n := 1 + rng.IntN(3); n > 0; n-- {
		id := closes[rng.IntN(len(closes))]
		if x, has := key[id]; has {
			s[id] = x + 4*rng.Float64() - 2
		}
	}
	return s
}

// value is a consequence that must be there.
func value(t *testing.T, f Fit, id string) Spread {
	t.Helper()
	o, ok := f.Outcome(id)
	if !ok {
		t.Fatalf("no %s in %v (%s)", id, f.Outcomes, f.Trouble)
	}
	return o.Value
}

func apart(a, b Spread) float64 { return max(math.Abs(a.Min-b.Min), math.Abs(a.Max-b.Max)) }

// The table is in step with the catalogue.
func TestTheTestsKnowTheCatalogue(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		for _, p := range f.Parameters {
			if r, ok := tf.ranges[p.ID]; !ok || !(r[0] <= r[1]) || r[0] < p.Min || r[1] > p.Max {
				t.Errorf("range of %s is %v, want one in %g to %g", p.ID, r, p.Min, p.Max)
			}
		}
		for id, list := range tf.touches {
			if _, ok := f.Quantity(id); !ok {
				t.Errorf("touches names %s, which is no quantity", id)
			}
			for _, c := range list {
				if !slices.ContainsFunc(f.Consequences, func(x Consequence) bool { return x.ID == c }) {
					t.Errorf("touches of %s names %s, which is no consequence", id, c)
				}
			}
		}
	})
}

// all closing numbers of the V joint but the mouth points change both sides
// alike, so that they move nothing sideways.
var vBothSides = []string{"travel", "near_cheek", "far_cheek", "near_shoulder", "far_shoulder"}

var testFamilies = map[string]testFamily{
	"through-dovetail": {
		ranges: map[string][2]float64{
			"width": {90, 240}, "tails": {1, 6}, "pin": {4, 9}, "half_pin": {5, 9}, "slope": {5, 8},
			"tail_thickness": {10, 20}, "pin_thickness": {10, 20},
		},
		touches: map[string][]string{
			"slope_angle":       {"gap", "interference"},
			"bevel_from_end":    {"gap", "interference"},
			"tail_width":        {"gap", "interference"},
			"tail_at_baseline":  {"gap", "interference"},
			"tail_baseline":     {"gap", "interference", "proud"},
			"first_tail_start":  {"gap", "interference"},
			"last_tail_end":     {"gap", "interference"},
			"second_tail_start": {"gap", "interference"},
		},
		maybe:   []string{"second_tail_start"},
		collide: interference,
	},
	"lapped-dovetail": {
		ranges: map[string][2]float64{
			"width": {80, 220}, "tails": {1, 6}, "pin": {4, 9}, "half_pin": {5, 9}, "slope": {5, 8},
			"tail_thickness": {9, 13}, "pin_thickness": {17, 23}, "lap": {4, 7},
		},
		touches: map[string][]string{
			"slope_angle":       {"gap", "interference"},
			"bevel_from_end":    {"gap", "interference"},
			"tail_width":        {"gap", "interference"},
			"tail_at_baseline":  {"gap", "interference"},
			"tail_baseline":     {"interference", "proud"}, // too long, it stays back, and its sides fit
			"first_tail_start":  {"gap", "interference"},
			"last_tail_end":     {"gap", "interference"},
			"second_tail_start": {"gap", "interference"},
		},
		maybe:   []string{"second_tail_start"},
		collide: interference,
	},
	"angled-lap": {
		ranges: map[string][2]float64{
			"width_a": {40, 90}, "width_b": {40, 90}, "thickness": {18, 44}, "crossing_angle": {35, 90},
		},
		touches: map[string][]string{
			"depth":            {"flush_error"},
			"shoulder_bevel":   {"side_gap", "angle_made"},
			"shoulder_spacing": {"side_gap"},
		},
		collide: func(f Fit) float64 { return -outcome(f, "side_gap") },
		exactly: true,
	},
	"angled-tenon": {
		ranges: map[string][2]float64{
			"front_width": {410, 520}, "back_width": {330, 420}, "depth": {360, 460}, "leg": {32, 46}, "rail_thickness": {19, 28},
		},
		touches: map[string][]string{
			"splay_angle":     {"shoulder_gap", "width_error"},
			"shoulder_bevel":  {"shoulder_gap"},
			"shoulder_shift":  {"shoulder_gap"},
			"shoulder_length": {"length_error", "width_error"},
		},
		collide: neverCollide,
	},
	"head-scarf": {
		ranges: map[string][2]float64{
			"thickness": {17, 26}, "width": {50, 80}, "head_angle": {6, 20}, "kerf": {0.8, 2.4}, "head_thickness": {12, 16},
		},
		touches: map[string][]string{
			"face_run": {"head_angle_made", "tip_error"},
		},
		collide: neverCollide,
	},
	"head-v-joint": {
		ranges: map[string][2]float64{
			"thickness": {18, 40}, "width": {45, 90}, "v_length": {20, 60}, "v_width": {15, 60},
			"head_angle": {1, 25}, "head_thickness": {8, 22}, "allowance": {0, 3},
		},
		touches: map[string][]string{
			"half_angle":      vBothSides,
			"mouth_near":      append([]string{"lateral"}, vBothSides...),
			"mouth_far":       append([]string{"lateral"}, vBothSides...),
			"face_v_length":   vBothSides,
			"face_half_angle": vBothSides,
			"cheek_tilt":      vBothSides,
			"back_shift":      vBothSides,
		},
		maybe:   []string{"max_head_angle"},
		collide: neverCollide,
	},
	"unequal-mitre": {
		ranges: map[string][2]float64{
			"width_a": {30, 90}, "width_b": {30, 90}, "corner_angle": {60, 135},
		},
		touches: map[string][]string{
			"mitre_a": {"corner_made", "length_step", "gap", "gap_side"},
			"mitre_b": {"corner_made", "length_step", "gap", "gap_side"},
		},
		collide: neverCollide,
	},
	"splayed-leg": {
		ranges: map[string][2]float64{
			"height": {300, 700}, "rake": {3, 25}, "splay": {3, 25}, "top_spacing": {150, 400}, "stretcher_height": {80, 280},
		},
		touches: map[string][]string{
			"foot_rake":  {"foot_error"},
			"foot_splay": {"foot_error"},
			"resultant":  {"foot_error", "height_error"},
			"sightline":  {"foot_error"},
			"drill_tilt": {"foot_error", "height_error"},
			"leg_length": {"foot_error", "height_error"},
		},
		collide: neverCollide,
	},
	"splayed-box": {
		ranges: map[string][2]float64{
			"sides": {3, 12}, "tilt": {5, 45}, "thickness": {8, 20}, "height": {60, 250},
		},
		touches: map[string][]string{
			"face_angle":  {"tilt_made", "gap", "gap_side", "closing_gap"},
			"mitre_bevel": {"gap", "gap_side", "closing_gap"},
			"butt_bevel":  {"gap", "gap_side", "closing_gap"},
		},
		maybe:   []string{"butt_bevel"},
		collide: neverCollide,
	},
	"coopered-vessel": {
		ranges: map[string][2]float64{
			"staves": {6, 20}, "top_diameter": {220, 420}, "bottom_diameter": {140, 320}, "height": {180, 420}, "thickness": {9, 20},
		},
		touches: map[string][]string{
			"taper_angle": {"tilt_made", "gap", "gap_side", "closing_gap"},
			"edge_bevel":  {"gap", "gap_side", "closing_gap"},
		},
		collide: neverCollide,
	},
	"hip-rafter": {
		ranges: map[string][2]float64{
			"rise": {2, 20}, "run": {10, 14}, "span": {2000, 9000},
		},
		touches: map[string][]string{
			"pitch_angle":   {"ridge_error"},
			"common_length": {"ridge_error"},
			"hip_length":    {"ridge_error"},
			"hip_plumb":     {"ridge_error"},
		},
		collide: neverCollide,
	},
}
