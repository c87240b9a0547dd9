package grading

import (
	"slices"
	"testing"
)

// What a step builds on is taken from its formula: the earlier steps it names.
func TestStepGraphFromFormulas(t *testing.T) {
	given := []GivenSpec{{ID: "long", Unit: "mm", From: "200", To: "300", By: "1"}, {ID: "wide", Unit: "mm", From: "40", To: "90", By: "1"}}
	steps := []StepSpec{
		{ID: "rest", Unit: "mm", Formula: "long - 2*wide"},
		{ID: "third", Unit: "mm", Formula: "rest/3"},
		{ID: "again", Unit: "mm", Formula: "third"},
		{ID: "slant", Unit: "mm", Formula: "hypot(third, wide)"},
		{ID: "both", Unit: "mm", Formula: "rest + slant - again"},
		{ID: "fresh", Unit: "mm", Formula: "rest + wide", Alone: true},
		{ID: "named", Unit: "mm", Formula: "rest + third + wide", Carries: []string{"third"}},
		{ID: "other", Unit: "mm", Formula: "long/2", Follow: "rest/2 + wide"},
	}
	ex := mustExercise(t, Spec{ID: "graph", Givens: given, Steps: steps})
	want := map[string][]string{
		"third": {"rest"}, "slant": {"third"}, "both": {"rest", "slant", "again"}, "named": {"third"}, "other": {"rest"},
	}
	for _, s := range ex.Steps {
		if !slices.Equal(s.Carries, want[s.ID]) {
			t.Errorf("%s carries %v, want %v", s.ID, s.Carries, want[s.ID])
		}
	}
	sheet, err := OnBlank(ex, map[string]float64{"long": 251, "wide": 53}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	// rest 145, given as 140: third 46.667, slant 70.6; copied again; fresh 198
	// would be 193 if it followed; other 125.5 would be 123.
	answers := map[string]string{
		"rest": "140", "third": "46.67", "again": "46.67", "slant": "70.64", "both": "163.97", "fresh": "193", "other": "123",
	}
	verdicts := map[string]Verdict{
		"rest": Wrong, "third": Follows, "again": Wrong, "slant": Follows, "both": Follows, "fresh": Wrong, "named": Blank, "other": Follows,
	}
	for _, r := range Grade(ex, sheet, answers, Millimetres).Steps {
		if r.Verdict != verdicts[r.ID] || r.Verdict == Follows && r.Reason == "" {
			t.Errorf("%s = %s is %s %q, want %s with whose number it follows", r.ID, r.Given, r.Verdict, r.Reason, verdicts[r.ID])
		}
	}
	steps[1].Alone, steps[1].Carries = true, []string{"rest"}
	if _, faults := NewExercise(Spec{ID: "graph", Givens: given, Steps: steps}); len(faults) != 1 || faults[0].Path != "steps[1].alone" {
		t.Errorf("a step that stands alone and carries: %v, want a fault", faults)
	}
}
