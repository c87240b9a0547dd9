package joint

import (
	"math"
	"testing"
)

// workedRoof is the blank of the lesson's worked example.
var workedRoof = Values{"rise": 9, "run": 14, "span": 4600}

func TestBuildableRuleOfTheRoof(t *testing.T) {
	checkRule(t, hipRafter, workedRoof, []ruleCase{
		{"as it is", nil, nil},
		{"in another unit", Values{"rise": 360, "run": 560}, nil},
		{"as steep as may be", Values{"rise": 70}, nil},
		{"a wall", Values{"rise": 71}, []string{"So steep a roof is a wall"}},
		{"flat", Values{"rise": 0}, []string{"rise must be more than nothing"}},
		{"no run", Values{"run": 0}, []string{"run must be more than nothing"}},
		{"a doll's house", Values{"span": 20}, []string{"span under 100 mm is too small"}},
		{"a town", Values{"span": 1e5}, []string{"span over 50000 mm is beyond"}},
	})
}

// The unit of rise and run does not matter.
func TestRoofInAnyUnit(t *testing.T) {
	a, _ := hipRafter.Layout(workedRoof)
	b, _ := hipRafter.Layout(with(workedRoof, Values{"rise": 9 * 25.4, "run": 14 * 25.4}))
	for id, want := range a.Quantities {
		if got := b.Quantities[id]; math.Abs(got/want-1) > 1e-13 {
			t.Errorf("%s = %.15g in millimetres, want %.15g as in inches", id, got, want)
		}
	}
}

func TestRoofFitByHand(t *testing.T) {
	l, _ := hipRafter.Layout(workedRoof)
	q := l.Quantities
	rise := 2300.0 * 9 / 14
	for _, c := range []struct {
		id    string
		to    float64
		ridge float64
		word  Word
	}{
		{"pitch_angle", q["pitch_angle"] + 0.1, q["common_length"]*sin(q["pitch_angle"]+0.1) - rise, Tight},
		{"common_length", q["common_length"] + 3, 3 * sin(q["pitch_angle"]), Tight},
		{"common_length", 2 * q["common_length"], rise, Failed},
		{"hip_length", q["hip_length"] - 20, -20 * cos(q["hip_plumb"]), Close},
		{"hip_length", q["common_length"] * math.Sqrt2, (q["common_length"]*math.Sqrt2 - q["hip_length"]) * cos(q["hip_plumb"]), Failed},
		// The common's cut on the hip carries it too high; the seat's, higher.
		{"hip_plumb", 90 - q["pitch_angle"], q["hip_length"]*sin(q["pitch_angle"]) - rise, Failed},
		{"hip_plumb", q["hip_plumb"] + 0.4, q["hip_length"]*cos(q["hip_plumb"]+0.4) - rise, Open},
		{"backing_angle", 10, 0, Tight},
		{"roof_dihedral", 90, 0, Tight},
	} {
		f, err := hipRafter.Fit(workedRoof, Values{c.id: c.to})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, c.id, c.to-q[c.id], f, Values{"ridge_error": c.ridge}, c.word)
	}
}

// Machinery's Handbook gives two ways to put slopes together. The hip is the
// arris of two planes: its tangent is the harmonic one, and it is flatter than
// the roof; a leg that leans as much in both views is steeper than either.
func TestHipIsFlatterAndLegIsSteeper(t *testing.T) {
	l, _ := hipRafter.Layout(workedRoof)
	pitch, seat := l.Quantities["pitch_angle"], 90-l.Quantities["hip_plumb"]
	if want := math.Atan(1/math.Sqrt(2/(tan(pitch)*tan(pitch)))) * 180 / math.Pi; math.Abs(seat-want) > 1e-12 || seat >= pitch {
		t.Errorf("hip rises %g under a pitch of %g, want %g", seat, pitch, want)
	}
	leg, _ := splayedLeg.Layout(with(workedLeg, Values{"rake": pitch, "splay": pitch}))
	if got := leg.Quantities["resultant"]; got <= pitch {
		t.Errorf("a leg that leans %g in both views leans %g, want more", pitch, got)
	}
}

func TestRaftersThatCannotBeMade(t *testing.T) {
	for name, submitted := range map[string]Values{
		"no common": {"common_length": 0}, "no hip": {"hip_length": -1}, "a plumb common": {"pitch_angle": 90}, "a plumb hip": {"hip_plumb": 0}, "a hip turned over": {"hip_plumb": 180},
	} {
		f, err := hipRafter.Fit(workedRoof, submitted)
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("%s: %v %q %v %v, want failed with a reason", name, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
}

// The hip as it should be is backed to both roof planes: its volume is its
// length in plan by its section cut plumb, less what the backing takes off
// both sides of the top.
func TestRafterVolumes(t *testing.T) {
	parts, err := hipRafter.Pieces(workedRoof)
	if err != nil {
		t.Fatal(err)
	}
	l, _ := hipRafter.Layout(workedRoof)
	q, thick := l.Quantities, 4600*roofTimber
	section := thick*2*thick - thick*thick/4*tan(q["backing_angle"])
	for i, want := range []float64{section * q["hip_length"], thick * 2 * thick * q["common_length"]} {
		if got := volume(parts[i].Pieces); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%s has %g mm³, want %g", parts[i].Name, got, want)
		}
	}
}
