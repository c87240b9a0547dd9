package joint

import (
	"math"
	"testing"
)

// workedLeg is the blank of the lesson's worked example.
var workedLeg = Values{"height": 430, "rake": 11, "splay": 6.5, "top_spacing": 265, "stretcher_height": 165}

func TestBuildableRuleOfTheLeg(t *testing.T) {
	checkRule(t, splayedLeg, workedLeg, []ruleCase{
		{"as it is", nil, nil},
		{"without rake", Values{"rake": 0}, nil},
		{"without splay", Values{"splay": 0}, nil},
		{"upright", Values{"rake": 0, "splay": 0}, []string{"stands upright"}},
		{"stretcher in the seat", Values{"stretcher_height": 430}, []string{"must lie below the seat"}},
		{"stretcher on the floor", Values{"stretcher_height": 0}, nil},
		{"stretcher in the ground", Values{"stretcher_height": -1}, []string{"stretcher height cannot be negative"}},
		{"leaning inward", Values{"splay": -3}, []string{"splay cannot be negative"}},
		{"lying down", Values{"rake": 80}, []string{"rake over 60° is beyond"}},
		{"no height", Values{"height": 0, "stretcher_height": 0}, []string{"height must be more than nothing"}},
	})
}

// A leg with one lean alone: the other view sees it upright.
func TestLegsThatLeanOneWay(t *testing.T) {
	for _, c := range []struct {
		rake, splay, sightline float64
	}{{12, 0, 0}, {0, 12, 90}} {
		l, _ := splayedLeg.Layout(with(workedLeg, Values{"rake": c.rake, "splay": c.splay}))
		if got, has := l.Quantities["sightline"]; !has || math.Abs(got-c.sightline) > 1e-12 {
			t.Errorf("rake %g, splay %g: sightline %g %v, want %g", c.rake, c.splay, got, has, c.sightline)
		}
		if got := l.Quantities["resultant"]; math.Abs(got-12) > 1e-12 {
			t.Errorf("rake %g, splay %g: resultant %g, want 12", c.rake, c.splay, got)
		}
	}
}

func TestLegFitByHand(t *testing.T) {
	l, _ := splayedLeg.Layout(workedLeg)
	q := l.Quantities
	lean, length := q["resultant"], q["leg_length"]
	foot := func(lean float64) float64 { return length * sin(lean) }
	high := func(lean float64) float64 { return length * cos(lean) }
	for _, c := range []struct {
		id           string
		to           float64
		foot, height float64
		word         Word
	}{
		{"resultant", lean + 0.1, foot(lean+0.1) - foot(lean), high(lean+0.1) - high(lean), Tight},
		{"resultant", lean - 0.2, foot(lean) - foot(lean-0.2), high(lean-0.2) - high(lean), Close},
		// Both leans added; and the rule for the arris of two planes.
		{"resultant", 17.5, foot(17.5) - foot(lean), high(17.5) - high(lean), Failed},
		{"resultant", 5.61, foot(lean) - foot(5.61), high(5.61) - high(lean), Failed},
		{"drill_tilt", 90 - lean + 0.1, foot(lean) - foot(lean-0.1), high(lean-0.1) - high(lean), Tight},
		{"drill_tilt", lean, foot(90-lean) - foot(lean), high(90-lean) - high(lean), Failed},
		// A wrong sightline carries the foot round the hole on a circle.
		{"sightline", 90 - q["sightline"], 2 * foot(lean) * sin(45-q["sightline"]), 0, Failed},
		{"sightline", q["sightline"] + 1, 2 * foot(lean) * sin(0.5), 0, Close},
		{"leg_length", length + 2, 2 * sin(lean), 2 * cos(lean), Open},
		{"leg_length", length - 0.5, 0.5 * sin(lean), -0.5 * cos(lean), Tight},
		{"foot_rake", q["foot_rake"] + 3, 3, 0, Open},
		{"foot_splay", q["foot_splay"] - 3, 3, 0, Open},
		{"stretcher_length", 300, 0, 0, Tight},
		{"stretcher_bevel", 90, 0, 0, Tight},
	} {
		f, err := splayedLeg.Fit(workedLeg, Values{c.id: c.to})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, c.id, c.to-q[c.id], f, Values{"foot_error": c.foot, "height_error": c.height}, c.word)
	}
}

// The true lean and the bevel for it are one slip, not two.
func TestLeanAndDrillTiltAreOneHole(t *testing.T) {
	one, _ := splayedLeg.Fit(workedLeg, Values{"resultant": 15})
	both, _ := splayedLeg.Fit(workedLeg, Values{"resultant": 15, "drill_tilt": 75})
	for _, id := range []string{"foot_error", "height_error"} {
		if a, b := outcome(one, id), outcome(both, id); math.Abs(a-b) > 1e-9 {
			t.Errorf("%s is %g with the lean alone and %g with the bevel that follows, want the same", id, a, b)
		}
	}
}

// A tenth of a degree or of a millimetre in any number alone stays tight,
// whatever the leg's size: that is what numbers are judged by.
func TestATenthStaysTightWithoutGaps(t *testing.T) {
	for _, f := range []*Family{splayedLeg, hipRafter} {
		for _, scale := range []float64{0.5, 1, 2} {
			p := with(f.House, nil)
			for _, par := range f.Parameters {
				if par.Unit == MM {
					p[par.ID] *= scale
				}
			}
			l, _ := f.Layout(p)
			for id, key := range l.Quantities {
				for _, off := range []float64{0.1, -0.1} {
					fit, err := f.Fit(p, Values{id: key + off})
					if err != nil || fit.Word != Tight {
						t.Errorf("%s at %g: %s off by %g is %v %v, want tight", f.ID, scale, id, off, fit.Word, fit.Outcomes)
					}
				}
			}
		}
	}
}

func TestLegsThatCannotBeMade(t *testing.T) {
	for name, submitted := range map[string]Values{
		"no length": {"leg_length": 0}, "lying down": {"resultant": 90}, "bored level": {"drill_tilt": 0}, "turned right over": {"drill_tilt": 180},
	} {
		f, err := splayedLeg.Fit(workedLeg, submitted)
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("%s: %v %q %v %v, want failed with a reason", name, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
}
