package grading

import (
	"math"
	"testing"
)

// plank is an exercise whose number has more digits than its tolerance tells
// apart.
func plank() Spec {
	return Spec{
		ID: "plank", Title: "A plank", Version: 1,
		Givens: []GivenSpec{
			{ID: "length", Unit: "mm", From: "310.5", To: "420.5", By: "0.5"}, {ID: "width", Unit: "mm", From: "53.5", To: "71.5", By: "0.5"},
		},
		Steps: []StepSpec{{ID: "face", Unit: "mm2", Formula: "length*width"}},
	}
}

// Swapped digits can be declared harmless on a step: without that, a number
// with many digits would leave few blanks; with it, they are drawn freely, and
// a swap that lands outside is still named.
func TestSwappedDigitsDeclaredHarmless(t *testing.T) {
	spec := plank()
	spec.Harmless = []HarmlessSpec{{Step: "face", Pattern: "digits-swapped", Detail: "*"}}
	ex := mustExercise(t, spec)
	near := 0
	for seed := range uint64(40) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		key := Key(ex, s.Parameters)["face"]
		for _, p := range Patterns(ex, s, "face") {
			if p.ID != digitsSwapped {
				continue
			}
			if !p.Harmless {
				t.Errorf("seed %d: %s %q is not harmless, want it declared so", seed, p.ID, p.Detail)
			}
			if math.Abs(p.Value-key) <= 2*s.Steps[0].Tolerance {
				near++
			}
		}
	}
	if near < 20 {
		t.Errorf("%d swaps near the key in 40 sheets, want most sheets to have one", near)
	}
	sheet, err := OnBlank(ex, map[string]float64{"length": 350, "width": 62}, DefaultShop()) // 21700 mm²
	if err != nil {
		t.Fatal(err)
	}
	if r := graded(ex, sheet, "face", "12700"); r.Pattern == nil || r.Pattern.ID != digitsSwapped {
		t.Errorf("12700 for 21700 names %v, want %s", names(r), digitsSwapped)
	}
}

// Without a declaration every digit counts.
func TestSwappedDigitsAreOtherwiseTellable(t *testing.T) {
	ex := mustExercise(t, plank())
	for seed := range uint64(10) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		key := Key(ex, s.Parameters)["face"]
		for _, p := range Patterns(ex, s, "face") {
			if p.ID == digitsSwapped && (p.Harmless || math.Abs(p.Value-key) <= 2*s.Steps[0].Tolerance) {
				t.Errorf("seed %d: %s %q gives %v for %v, want it farther off", seed, p.ID, p.Detail, p.Value, key)
			}
		}
	}
	spec := plank()
	spec.Harmless = []HarmlessSpec{{Step: "edge", Pattern: "digits-swapped", Detail: "*"}}
	if _, faults := NewExercise(spec); len(faults) != 1 || faults[0].Path != "harmless[0]" {
		t.Errorf("swapped digits on a step that is none: %v, want a fault at harmless[0]", faults)
	}
}
