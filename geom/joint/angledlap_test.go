package joint

import (
	"math"
	"testing"
)

func TestBuildableRuleOfTheAngledLap(t *testing.T) {
	checkRule(t, angledLap, workedLap, []ruleCase{
		{"as it is", nil, nil},
		{"square", Values{"crossing_angle": 90}, nil},
		{"the wrong one of the two angles", Values{"crossing_angle": 118}, []string{"smaller one of the two"}},
		{"along each other", Values{"crossing_angle": 0}, []string{"crossing angle must be more than nothing"}},
		{"nearly along each other", Values{"crossing_angle": 3}, []string{"crossing angle under 5° is too small"}},
		{"no wood", Values{"thickness": 0}, []string{"thickness must be more than nothing"}},
		{"a tree", Values{"width_b": 2000}, []string{"width of piece B over 1000 mm is beyond"}},
	})
}

// At 90 degrees the spacing is the other piece's width, the skew nothing, the
// line its own width; each gives half its thickness (Fairham, Woodwork Joints,
// Halved Joint, Figs 62-65; Noyes, Handwork in Wood, No. 14).
func TestSquareLap(t *testing.T) {
	l, _ := angledLap.Layout(with(workedLap, Values{"crossing_angle": 90}))
	for id, want := range map[string]float64{
		"depth": 11.5, "shoulder_bevel": 90, "shoulder_spacing": 44, "shoulder_skew": 0, "shoulder_line": 58,
	} {
		if got, has := l.Quantities[id]; !has || math.Abs(got-want) > 1e-12 {
			t.Errorf("%s = %g, want %g", id, got, want)
		}
	}
}

// Each piece's spacing is the other one's shoulder line.
func TestLapPiecesAgree(t *testing.T) {
	a, _ := angledLap.Layout(workedLap)
	b, _ := angledLap.Layout(with(workedLap, Values{"width_a": workedLap["width_b"], "width_b": workedLap["width_a"]}))
	for _, pair := range [][2]string{{"shoulder_spacing", "shoulder_line"}, {"shoulder_line", "shoulder_spacing"}, {"depth", "depth"}, {"shoulder_bevel", "shoulder_bevel"}} {
		if got, want := b.Quantities[pair[1]], a.Quantities[pair[0]]; math.Abs(got-want) > 1e-12 {
			t.Errorf("piece B's %s is %g, want piece A's %s, %g", pair[1], got, pair[0], want)
		}
	}
}

func TestAngledLapFitByHand(t *testing.T) {
	l, _ := angledLap.Layout(workedLap)
	q := l.Quantities
	for _, c := range []struct {
		id               string
		off              float64
		side, rise, made float64
		word             Word
	}{
		// The notch is wider by what the spacing gives square to the shoulders.
		{"shoulder_spacing", 0.2, 0.2 * sin(62), 0, 62, Close},
		{"shoulder_spacing", -0.1, -0.1 * sin(62), 0, 62, Tight},
		// The lesson's slip: the square width stepped along the edge.
		{"shoulder_spacing", 44 - q["shoulder_spacing"], 44*sin(62) - 44, 0, 62, Failed},
		// Shoulders struck at another angle lie farther apart or nearer.
		{"shoulder_bevel", 2, 44/sin(62)*sin(64) - 44, 0, 64, Failed},
		{"shoulder_bevel", -0.2, 44/sin(62)*sin(61.8) - 44, 0, 61.8, Tight},
		// The supplement leans the other way and crosses at as much.
		{"shoulder_bevel", 118 - 62, 0, 0, 118, Tight},
		// A notch too shallow lifts piece B.
		{"depth", -0.3, 0, 0.3, 62, Open},
		{"depth", 0.2, 0, -0.2, 62, Close},
		{"shoulder_skew", 5, 0, 0, 62, Tight},
		{"shoulder_line", 5, 0, 0, 62, Tight},
	} {
		f, err := angledLap.Fit(workedLap, Values{c.id: q[c.id] + c.off})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, c.id, c.off, f, Values{"side_gap": c.side, "flush_error": c.rise, "angle_made": c.made}, c.word)
	}
}

func TestNotchesThatCannotBeMade(t *testing.T) {
	for name, submitted := range map[string]Values{
		"no bevel": {"shoulder_bevel": 0}, "turned right over": {"shoulder_bevel": 180}, "no spacing": {"shoulder_spacing": -1},
		"no depth": {"depth": 0}, "cut through": {"depth": 23},
	} {
		f, err := angledLap.Fit(workedLap, submitted)
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("%s: %v %q %v %v, want failed with a reason", name, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
}

// Piece A is its blank less the notch; piece B gives up as much.
func TestLapPiecesHaveTheirVolumes(t *testing.T) {
	parts, err := angledLap.Pieces(workedLap)
	if err != nil || len(parts) != 2 {
		t.Fatal(parts, err)
	}
	l, _ := angledLap.Layout(workedLap)
	notch := l.Quantities["shoulder_spacing"] * 58 * l.Quantities["depth"]
	bridge := l.Quantities["shoulder_spacing"] * 58 * (23 - l.Quantities["depth"])
	for _, c := range []struct {
		part   string
		bridge float64
	}{{parts[0].Name, parts[0].Pieces[1].Volume()}, {parts[1].Name, parts[1].Pieces[1].Volume()}} {
		if math.Abs(c.bridge/bridge-1) > 1e-12 {
			t.Errorf("%s keeps %g beside its notch, want %g", c.part, c.bridge, bridge)
		}
	}
	lo, hi := span(parts[:1])
	whole := (hi.X - lo.X) * 58 * 23
	if got := volume(parts[0].Pieces); math.Abs(got/(whole-notch)-1) > 1e-12 {
		t.Errorf("piece A has %g, want %g less the notch of %g", got, whole, notch)
	}
}
