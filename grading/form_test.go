package grading

import "testing"

// Working is held against the formulas as a tree: a slip of reckoning in the
// right form, a wrong form that is a known slip, and a form that is neither.
// The sheet: thickness 27, width 66, V 34 by 33, head 11°, head thickness 16.
func TestWorkingAsATree(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	for _, row := range []struct {
		name    string
		answers map[string]string
		step    string
		verdict Verdict
		pattern string // with its detail
		reason  string
	}{
		// Right, however it is written.
		{"as taught", map[string]string{"half_angle": "atan((33/2)/34)"}, "half_angle", Right, "", ""},
		{"half as a factor", map[string]string{"half_angle": "atan(33*0.5/34)"}, "half_angle", Right, "", ""},
		{"from the other angle", map[string]string{"half_angle": "90 - atan(34/16.5)"}, "half_angle", Right, "", ""},
		{"hypot for a root", map[string]string{"cheek_length": "hypot(34, 16.5)"}, "cheek_length", Right, "", ""},
		{"halves apart", map[string]string{"mouth_near": "66/2 - 33/2"}, "mouth_near", Right, "", ""},

		// The right form with one wrong number in it.
		{"a slip in a part worked out", map[string]string{"half_angle": "atan(17.5/34)"}, "half_angle", Wrong, "", OneWrongNumber},
		{"a slip in a given", map[string]string{"half_angle": "atan((31/2)/34)"}, "half_angle", Wrong, "", OneWrongNumber},
		{"half as a factor", map[string]string{"half_angle": "atan(31*0.5/34)"}, "half_angle", Wrong, "", OneWrongNumber},
		{"sum the other way round", map[string]string{"mouth_far": "(33 + 61)/2"}, "mouth_far", Wrong, "", OneWrongNumber},
		{"halves apart", map[string]string{"mouth_near": "61/2 - 33/2"}, "mouth_near", Wrong, "", OneWrongNumber},
		{"the difference worked out", map[string]string{"mouth_near": "31/2"}, "mouth_near", Wrong, "", OneWrongNumber},
		{"hypot for a root", map[string]string{"cheek_length": "hypot(34, 17.5)"}, "cheek_length", Wrong, "", OneWrongNumber},
		{"root for a root", map[string]string{"cheek_length": "sqrt(34*34 + 17.5*17.5)"}, "cheek_length", Wrong, "", OneWrongNumber},
		{"one over a cosine", map[string]string{"face_v_length": "(1/cos(11))*31"}, "face_v_length", Wrong, "", OneWrongNumber},
		{"written out in givens", map[string]string{"shoulder_from_end": "34/cos(11) + 2.25"}, "shoulder_from_end", Wrong, "", OneWrongNumber},

		// A number cut too short on the way.
		{"rounded on the way", map[string]string{"back_shoulder_from_end": "36 + 5"}, "back_shoulder_from_end", Wrong, "", RoundedWorking},

		// The student's own earlier number, where it does not lead to the answer:
		// the step carries it, or the working names it.
		{"goes on from an own number", map[string]string{"half_angle": "44.14", "cheek_tilt": "asin(sin(44.14)*sin(11))"}, "cheek_tilt", Follows, "", "Follows from your number 1."},
		{"the same and a slip", map[string]string{"half_angle": "44.14", "cheek_tilt": "asin(sin(44.14)*sin(17))"}, "cheek_tilt", Wrong, "", OneWrongNumber},
		{"an own number that is not carried", map[string]string{"half_angle": "20", "face_half_angle": "atan(16.5/40)", "face_v_length": "40"}, "face_half_angle", Follows, "", "Follows from your number 5."},
		{"by name", map[string]string{"tip_proud": "9.1", "tip_depth": "thickness/cos(head_angle) - tip_proud"}, "tip_depth", Follows, "", "Follows from your number 10."},

		// A wrong form that is a known slip: the one whose form it has.
		{"ratio inverted, not the complement", map[string]string{"half_angle": "atan(34/16.5)"}, "half_angle", Wrong, "ratio-inverted v_length over v_width/2", ""},
		{"the complement, not the ratio", map[string]string{"half_angle": "90 - 25.887"}, "half_angle", Wrong, "complement", ""},
		{"half forgotten", map[string]string{"half_angle": "atan(33/34)"}, "half_angle", Wrong, "half-forgotten v_width", ""},
		{"sign", map[string]string{"cheek_length": "sqrt(34^2 - 16.5^2)"}, "cheek_length", Wrong, "sign-flipped minus (v_width/2)^2", ""},

		// Neither.
		{"another way", map[string]string{"half_angle": "asin(15.1/34)"}, "half_angle", Wrong, "", OtherForm},
		{"another way altogether", map[string]string{"mouth_near": "(66 - 34.3)/3"}, "mouth_near", Wrong, "", OtherForm},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, r := range Grade(ex, s, row.answers, Millimetres).Steps {
				if r.ID != row.step {
					continue
				}
				named := ""
				if r.Pattern != nil {
					named = r.Pattern.Key()
				}
				if r.Verdict != row.verdict || named != row.pattern || r.Reason != row.reason {
					t.Errorf("%s = %s: %s %q %q, want %s %q %q", row.step, r.Given, r.Verdict, named, r.Reason, row.verdict, row.pattern, row.reason)
				}
			}
		})
	}
}

// In a class that writes inches the working's numbers are inches.
func TestWorkingInInches(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	for id, v := range map[string]float64{"v_width": 1.25 * inch, "v_length": 1.375 * inch, "width": 2.5 * inch} {
		s.Parameters[id] = v
	}
	s, err := OnBlank(ex, s.Parameters, ShopFor(Inches))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		step, text string
		verdict    Verdict
		reason     string
	}{
		{"mouth_near", "(2 1/2 - 1 1/4)/2", Right, ""},
		{"mouth_near", "(2 5/8 - 1 1/4)/2", Wrong, OneWrongNumber},
		{"half_angle", "atan(0.625/1.375)", Right, ""},
		{"half_angle", "atan(0.7/1.375)", Wrong, OneWrongNumber},
	} {
		for _, r := range Grade(ex, s, map[string]string{row.step: row.text}, Inches).Steps {
			if r.ID == row.step && (r.Verdict != row.verdict || r.Reason != row.reason) {
				t.Errorf("%s = %s: %s %q (%v), want %s %q", row.step, row.text, r.Verdict, r.Reason, r.Pattern, row.verdict, row.reason)
			}
		}
	}
}
