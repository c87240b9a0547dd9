package grading

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// The formulas as taught, and the same written out in givens, agree with the
// construction from planes and points on every buildable blank.
func TestTaughtAgreesWithConstruction(t *testing.T) {
	for _, f := range joint.All() {
		t.Run(f.ID, func(t *testing.T) {
			t.Parallel()
			const blanks, limit = 10_000, 1e-9
			worst, at := agreement(t, f, blanks)
			t.Logf("%s: %d random buildable blanks, worst relative disagreement %.2g (%s)", f.ID, blanks, worst, at)
			if worst > limit {
				t.Errorf("worst relative disagreement of %s = %g at %s, want at most %g", f.ID, worst, at, limit)
			}
		})
	}
}

// agreement gives the worst relative disagreement and the quantity it is of.
func agreement(t *testing.T, f *joint.Family, blanks int) (worst float64, at string) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n, draws := 0, 0; n < blanks; draws++ {
		if draws > 100*blanks {
			t.Fatalf("%d of %d draws of %s are buildable, want %d", n, draws, f.ID, blanks)
		}
		p := plausibleBlank(f, rnd)
		l, err := f.Layout(p)
		if err != nil {
			t.Fatalf("Layout(%v) = %v, want none", p, err)
		}
		if !l.Buildable() {
			continue
		}
		n++
		for _, q := range f.Quantities {
			want, has := l.Quantities[q.ID]
			if !Exists(f.ID, q.ID, func(id string) (float64, bool) { v, ok := p[id]; return v, ok }) {
				if has {
					t.Fatalf("%s of %s on %v = %v, want none", q.ID, f.ID, p, want)
				}
				continue
			}
			for _, got := range taughtValues(t, f, q.ID, p, l.Quantities) {
				if has != finite(got) {
					t.Fatalf("taught %s of %s on %v = %v, built %v (%v)", q.ID, f.ID, p, got, want, has)
				}
				if d := math.Abs(got-want) / max(math.Abs(want), 1e-3); has && d > worst {
					worst, at = d, q.ID
				}
			}
		}
	}
	return worst, at
}

// taughtValues works a quantity out both ways: as taught, over the right
// values of the others, and written out.
func taughtValues(t *testing.T, f *joint.Family, id string, p, q joint.Values) []float64 {
	t.Helper()
	direct, ok := Taught(f.ID, id)
	if !ok {
		t.Fatalf("Taught(%s, %s) = nothing, want a formula", f.ID, id)
	}
	full, _ := WrittenOut(f.ID, id)
	out := make([]float64, 0, 2)
	for _, form := range []formula.Formula{direct, full} {
		v, err := form.Eval(func(name string) (float64, bool) {
			if v, ok := p[name]; ok {
				return v, true
			}
			v, ok := q[name]
			return v, ok
		})
		if err != nil {
			v = math.NaN()
		}
		out = append(out, v)
	}
	return out
}

// plausibleBlank draws a blank from half to twice the house blank's sizes: far
// wider than any exercise's ranges. What counts things is drawn a little below
// half as well, so that there is one of it now and then.
func plausibleBlank(f *joint.Family, rnd *rand.Rand) joint.Values {
	p := joint.Values{}
	for _, par := range f.Parameters {
		p[par.ID] = f.House[par.ID] * (0.5 + 1.5*rnd.Float64())
		if par.Whole {
			p[par.ID] = max(par.Min, math.Floor(p[par.ID]-0.25*f.House[par.ID]))
		}
	}
	return p
}

func TestEveryQuantityIsTaughtOverGivens(t *testing.T) {
	for _, f := range joint.All() {
		order := TaughtOrder(f.ID)
		if len(order) != len(f.Quantities) {
			t.Errorf("TaughtOrder(%s) has %d quantities, want %d", f.ID, len(order), len(f.Quantities))
		}
		for _, q := range f.Quantities {
			if !slices.Contains(order, q.ID) {
				t.Errorf("%s of %s is not taught", q.ID, f.ID)
			}
			full, _ := WrittenOut(f.ID, q.ID)
			for _, id := range full.Names() {
				if _, ok := f.Parameter(id); !ok {
					t.Errorf("WrittenOut(%s, %s) = %s, which names %s: want givens only", f.ID, q.ID, full, id)
				}
			}
		}
		for _, text := range taught[f.ID].possible {
			if _, fault := parseCondition(text); fault != nil {
				t.Errorf("parseCondition(%q) = %v, want a condition", text, fault)
			}
		}
	}
}

// The modules' worked examples, printed there to two decimals.
func TestTaughtWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		family string
		blank  joint.Values
		want   map[string]float64
	}{
		{"through-dovetail", joint.Values{
			"width": 147, "tails": 3, "pin": 5.5, "half_pin": 9, "slope": 7, "tail_thickness": 13, "pin_thickness": 15.5,
		}, map[string]float64{
			"tail_baseline": 15.50, "pin_baseline": 13.00, "slope_angle": 8.13, "bevel_from_end": 81.87, "tail_width": 39.33,
			"first_tail_start": 9.00, "second_tail_start": 53.83, "last_tail_end": 138.00, "pin_wide": 9.93, "tail_at_baseline": 34.90,
		}},
		{"lapped-dovetail", joint.Values{
			"width": 125, "tails": 3, "pin": 7, "half_pin": 8.5, "slope": 6, "tail_thickness": 11.5, "pin_thickness": 21, "lap": 5,
		}, map[string]float64{
			"tail_baseline": 16.00, "pin_baseline": 11.50, "slope_angle": 9.46, "bevel_from_end": 80.54, "tail_width": 31.33,
			"first_tail_start": 8.50, "second_tail_start": 46.83, "last_tail_end": 116.50, "pin_wide": 12.33, "tail_at_baseline": 26.00,
		}},
		{"angled-lap", joint.Values{"width_a": 58, "width_b": 44, "thickness": 23, "crossing_angle": 62}, map[string]float64{
			"depth": 11.50, "shoulder_bevel": 62.00, "shoulder_spacing": 49.83, "shoulder_skew": 30.84, "shoulder_line": 65.69,
		}},
		{"angled-lap", joint.Values{"width_a": 44, "width_b": 58, "thickness": 23, "crossing_angle": 62}, map[string]float64{ // piece B of the same joint
			"shoulder_spacing": 65.69, "shoulder_skew": 23.40, "shoulder_line": 49.83,
		}},
		{"angled-tenon", joint.Values{"front_width": 440, "back_width": 350, "depth": 370, "leg": 36, "rail_thickness": 21}, map[string]float64{
			"splay_angle": 7.67, "shoulder_bevel": 82.33, "shoulder_length": 300.69, "shoulder_shift": 2.83, "tenon_thickness": 7.00,
		}},
		{"head-scarf", joint.Values{"thickness": 24, "width": 71, "head_angle": 10.5, "kerf": 1.6, "head_thickness": 15}, map[string]float64{
			"face_run": 129.49, "slope_length": 131.70, "glue_area": 9350.54, "kerf_on_face": 8.78, "head_run": 80.93,
		}},
		{"head-v-joint", worked, map[string]float64{
			"half_angle": 25.89, "mouth_near": 16.50, "mouth_far": 49.50, "cheek_length": 37.79, "face_v_length": 34.64,
			"face_half_angle": 25.47, "shoulder_from_end": 36.14, "back_shift": 5.25, "back_shoulder_from_end": 41.38,
			"tip_proud": 6.61, "tip_depth": 20.90, "cheek_tilt": 4.78, "max_head_angle": 18.69,
		}},
		{"unequal-mitre", joint.Values{"width_a": 63, "width_b": 41, "corner_angle": 104}, map[string]float64{
			"mitre_a": 67.15, "mitre_b": 36.85, "mitre_length": 68.36,
		}},
		{"splayed-leg", joint.Values{"height": 430, "rake": 11, "splay": 6.5, "top_spacing": 265, "stretcher_height": 165}, map[string]float64{
			"resultant": 12.70, "sightline": 30.38, "drill_tilt": 77.30, "leg_length": 440.78,
			"foot_rake": 83.58, "foot_splay": 48.99, "stretcher_length": 325.39, "stretcher_bevel": 83.62,
		}},
		{"splayed-box", joint.Values{"sides": 4, "tilt": 22, "thickness": 11, "height": 95}, map[string]float64{
			"slant_height": 102.46, "face_angle": 20.54, "mitre_bevel": 40.97, "corner_angle": 98.07, "butt_bevel": 8.07,
		}},
		{"coopered-vessel", joint.Values{"staves": 14, "top_diameter": 310, "bottom_diameter": 190, "height": 265, "thickness": 14}, map[string]float64{
			"lean": 12.76, "stave_length": 271.71, "top_width": 70.76, "bottom_width": 43.37, "taper_angle": 2.89, "edge_bevel": 12.53,
		}},
		{"hip-rafter", joint.Values{"rise": 9, "run": 14, "span": 4600}, map[string]float64{
			"pitch_angle": 32.74, "common_length": 2734.26, "hip_length": 3572.98, "hip_plumb": 65.55, "backing_angle": 22.48, "roof_dihedral": 135.04,
		}},
	} {
		for id, v := range c.want {
			full, _ := WrittenOut(c.family, id)
			got, err := full.Eval(func(name string) (float64, bool) { v, ok := c.blank[name]; return v, ok })
			if err != nil || math.Abs(got-v) > 0.005001 {
				t.Errorf("%s of %s = %v (%v), want %.2f", id, c.family, got, err, v)
			}
		}
	}
}

// What is written over earlier answers for follow-through is the same number,
// where those are right.
func TestFollowFormulasAgree(t *testing.T) {
	checked := 0
	for _, f := range joint.All() {
		l, err := f.Layout(f.House)
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range taught[f.ID].forms {
			if form.follow == "" {
				continue
			}
			got, err := formula.MustParse(form.follow).Eval(func(id string) (float64, bool) {
				if v, ok := f.House[id]; ok {
					return v, true
				}
				v, ok := l.Quantities[id]
				return v, ok
			})
			if want := l.Quantities[form.id]; err != nil || math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Errorf("%s of %s by %s = %v (%v), want %v", form.id, f.ID, form.follow, got, err, want)
			}
			checked++
		}
	}
	if checked < 3 {
		t.Errorf("%d formulas over earlier answers, want at least 3", checked)
	}
}

func TestProgramAgreesWithFormula(t *testing.T) {
	slot := func(id string) (int, bool) {
		i := slices.Index([]string{"a", "b"}, id)
		return i, i >= 0
	}
	for _, src := range []string{
		"a+b", "a-b*2", "-a/b", "a^2", "a^b", "2^-a", "sin(a)+cos(b)+tan(a)", "asin(a/b)", "acos(a/b)", "atan(b)",
		"sqrt(a)", "hypot(a, b)", "pi*a", "tan(90)", "1/(a-a)", "asin(b)", "sqrt(-a)",
		strings.Repeat("a+(", 20) + "b" + strings.Repeat(")", 20),
	} {
		f := formula.MustParse(src)
		p, err := compile(f.Root(), slot)
		if err != nil {
			t.Errorf("compile(%s) = %v, want a program", src, err)
			continue
		}
		got := p.run([]float64{1.5, 2.25})
		want, err := f.Eval(func(id string) (float64, bool) { return map[string]float64{"a": 1.5, "b": 2.25}[id], true })
		if (err == nil) != finite(got) || err == nil && !same(got, want) {
			t.Errorf("run(%s) = %v, want %v (%v)", src, got, want, err)
		}
	}
	for _, bad := range []formula.Node{formula.Name{ID: "c"}, formula.Apply("log", formula.Of(1)), formula.Apply("sin"), formula.Op(formula.Of(1), '%', formula.Of(2)), nil} {
		if p, err := compile(bad, slot); err == nil {
			t.Errorf("compile(%v) = %v, want an error", bad, p)
		}
	}
}
