package grading

import "testing"

func TestExplainedIn(t *testing.T) {
	spec := headVJointSpec()
	spec.Explain = map[string]string{"*": "the-parts", "complement": "from-which-line", "edge-taken": "own"}
	spec.Steps[0].Explain = map[string]string{
		"other-quantity": "which-angle", "other-quantity face_half_angle": "two-half-angles", "half-forgotten": "half-a-mouth",
	}
	spec.Patterns = []PatternSpec{{ID: "edge-taken", Step: "half_angle", Hint: "Look again.", Formula: "half_angle/3"}}
	ex := mustExercise(t, spec)
	for _, row := range []struct{ step, pattern, detail, want string }{
		{"half_angle", "other-quantity", "face_half_angle", "two-half-angles"},
		{"half_angle", "other-quantity", "cheek_tilt", "which-angle"},
		{"half_angle", "complement", "", "from-which-line"},
		{"half_angle", "half-forgotten", "v_width with complement", "half-a-mouth"},
		{"half_angle", "double", "", "the-parts"},
		{"half_angle", "edge-taken", "", "own"},
		{"mouth_near", "other-quantity", "mouth_far", "the-parts"},
	} {
		if got := ex.ExplainedIn(row.step, Slip{ID: row.pattern, Detail: row.detail}); got != row.want {
			t.Errorf("ExplainedIn(%s, %s %s) = %q, want %q", row.step, row.pattern, row.detail, got, row.want)
		}
	}
	if got := headV(t).ExplainedIn("half_angle", Slip{ID: "double"}); got != "" {
		t.Errorf("ExplainedIn of an exercise that names no sections = %q, want nothing", got)
	}
	spec.Explain = map[string]string{"doubled": "x", "half": " "}
	if _, faults := NewExercise(spec); len(faults) != 2 {
		t.Errorf("NewExercise gives %v, want a fault for the unknown pattern and one for the missing section", faults)
	}
}
