package grading

import (
	"encoding/json"
	"fmt"
	"math"
	"net/url"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"arrisbook/geom/joint"
)

// onWorked is the sheet of the module's worked example.
func onWorked(t testing.TB, ex *Exercise) Sheet {
	t.Helper()
	s, err := OnBlank(ex, worked, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// graded judges one answer alone.
func graded(ex *Exercise, s Sheet, step, text string) StepResult {
	for _, r := range Grade(ex, s, map[string]string{step: text}, Millimetres).Steps {
		if r.ID == step {
			return r
		}
	}
	return StepResult{}
}

// names gives the pattern and what goes beside it.
func names(r StepResult) []string {
	var ids []string
	if r.Pattern != nil {
		ids = append(ids, r.Pattern.ID)
	}
	for _, s := range r.Also {
		ids = append(ids, s.ID)
	}
	return ids
}

// The module's table of slips: the wrong number as it is printed there, and
// what is named for it.
func TestWorkedSlips(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	for _, row := range []struct{ slip, step, shows, pattern, detail, also string }{
		{"a whole mouth over length", "half_angle", "44.14", "half-forgotten", "v_width", ""},
		{"b legs exchanged", "half_angle", "64.11", "complement", "", "ratio-inverted"},
		{"c length copied from the head", "face_v_length", "34.00", "tilt-ignored", "head_angle", "wrong-measure"},
		{"d tilt applied the wrong way", "face_v_length", "33.38", "factor-inverted", "times cos(head_angle)", ""},
		{"e bevel copied from the head", "face_half_angle", "25.89", "other-quantity", "half_angle", "tilt-ignored"},
		{"f back line moved toward the end", "back_shoulder_from_end", "30.89", "sign-flipped", "minus back_shift", ""},
		{"g head angle set on the table", "cheek_tilt", "11.00", "wrong-measure", "head_angle for cheek_tilt", ""},
		{"h plain thickness used", "tip_depth", "20.39", "tilt-ignored", "head_angle", ""},
		{"from the far edge", "mouth_near", "49.5", "far-edge", "", "other-quantity"},
		{"read in inches", "mouth_near", "0.65 mm", "inches-as-mm", "", ""},
		{"typed as inches", "mouth_near", "16.5 in", "mm-as-inches", "", ""},
		{"left in radians", "half_angle", "0.4518", "radians", "", "radian-mode"},
		{"whole angle", "half_angle", "51.77", "double", "", ""},
		{"half of it", "face_half_angle", "12.74", "half", "", ""},
		{"left out", "shoulder_from_end", "34.6", "other-quantity", "face_v_length", "allowance-forgotten"},
		{"taken off", "shoulder_from_end", "33.14", "allowance-subtracted", "allowance", "sign-flipped"},
		{"sine for tangent", "half_angle", "29.03", "wrong-function", "asin for atan", ""},
		{"ratio only", "half_angle", "0.485", "inverse-missing", "atan", ""},
		{"leg for hypotenuse", "cheek_length", "34", "slope-for-run", "v_length as it is", "wrong-measure"},
		{"added legs", "cheek_length", "50.5", "added-for-multiplied", "v_length + v_width/2", ""},
		{"point slipped", "back_shift", "52.5", "decimal-shift", "times 10", ""},
		{"digits changed round", "cheek_length", "73.8", "digits-swapped", "digits 1 and 2", ""},
		{"rule from ten", "tip_depth", "30.90", "rule-from-one", "10 mm", ""},
		{"other angle", "half_angle", "154.11", "supplement", "", ""},
		{"wrong size", "back_shift", "6.61", "other-quantity", "tip_proud", "wrong-measure"},
	} {
		t.Run(row.slip, func(t *testing.T) {
			r := graded(ex, s, row.step, row.shows)
			if r.Verdict != Wrong || r.Pattern == nil {
				t.Fatalf("Grade(%s = %s) = %s %v, want wrong by %s", row.step, row.shows, r.Verdict, names(r), row.pattern)
			}
			if r.Pattern.ID != row.pattern || r.Pattern.Detail != row.detail {
				t.Errorf("Grade(%s = %s) names %s %q, want %s %q", row.step, row.shows, r.Pattern.ID, r.Pattern.Detail, row.pattern, row.detail)
			}
			if row.also != "" && !contains(names(r), row.also) {
				t.Errorf("Grade(%s = %s) names %v, want %s among them", row.step, row.shows, names(r), row.also)
			}
		})
	}
}

// The right number passes in every notation; 0.9 of the tolerance passes, 1.1
// is near, more than twice is wrong.
func TestVerdicts(t *testing.T) {
	ex := headV(t)
	for seed := range uint64(60) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		key := Key(ex, s.Parameters)
		for _, step := range s.Steps {
			k, tol := key[step.ID], step.Tolerance
			for _, text := range notations4(k, step.Unit) {
				if r := graded(ex, s, step.ID, text); r.Verdict != Right {
					t.Errorf("seed %d: Grade(%s = %q) = %s, want right (key %v, tolerance %v)", seed, step.ID, text, r.Verdict, k, tol)
				}
			}
			for _, side := range []float64{-1, 1} {
				for _, row := range []struct {
					by   float64
					want Verdict
				}{{0.9, Right}, {1.1, Near}, {1.9, Near}, {2.1, Wrong}} {
					text := strconv.FormatFloat(k+side*row.by*tol, 'f', 9, 64)
					if r := graded(ex, s, step.ID, text); r.Verdict != row.want {
						t.Errorf("seed %d: Grade(%s = %s) = %s, want %s at %v tolerances", seed, step.ID, text, r.Verdict, row.want, side*row.by)
					}
				}
			}
		}
	}
}

// In an inch class a fraction to 1/64 passes, as printed and as typed.
func TestInchFractionsPass(t *testing.T) {
	ex := headV(t)
	for seed := range uint64(40) {
		s, err := Generate(ex, seed, ShopFor(Inches))
		if err != nil {
			t.Fatal(err)
		}
		answers := map[string]string{}
		for id, v := range Key(ex, s.Parameters) {
			u := joint.Deg
			if q, _ := ex.Family.Quantity(id); q.Unit == joint.MM {
				u = joint.MM
			}
			answers[id] = Print(v, u, Inches)
		}
		if r := Grade(ex, s, answers, Inches); r.Score != r.OutOf {
			t.Errorf("seed %d: Grade(%v) = %d of %d, want all right", seed, answers, r.Score, r.OutOf)
		}
	}
}

// notations4 writes a number in ways that keep it within the finest tolerance.
func notations4(v float64, u joint.Unit) []string {
	d := func(x float64, places int) string { return strconv.FormatFloat(x, 'f', places, 64) }
	comma := func(s string) string { return strings.Replace(s, ".", ",", 1) }
	out := []string{d(v, 1), d(v, 2), comma(d(v, 2)), " " + d(v, 4) + " "}
	switch u {
	case joint.MM:
		out = append(out, d(v, 2)+" mm", d(v/10, 3)+" cm", d(v/25.4, 4)+" in", d(v/25.4, 4)+"\"")
	case joint.Deg:
		minutes := math.Round(v * 60)
		out = append(out, d(v, 2)+"°", fmt.Sprintf("%d° %d'", int(minutes)/60, int(minutes)%60),
			fmt.Sprintf("%d deg %d", int(minutes)/60, int(minutes)%60), "1:"+d(1/math.Tan(v*math.Pi/180), 4),
			"1 in "+d(1/math.Tan(v*math.Pi/180), 4), d(100*math.Tan(v*math.Pi/180), 3)+"/100")
	}
	return out
}

func TestWorkingCounts(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	for _, row := range []struct {
		step, text string
		verdict    Verdict
		pattern    string
		rightForm  bool
	}{
		{"half_angle", "atan(16.5/34)", Right, "", false},
		{"half_angle", "atan((v_width/2)/v_length)", Right, "", false},
		{"mouth_near", "(66-33)/2", Right, "", false},
		{"half_angle", "atan(33/34)", Wrong, "half-forgotten", false},
		{"half_angle", "atan(v_width/v_length)", Wrong, "half-forgotten", false},
		{"half_angle", "atan(17.5/34)", Wrong, "", true},
		{"half_angle", "atan((31/2)/34)", Wrong, "", true},
		{"mouth_far", "(61+33)/2", Wrong, "", true},
		{"mouth_far", "(33+61)/2", Wrong, "", true},
		{"half_angle", "asin(15.1/34)", Wrong, "", false},
		{"mouth_near", "(66-34.3)/3", Wrong, "", false},
	} {
		r := graded(ex, s, row.step, row.text)
		id := ""
		if r.Pattern != nil {
			id = r.Pattern.ID
		}
		if r.Verdict != row.verdict || id != row.pattern || strings.Contains(r.Reason, "right form") != row.rightForm {
			t.Errorf("Grade(%s = %s) = %s %q %q, want %s %q, right form %v", row.step, row.text, r.Verdict, id, r.Reason, row.verdict, row.pattern, row.rightForm)
		}
	}
	// The key has no name: a step cannot be answered by its own.
	for _, text := range []string{"mouth_near", "mouth_far - v_width", "half_angle*2"} {
		if r := graded(ex, s, "mouth_near", text); r.Verdict != Unreadable {
			t.Errorf("Grade(mouth_near = %s) = %s, want unreadable", text, r.Verdict)
		}
	}
	both := Grade(ex, s, map[string]string{"mouth_near": "16.5", "mouth_far": "mouth_near + v_width"}, Millimetres)
	if v := both.Steps[2].Verdict; v != Right {
		t.Errorf("working over an earlier answer = %s, want right", v)
	}
}

func TestFollows(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	for _, row := range []struct {
		name    string
		answers map[string]string
		step    string
		want    Verdict
		reason  string
	}{
		{"carried", map[string]string{"face_v_length": "33.38", "shoulder_from_end": "34.88"}, "shoulder_from_end", Follows, "Follows from your number 5."},
		{"over a step left out", map[string]string{"face_v_length": "33.38", "back_shift": "5.25", "back_shoulder_from_end": "40.13"},
			"back_shoulder_from_end", Follows, "Follows from your number 5."},
		{"of two", map[string]string{"shoulder_from_end": "39", "back_shift": "7", "back_shoulder_from_end": "46"},
			"back_shoulder_from_end", Follows, "Follows from your numbers 7 and 8."},
		{"angle of angle", map[string]string{"half_angle": "44.14", "cheek_tilt": "7.64"}, "cheek_tilt", Follows, "Follows from your number 1."},
		{"through the registry's other formula", map[string]string{"mouth_near": "15", "mouth_far": "48"}, "mouth_far", Follows, "Follows from your number 2."},
		{"a slip on top of a slip", map[string]string{"face_v_length": "33.38", "shoulder_from_end": "31.88"}, "shoulder_from_end", Wrong, "It goes on from your number 5."},
		{"outside the wood", map[string]string{"mouth_near": "49.5", "mouth_far": "82.5"}, "mouth_far", Wrong, ""},
		{"no joint left", map[string]string{"tip_proud": "15", "tip_depth": "12.51"}, "tip_depth", Wrong, ""},
		{"only copied", map[string]string{"half_angle": "90", "cheek_tilt": "11"}, "cheek_tilt", Wrong, ""},
		{"unreadable is not carried", map[string]string{"face_v_length": "long", "shoulder_from_end": "34.88"}, "shoulder_from_end", Wrong, ""},
		{"a slip on the way on", map[string]string{"face_v_length": "33.38", "face_half_angle": "44.67"}, "face_half_angle", Wrong, "It goes on from your number 5."},
		{"right all the same", map[string]string{"face_v_length": "33.38", "shoulder_from_end": "36.14"}, "shoulder_from_end", Right, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, r := range Grade(ex, s, row.answers, Millimetres).Steps {
				if r.ID == row.step && (r.Verdict != row.want || r.Reason != row.reason || r.Verdict == Follows && r.Pattern != nil) {
					t.Errorf("Grade(%v)[%s] = %s %q %v, want %s %q", row.answers, row.step, r.Verdict, r.Reason, r.Pattern, row.want, row.reason)
				}
			}
		})
	}
}

func TestGradeCounts(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	r := Grade(ex, s, map[string]string{
		"half_angle": "25.9", "mouth_near": "", "cheek_length": "twelve", "face_v_length": "33.38", "shoulder_from_end": "34.88", "nothing": "1",
	}, Millimetres)
	if r.Score != 2 || r.OutOf != 13 || len(r.Steps) != 13 {
		t.Errorf("Grade = score %d of %d over %d steps, want 2 of 13 over 13", r.Score, r.OutOf, len(r.Steps))
	}
	want := map[string]Verdict{"half_angle": Right, "mouth_near": Blank, "mouth_far": Blank, "cheek_length": Unreadable, "face_v_length": Wrong, "shoulder_from_end": Follows}
	for _, step := range r.Steps {
		if v, ok := want[step.ID]; ok && v != step.Verdict {
			t.Errorf("%s = %s, want %s", step.ID, step.Verdict, v)
		}
		if (step.Reading == nil) != (step.Verdict == Blank || step.Verdict == Unreadable) || step.Verdict == Unreadable && step.Reason == "" {
			t.Errorf("%s = %s with reading %v and reason %q", step.ID, step.Verdict, step.Reading, step.Reason)
		}
		if step.Pattern != nil && step.Verdict != Wrong {
			t.Errorf("%s = %s with a pattern, want one only where wrong", step.ID, step.Verdict)
		}
	}
	if got := Unknown(ex, map[string]string{"nothing": "1", "half_angle": "2"}); len(got) != 1 || got[0] != "nothing" {
		t.Errorf("Unknown = %v, want nothing", got)
	}
}

// A sheet may ask less than the family knows; answers to the rest are judged.
func TestGradeUnasked(t *testing.T) {
	spec := headVJointSpec()
	spec.Steps = []StepSpec{{ID: "half_angle"}, {ID: "face_v_length"}}
	spec.Harmless = []HarmlessSpec{{Pattern: "rounded-early", Detail: "*"}}
	ex := mustExercise(t, spec)
	s := onWorked(t, ex)
	r := Grade(ex, s, map[string]string{"half_angle": "25.89", "tip_depth": "20.39", "mouth_near": "16.5"}, Millimetres)
	if r.Score != 1 || r.OutOf != 2 || len(r.Steps) != 4 {
		t.Fatalf("Grade = %d of %d, %d steps, want 1 of 2 and 4 steps", r.Score, r.OutOf, len(r.Steps))
	}
	for _, step := range r.Steps[2:] {
		switch {
		case step.ID == "mouth_near" && step.Verdict != Right:
			t.Errorf("mouth_near = %s, want right", step.Verdict)
		case step.ID == "tip_depth" && (step.Pattern == nil || step.Pattern.ID != "tilt-ignored"):
			t.Errorf("tip_depth names %v, want tilt-ignored", names(step))
		}
	}
}

// Whatever pattern a sheet lists, answering its value names it.
func TestEveryPatternIsNamed(t *testing.T) {
	ex := headV(t)
	named, all := 0, 0
	for seed := range uint64(8) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		key := Key(ex, s.Parameters)
		for _, step := range s.Steps {
			for _, p := range Patterns(ex, s, step.ID) {
				if math.Abs(p.Value-key[step.ID]) <= 2*step.Tolerance {
					continue // declared harmless, and harmless here
				}
				text := strconv.FormatFloat(p.Value, 'f', 6, 64)
				if p.ID == digitsSwapped {
					text = strconv.FormatFloat(p.Value, 'f', 1, 64)
				}
				r := graded(ex, s, step.ID, text)
				if r.Verdict == Unreadable && math.Abs(p.Value) > 360 {
					continue // no angle
				}
				all++
				if r.Verdict == Wrong && contains(names(r), p.ID) {
					named++
					continue
				}
				t.Errorf("seed %d: Grade(%s = %s) = %s %v, want %s %q", seed, step.ID, text, r.Verdict, names(r), p.ID, p.Detail)
			}
		}
	}
	if all < 3000 {
		t.Errorf("%d slips tried, want at least 3000", all)
	}
	t.Logf("%d of %d slips named", named, all)
}

// No hint holds a figure or the word for a fit, each begins alike and ends with
// a question.
func TestHintsGiveNothingAway(t *testing.T) {
	ex := headV(t)
	seen := map[string]bool{}
	for i := range ex.model.slips {
		for _, s := range ex.model.slips[i] {
			if seen[s.says] {
				continue
			}
			seen[s.says] = true
			checkHint(t, s.id, s.says)
		}
	}
	checkHint(t, digitsSwapped, saysDigitsSwapped)
	for _, k := range kinds {
		checkHint(t, k.id, k.says(wording{about: "the head angle"}))
	}
}

func checkHint(t *testing.T, id, says string) {
	t.Helper()
	if !strings.HasPrefix(says, "This is the number you get if ") || !strings.HasSuffix(says, "?") || strings.Contains(says, "  ") {
		t.Errorf("%s: %q, want “This is the number you get if …” and a question", id, says)
	}
	if strings.ContainsFunc(says, unicode.IsDigit) {
		t.Errorf("%s: %q holds a figure", id, says)
	}
	for _, w := range []string{"open", "close", "should have", "must", "correct", "instead", "wrong"} {
		if strings.Contains(strings.ToLower(says), w) {
			t.Errorf("%s: %q holds %q", id, says, w)
		}
	}
}

func TestExerciseHintReplaces(t *testing.T) {
	spec := headVJointSpec()
	spec.Steps[0].Hints = map[string]string{"half-forgotten": "From the centre line to one cheek, or from cheek to cheek?"}
	ex := mustExercise(t, spec)
	r := graded(ex, onWorked(t, ex), "half_angle", "44.14")
	if r.Pattern == nil || r.Pattern.Says != spec.Steps[0].Hints["half-forgotten"] {
		t.Errorf("Grade says %+v, want the exercise's own hint", r.Pattern)
	}
	spec.Steps[5].Hints = map[string]string{"other-quantity": "Any?", "other-quantity half_angle": "Was the bevel set anew?"}
	ex = mustExercise(t, spec)
	if r := graded(ex, onWorked(t, ex), "face_half_angle", "25.89"); r.Pattern == nil || r.Pattern.Says != "Was the bevel set anew?" {
		t.Errorf("Grade says %+v, want the hint for that detail", r.Pattern)
	}
}

func TestGradeIsPure(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	answers := wrongSheet(t, ex, s)
	first := Grade(ex, s, answers, Millimetres)
	if again := Grade(headV(t), s, answers, Millimetres); !reflect.DeepEqual(first, again) {
		t.Errorf("Grade twice = %+v, then %+v", first, again)
	}
	byHand := *ex
	byHand.model = nil
	if again := Grade(&byHand, s, answers, Millimetres); !reflect.DeepEqual(first, again) {
		t.Errorf("Grade without NewExercise = %+v, want %+v", again, first)
	}
	text, err := json.Marshal(first)
	if err != nil {
		t.Fatal(err)
	}
	var back Result
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(back)
	if string(again) != string(text) {
		t.Errorf("Result through JSON = %s, want %s", again, text)
	}
}

// wrongSheet answers every step by one of its slips.
func wrongSheet(t testing.TB, ex *Exercise, s Sheet) map[string]string {
	t.Helper()
	key := Key(ex, s.Parameters)
	answers := map[string]string{}
	for _, step := range s.Steps {
		ps := Patterns(ex, s, step.ID)
		for i := len(ps) / 2; i < len(ps); i++ {
			if math.Abs(ps[i].Value-key[step.ID]) > 2*step.Tolerance {
				answers[step.ID] = strconv.FormatFloat(ps[i].Value, 'f', 2, 64)
				break
			}
		}
	}
	return answers
}

func FuzzGrade(f *testing.F) {
	ex := headV(f)
	s := onWorked(f, ex)
	for _, text := range []string{"25.9", "1:6", "atan(16.5/34)", "14° 30'", "1e309", "-0", "", "NaN", "33/0", "mouth_near", "０．５"} {
		f.Add("half_angle", text, "face_v_length", text, true)
	}
	f.Fuzz(func(t *testing.T, a, x, b, y string, inches bool) {
		u := Millimetres
		if inches {
			u = Inches
		}
		r := Grade(ex, s, map[string]string{a: x, b: y}, u)
		if r.OutOf != 13 || len(r.Steps) < 13 || r.Score > 13 {
			t.Errorf("Grade = %d of %d over %d steps", r.Score, r.OutOf, len(r.Steps))
		}
		if _, err := json.Marshal(r); err != nil {
			t.Errorf("Grade(%q, %q) does not print: %v", x, y, err)
		}
		for _, step := range r.Steps {
			if (step.Pattern != nil) != (step.Verdict == Wrong && step.Pattern != nil) || step.Reading != nil && !finite(step.Reading.Value) {
				t.Errorf("Grade(%q, %q) = %+v", x, y, step)
			}
		}
	})
}

// noiseSheet answers every step by a number that no single slip gives, in
// hundredths: the longest search there is.
func noiseSheet(t testing.TB, ex *Exercise, s Sheet) map[string]string {
	t.Helper()
	key := Key(ex, s.Parameters)
	answers := map[string]string{}
	for _, step := range s.Steps {
		for off := 1.37; answers[step.ID] == ""; off += 0.11 {
			text := plainDigits(key[step.ID]*off, 2)
			if r := graded(ex, s, step.ID, text); r.Verdict == Wrong && r.Pattern == nil && len(r.Also) == 0 {
				answers[step.ID] = text
			}
		}
	}
	return answers
}

// BenchmarkGrade judges one whole sheet with fit, diagnosis and weighing. The
// last two are the bare decoding of the same request, to be set against it.
func BenchmarkGrade(b *testing.B) {
	ex := headV(b)
	s := onWorked(b, ex)
	right := map[string]string{}
	for id, v := range Key(ex, s.Parameters) {
		right[id] = strconv.FormatFloat(v, 'f', 1, 64)
	}
	history := History{
		Own:   map[string]int{"complement": 3, "half-forgotten": 1, "tilt-ignored": 2},
		Class: map[string]map[string]int{"half_angle": {"complement": 9, "": 4}, "tip_depth": {"tilt-ignored head_angle": 7}},
	}
	wrong := wrongSheet(b, ex, s)
	for name, answers := range map[string]map[string]string{"right": right, "wrong": wrong, "unexplained": noiseSheet(b, ex, s)} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Weigh(ex, Grade(ex, s, answers, Millimetres), history)
			}
		})
	}
	form := url.Values{"key": {"0b8f6f0e-52c3-4d0e-9c39-1d1f3c6a5a11"}, "wood": {"0"}}
	for id, text := range wrong {
		form.Set("n-"+id, text)
	}
	b.Run("decode form", func(b *testing.B) {
		body := form.Encode()
		b.ReportAllocs()
		for b.Loop() {
			if _, err := url.ParseQuery(body); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("decode JSON", func(b *testing.B) {
		type request struct {
			Exercise   string
			Parameters joint.Values
			Answers    map[string]string
		}
		body, err := json.Marshal(request{ex.ID, s.Parameters, wrong})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportAllocs()
		for b.Loop() {
			var r request
			if err := json.Unmarshal(body, &r); err != nil {
				b.Fatal(err)
			}
		}
	})
}
