package joint

import (
	"math"
	"testing"
)

// workedMitre is the blank of the lesson's worked example.
var workedMitre = Values{"width_a": 63, "width_b": 41, "corner_angle": 104}

func TestBuildableRuleOfTheMitre(t *testing.T) {
	checkRule(t, unequalMitre, workedMitre, []ruleCase{
		{"as it is", nil, nil},
		{"equal widths, square", Values{"width_b": 63, "corner_angle": 90}, nil},
		{"wide piece cut square", Values{"width_a": 82, "width_b": 41, "corner_angle": 120}, nil},
		{"wide piece a past square", Values{"width_a": 82.1, "width_b": 41, "corner_angle": 120}, []string{"cut past square"}},
		{"wide piece b past square", Values{"width_a": 41, "width_b": 82.1, "corner_angle": 120}, []string{"cut past square"}},
		{"no corner", Values{"corner_angle": 0}, []string{"corner angle must be more than nothing"}},
		{"nearly straight", Values{"width_b": 63, "corner_angle": 175}, []string{"corner angle over 170° is beyond"}},
		{"no wood", Values{"width_b": -1}, []string{"width of b must be more than nothing"}},
	})
}

// Past square the mitres have values all the same, and fill the corner.
func TestMitrePastSquare(t *testing.T) {
	l, _ := unequalMitre.Layout(Values{"width_a": 100, "width_b": 30, "corner_angle": 130})
	a, b := l.Quantities["mitre_a"], l.Quantities["mitre_b"]
	if l.Buildable() || a <= 90 || math.Abs(a+b-130) > 1e-12 {
		t.Errorf("mitres %g and %g, buildable %v, want the first past 90 and both 130 together", a, b, l.Buildable())
	}
}

// The gap begins at one end of the mitre and grows as the tangent of what the
// mitres are off; it ends where the shorter cut does.
func TestMitreFitByHand(t *testing.T) {
	l, _ := unequalMitre.Layout(workedMitre)
	a, b, line := l.Quantities["mitre_a"], l.Quantities["mitre_b"], l.Quantities["mitre_length"]
	for _, c := range []struct {
		a, b         float64
		gap, side    float64
		step, corner float64
		word         Word
	}{
		{a: a, b: b, corner: 104, word: Tight},
		// Board a's cut is shorter: it ends the gap.
		{a: a + 0.5, b: b, gap: 63 / sin(a+0.5) * cos(0.5) * tan(0.5), side: 1, step: 63/sin(a+0.5) - line, corner: 104.5, word: Failed},
		{a: a - 0.05, b: b, gap: line * tan(0.05), side: -1, step: 63/sin(a-0.05) - line, corner: 103.95, word: Tight},
		{a: a, b: b - 0.15, gap: line * tan(0.15), side: -1, step: line - 41/sin(b-0.15), corner: 103.85, word: Close},
		// One takes what the other gives: no gap, but the outer edges miss each
		// other.
		{a: a + 0.1, b: b - 0.1, step: 63/sin(a+0.1) - 41/sin(b-0.1), corner: 104, word: Close},
		// The lesson's slips: half of the corner each; the rest to ninety.
		{a: 52, b: 52, step: 63/sin(52) - 41/sin(52), corner: 104, word: Failed},
		{a: a, b: 90 - a, gap: line * tan(a+b-90), side: -1, step: line - 41/sin(90-a), corner: 90, word: Failed},
	} {
		f, err := unequalMitre.Fit(workedMitre, Values{"mitre_a": c.a, "mitre_b": c.b})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, "mitres", c.a-a, f, Values{"gap": c.gap, "gap_side": c.side, "length_step": c.step, "corner_made": c.corner}, c.word)
	}
}

// Widths and mitres exchanged make the same joint from the other side.
func TestMirroredMitres(t *testing.T) {
	f, _ := unequalMitre.Fit(workedMitre, Values{"mitre_a": 68, "mitre_b": 36})
	g, _ := unequalMitre.Fit(Values{"width_a": 41, "width_b": 63, "corner_angle": 104}, Values{"mitre_a": 36, "mitre_b": 68})
	for id, sign := range map[string]float64{"corner_made": 1, "length_step": -1, "gap": 1, "gap_side": 1} {
		if got, want := outcome(g, id), sign*outcome(f, id); math.Abs(got-want) > 1e-11 {
			t.Errorf("mirrored %s = %g, want %g", id, got, want)
		}
	}
}

// By hand: the step reaches the limit before the gap does.
func TestMitreSlackByHand(t *testing.T) {
	l, _ := unequalMitre.Layout(workedMitre)
	b, line := l.Quantities["mitre_b"], l.Quantities["mitre_length"]
	want := b - math.Asin(41/(line+0.1))*180/math.Pi
	s, ok, err := unequalMitre.Slack(workedMitre, "mitre_b", Tight)
	if err != nil || !ok || s.Gap != "length_step" || math.Abs(s.Deviation-want) > 1e-8 {
		t.Errorf("Slack(mitre_b) = %+v %v %v, want %g at length_step", s, ok, err, want)
	}
	if s, ok, err := unequalMitre.Slack(workedMitre, "mitre_length", Tight); ok || err != nil {
		t.Errorf("Slack(mitre_length) = %+v %v %v, want none: it is a check", s, ok, err)
	}
}

func TestMitresThatCannotBeCut(t *testing.T) {
	for name, submitted := range map[string]Values{
		"along the edge": {"mitre_a": 0}, "turned right over": {"mitre_b": 180}, "across the corner": {"mitre_a": 170, "mitre_b": 2},
		"beyond any angle": {"mitre_a": 1e300},
	} {
		f, err := unequalMitre.Fit(workedMitre, submitted)
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("%s: %v %q %v %v, want failed with a reason", name, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
}

// Both boards are as long as they are shown and lie on either side of the
// mitre line: their volumes are those of trapezia in plan.
func TestMitrePartsHaveTheirVolumes(t *testing.T) {
	parts, err := unequalMitre.Pieces(workedMitre)
	if err != nil {
		t.Fatal(err)
	}
	l, _ := unequalMitre.Layout(workedMitre)
	long := 2*(63.0+41) + 2*l.Quantities["mitre_length"]
	for i, c := range []struct{ width, mitre float64 }{{63, l.Quantities["mitre_a"]}, {41, l.Quantities["mitre_b"]}} {
		// The outer edge is longer than the inner one by what the mitre takes.
		want := c.width * (long + c.width/tan(c.mitre)/2) * mitreThick
		if got := parts[i].Pieces[0].Volume(); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%s has %g mm³, want %g", parts[i].Name, got, want)
		}
	}
}
