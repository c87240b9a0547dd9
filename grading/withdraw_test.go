package grading

import (
	"fmt"
	"testing"

	"arrisbook/geom/joint"
)

// A number built on a withdrawn one still follows from it, and the withdrawn
// one is neither told, counted nor put into the joint.
func TestWithdraw(t *testing.T) {
	t.Parallel()
	ex, faults := NewExercise(Spec{
		ID: "tray", Givens: []GivenSpec{
			{ID: "length", Name: "Length", Unit: "mm", From: "100", To: "200", By: "1"},
			{ID: "gap", Name: "Gap", Unit: "mm", From: "4", To: "9", By: "0.5"},
		},
		Steps: []StepSpec{
			{ID: "inner", Name: "Inner length", Unit: "mm", Formula: "length - 2*gap"},
			{ID: "third", Name: "A third", Unit: "mm", Formula: "inner/3", Carries: []string{"inner"}},
		},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	sheet, err := OnBlank(ex, joint.Values{"length": 150, "gap": 6}, DefaultShop()) // inner 138, third 46
	if err != nil {
		t.Fatal(err)
	}
	without := Withdraw(sheet, []string{"inner", "nothing"})
	if len(sheet.Steps) != 2 || fmt.Sprint(without.Withdrawn) != "[inner]" || len(without.Steps) != 1 {
		t.Fatalf("Withdraw = %+v from %+v, want inner taken out of a copy", without, sheet)
	}
	for _, c := range []struct {
		name    string
		answers map[string]string
		want    Verdict
	}{
		{"right", map[string]string{"inner": "138", "third": "46"}, Right},
		{"built on the withdrawn number", map[string]string{"inner": "144", "third": "48"}, Follows},
		{"built on nothing", map[string]string{"third": "48"}, Wrong},
	} {
		r := Grade(ex, without, c.answers, Millimetres)
		if len(r.Steps) != 1 || r.Steps[0].ID != "third" || r.Steps[0].Verdict != c.want || r.OutOf != 1 {
			t.Errorf("%s: Grade = %+v, want only third, %s, of 1", c.name, r, c.want)
		}
	}
}
