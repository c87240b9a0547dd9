package joint

import (
	"math"
	"testing"
)

func TestBuildableRuleOfTheAngledTenon(t *testing.T) {
	checkRule(t, angledTenon, workedTenon, []ruleCase{
		{"as it is", nil, nil},
		{"square frame", Values{"back_width": 440}, []string{"does not narrow toward the back"}},
		{"wider at the back", Values{"back_width": 450}, []string{"does not narrow toward the back"}},
		{"back legs side by side", Values{"back_width": 72}, []string{"do not fit side by side"}},
		{"just room between them", Values{"back_width": 73}, nil},
		{"legs back to back", Values{"depth": 72}, []string{"no room for a side rail"}},
		{"legs inside each other", Values{"depth": 30}, []string{"no room for a side rail"}},
		{"a rail as thick as the leg", Values{"rail_thickness": 36}, []string{"thinner than the leg"}},
		{"no rail", Values{"rail_thickness": 0}, []string{"rail thickness must be more than nothing"}},
		{"a hall", Values{"front_width": 5000}, []string{"front width over 3000 mm is beyond"}},
	})
}

// The rule of thirds: Fairham, Woodwork Joints, Mortise and Tenon ("general
// rule"); Noyes, Handwork in Wood, No. 42.
func TestTenonIsAThird(t *testing.T) {
	for _, thickness := range []float64{18, 21, 24.5} {
		l, _ := angledTenon.Layout(with(workedTenon, Values{"rail_thickness": thickness}))
		if got := l.Quantities["tenon_thickness"]; math.Abs(3*got-thickness) > 1e-12 {
			t.Errorf("a rail of %g has a tenon of %g, want a third", thickness, got)
		}
	}
}

func TestAngledTenonFitByHand(t *testing.T) {
	l, _ := angledTenon.Layout(workedTenon)
	q := l.Quantities
	phi, length := q["splay_angle"], q["shoulder_length"]
	// The middles of two legs lie leg/2 behind each face; across, the rail makes
	// up half of what the frame narrows by.
	across := func(splay, length float64) float64 { return 36*tan(splay) + length*sin(splay) }
	for _, c := range []struct {
		id                 string
		off                float64
		gap, length, width float64
		word               Word
	}{
		// The lesson prints: "Both shoulders cut square by mistake leave an open
		// wedge of 2.83 at one face of each end."
		{"shoulder_bevel", phi, 21 * tan(phi), 0, 0, Failed},
		{"shoulder_bevel", 0.3, 21 * (tan(phi) - tan(phi-0.3)), 0, 0, Close},
		{"shoulder_shift", 0.4, 0.4, 0, 0, Open},
		{"shoulder_shift", -0.09, 0.09, 0, 0, Tight},
		{"shoulder_length", 0.2, 0, 0.2, -2 * 0.2 * sin(phi), Close},
		{"shoulder_length", -2.7, 0, -2.7, 2 * 2.7 * sin(phi), Failed}, // the straight depth taken
		// A rail splayed too little: its shoulders gape and the back is too wide.
		{"splay_angle", -0.5, 21 * (tan(phi) - tan(phi-0.5)), 0, 90 - 2*across(phi-0.5, length), Close},
		{"tenon_thickness", 2, 0, 0, 0, Tight},
	} {
		f, err := angledTenon.Fit(workedTenon, Values{c.id: q[c.id] + c.off})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, c.id, c.off, f, Values{"shoulder_gap": c.gap, "length_error": c.length, "width_error": c.width}, c.word)
	}
	square, _ := angledTenon.Fit(workedTenon, Values{"shoulder_bevel": 90})
	if got := value(t, square, "shoulder_gap").Max; math.Abs(got-2.83) > 0.005 {
		t.Errorf("square shoulders leave %.4f, want 2.83 as the lesson prints", got)
	}
}

func TestRailsThatCannotBeMade(t *testing.T) {
	for name, submitted := range map[string]Values{
		"across the seat": {"splay_angle": 90}, "bevel along the rail": {"shoulder_bevel": 0},
		"bevel turned right over": {"shoulder_bevel": 180}, "no length": {"shoulder_length": 0},
	} {
		f, err := angledTenon.Fit(workedTenon, submitted)
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("%s: %v %q %v %v, want failed with a reason", name, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
}

// The rail's body is a slice of the rail between two parallel planes: its
// length on the centre line times its section.
func TestRailHasItsVolume(t *testing.T) {
	parts, err := angledTenon.Pieces(workedTenon)
	if err != nil || len(parts) != 3 {
		t.Fatal(parts, err)
	}
	l, _ := angledTenon.Layout(workedTenon)
	want := l.Quantities["shoulder_length"] * 21 * 2 * 36
	if got := parts[0].Pieces[0].Volume(); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("the rail's body has %g, want %g", got, want)
	}
	// Each leg and the tenon in it make a whole leg.
	for i, leg := range parts[1:] {
		tenon := parts[0].Pieces[1+i].Volume()
		if got, want := volume(leg.Pieces)+tenon, 36*36*3.5*36.0; math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%s and tenon have %g, want %g", leg.Name, got, want)
		}
	}
}
