package grading

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

func TestNewExerciseTakesFromTheCatalogue(t *testing.T) {
	spec := headVJointSpec()
	spec.Steps, spec.Harmless = nil, nil
	ex := mustExercise(t, spec)
	if len(ex.Steps) != 13 || ex.Steps[12].ID != "max_head_angle" {
		t.Fatalf("steps left out = %d steps, want the 13 of the family", len(ex.Steps))
	}
	s := ex.Steps[1]
	if s.Name != "Near mouth point" || s.Symbol != "m₁" || s.Unit != "mm" || s.From == "" || s.Across != "width" || s.Formula.String() != "(width - v_width)/2" {
		t.Errorf("step = %+v, want name, symbol, unit, datum and formula of the catalogue", s)
	}
	if g := ex.Givens[0]; g.Name != "Thickness" || g.From != 24 || g.To != 32 || g.By != 0.5 || g.count() != 17 || g.value(16) != 32 {
		t.Errorf("given = %+v, want 24 to 32 by 0.5", g)
	}
	if g := ex.InchGivens[0]; g.ID != "thickness" || g.From != 23.8125 || g.To != 31.75 || g.count() != 6 || g.value(5) != 31.75 {
		t.Errorf("inch given = %+v, want 15/16 to 1 1/4 by 1/16 in millimetres", g)
	}
	if i := slices.IndexFunc(ex.InchGivens, func(g Given) bool { return g.ID == "head_angle" }); i < 0 || ex.InchGivens[i].By != 0.5 {
		t.Errorf("inch givens = %+v, want the angle's range taken over", ex.InchGivens)
	}
}

// A fault says where it stands in the spec, and all are found at once.
func TestNewExerciseFaults(t *testing.T) {
	for _, row := range []struct {
		name  string
		spoil func(*Spec)
		path  string
		col   int
		says  string
	}{
		{"no id", func(s *Spec) { s.ID = "" }, "id", 0, "needs an id"},
		{"family", func(s *Spec) { s.Family = "butt-joint" }, "family", 0, "not a family"},
		{"given unknown", func(s *Spec) { s.Givens[2].ID = "v_lenght" }, "givens[2].id", 0, "not a parameter"},
		{"given missing", func(s *Spec) { s.Givens = s.Givens[1:] }, "givens", 0, "thickness needs a range"},
		{"given twice", func(s *Spec) { s.Givens[1].ID = "thickness" }, "givens[1].id", 0, "twice"},
		{"from no number", func(s *Spec) { s.Givens[0].From = "thick" }, "givens[0].from", 0, "not a number"},
		{"to before from", func(s *Spec) { s.Givens[0].To = "20" }, "givens[0].to", 0, "ends before it begins"},
		{"no step", func(s *Spec) { s.Givens[0].By = "0" }, "givens[0].by", 0, "above nothing"},
		{"inch range missing", func(s *Spec) { s.InchGivens = s.InchGivens[1:] }, "inch_givens", 0, "thickness needs a range in inches"},
		{"rule without comparison", func(s *Spec) { s.Keep[1] = "thickness v_length" }, "keep[1]", 0, "compares"},
		{"rule of unlike", func(s *Spec) { s.Keep[0] = "thickness <= head_angle" }, "keep[0]", 0, "A length is compared with an angle"},
		{"rule of unknown", func(s *Spec) { s.Keep[0] = "thickness <= depth" }, "keep[0]", 14, "depth"},
		{"rule that does not parse", func(s *Spec) { s.Keep[0] = "thickness <= (v_length" }, "keep[0]", 14, "never closed"},
		{"formula does not parse", func(s *Spec) { s.Steps[3].Formula = "v_length*" }, "steps[3].formula", 10, ""},
		{"formula of wrong kind", func(s *Spec) { s.Steps[3].Formula = "v_length + head_angle" }, "steps[3].formula", 10, "an angle"},
		{"formula of wrong unit", func(s *Spec) { s.Steps[0].Formula = "v_length + v_width" }, "steps[0].formula", 10, "an angle is asked"},
		{"formula against the catalogue", func(s *Spec) { s.Steps[0].Formula = "atan(v_width/v_length)" }, "steps[0].formula", 0, "the catalogue builds"},
		{"formula of unknown", func(s *Spec) { s.Steps[0].Formula = "atan(v_width/depth)" }, "steps[0].formula", 14, "depth"},
		{"circle", func(s *Spec) { s.Steps[4].Formula = "shoulder_from_end - allowance" }, "steps[4].formula", 0, "built on itself"},
		{"step twice", func(s *Spec) { s.Steps[1].ID = "half_angle" }, "steps[1].id", 0, "twice"},
		{"step no id", func(s *Spec) { s.Steps[1].ID = "Near mouth" }, "steps[1].id", 0, "cannot be an id"},
		{"carries later", func(s *Spec) { s.Steps[0].Carries = []string{"mouth_near"} }, "steps[0].carries[0]", 0, "comes later"},
		{"carries unknown", func(s *Spec) { s.Steps[5].Carries = []string{"face_length"} }, "steps[5].carries[0]", 0, "not a step"},
		{"carries unused", func(s *Spec) { s.Steps[5].Carries = []string{"mouth_near"} }, "steps[5].carries[0]", 0, "does not use mouth_near"},
		{"carries a copy", func(s *Spec) { s.Steps[6].Follow = "face_v_length" }, "steps[6].carries", 0, "only copies"},
		{"tolerance", func(s *Spec) { s.Steps[2].Tolerance = "-1" }, "steps[2].tolerance", 0, "not a tolerance"},
		{"hint of no pattern", func(s *Spec) { s.Steps[2].Hints = map[string]string{"clumsy": "x"} }, "steps[2].hints", 0, "not a pattern"},
		{"harmless unknown", func(s *Spec) { s.Harmless[0].Detail = "acos for cos" }, "harmless[0]", 0, "not a slip of cheek_tilt"},
		{"pattern's step", func(s *Spec) { s.Patterns = []PatternSpec{{ID: "mine", Step: "depth", Hint: "h", Formula: "v_width"}} }, "patterns[0].step", 0, "not a step"},
		{"pattern's formula", func(s *Spec) {
			s.Patterns = []PatternSpec{{ID: "mine", Step: "half_angle", Hint: "h", Formula: "v_width"}}
		}, "patterns[0].formula", 1, "an angle is asked"},
		{"pattern's name taken", func(s *Spec) {
			s.Patterns = []PatternSpec{{ID: "double", Step: "mouth_near", Hint: "h", Formula: "v_width"}}
		}, "patterns[0].id", 0, "another id"},
		{"pattern without hint", func(s *Spec) { s.Patterns = []PatternSpec{{ID: "mine", Step: "mouth_near", Formula: "v_width"}} }, "patterns[0].hint", 0, "needs a hint"},
	} {
		t.Run(row.name, func(t *testing.T) {
			spec := headVJointSpec()
			spec.Harmless = slices.Clone(spec.Harmless)
			row.spoil(&spec)
			ex, faults := NewExercise(spec)
			if ex != nil {
				t.Fatal("NewExercise = an exercise, want faults")
			}
			found := slices.ContainsFunc(faults, func(f Fault) bool {
				return f.Path == row.path && f.Col == row.col && strings.Contains(f.Error(), row.says)
			})
			if !found {
				t.Errorf("NewExercise faults = %v, want one at %s column %d with %q", faults, row.path, row.col, row.says)
			}
		})
	}
	spec := headVJointSpec()
	spec.Steps[0].Formula, spec.Steps[3].Formula, spec.Givens[0].By = "atan(", "v_length*", "x"
	if _, faults := NewExercise(spec); len(faults) != 3 {
		t.Errorf("NewExercise with three faults = %v, want all three", faults)
	}
}

func TestSpecSurvivesJSON(t *testing.T) {
	spec := headVJointSpec()
	spec.Patterns = []PatternSpec{{ID: "mouth-for-width", Step: "mouth_near", Says: "Says.", Hint: "Why?", Formula: "v_width/2 - 1"}}
	spec.Steps[0].Hints = map[string]string{"double": "Twice?"}
	ex := mustExercise(t, spec)
	text, err := json.Marshal(ex.Spec())
	if err != nil {
		t.Fatal(err)
	}
	var back Spec
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back, ex.Spec()) {
		t.Errorf("Spec through JSON = %+v, want %+v", back, ex.Spec())
	}
	a, errA := Generate(ex, 5, DefaultShop())
	b, errB := Generate(mustExercise(t, back), 5, DefaultShop())
	if errA != nil || errB != nil || !sameSheet(a, b) {
		t.Errorf("sheets of the exercise and of its stored copy = %v (%v), %v (%v), want the same", a, errA, b, errB)
	}
}

// ramp is an exercise over its own givens.
func ramp() Spec {
	return Spec{
		ID: "ramp", Title: "A ramp", Version: 1,
		Givens: []GivenSpec{
			{ID: "run", Unit: "mm", From: "200", To: "400", By: "5"}, {ID: "rise", Unit: "mm", From: "30", To: "90", By: "1"},
			{ID: "kerf", Unit: "mm", Only: []string{"1.2", "2", "3"}}, {ID: "boards", Unit: "1", From: "3", To: "7", By: "1"},
		},
		Keep: []string{"rise <= run/4"},
		Steps: []StepSpec{
			{ID: "slope", Unit: "deg", Formula: "atan(rise/run)"},
			{ID: "slant", Unit: "mm", Formula: "hypot(run, rise)"},
			{ID: "board", Unit: "mm", Formula: "(slant - 2*kerf)/boards", Carries: []string{"slant"}, Tolerance: "0.05"},
		},
		Harmless: []HarmlessSpec{
			{Pattern: "rounded-early", Detail: "*"}, {Step: "slope", Pattern: "wrong-function", Detail: "asin for atan"},
			{Step: "slant", Pattern: "slope-for-run", Detail: "*"}, {Step: "slant", Pattern: "wrong-measure", Detail: "run for slant"},
			{Step: "board", Pattern: "slope-for-run", Detail: "*"}, {Step: "board", Pattern: "wrong-measure", Detail: "*"},
			{Step: "board", Pattern: "added-for-multiplied", Detail: "*"},
		},
		Patterns: []PatternSpec{{ID: "grade-in-hundreds", Step: "slope", Hint: "Is the slope asked in hundredths, or in degrees?", Formula: "rise/run*100"}},
	}
}

func TestOwnExercise(t *testing.T) {
	ex := mustExercise(t, ramp())
	for seed := range uint64(50) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		key := Key(ex, s.Parameters)
		p := s.Parameters
		if want := math.Hypot(p["run"], p["rise"]); math.Abs(key["slant"]-want) > 1e-9 {
			t.Fatalf("Key slant = %v, want %v", key["slant"], want)
		}
		if s.Steps[2].Tolerance != 0.05 || s.Steps[0].Tolerance != 0.1 {
			t.Errorf("tolerances = %v, %v, want the step's own 0.05 and the plain 0.1", s.Steps[2].Tolerance, s.Steps[0].Tolerance)
		}
		for _, step := range s.Steps {
			for _, pat := range Patterns(ex, s, step.ID) {
				if off := math.Abs(pat.Value - key[step.ID]); !pat.Harmless && off <= 2*step.Tolerance {
					t.Errorf("seed %d: %s by %s %q is only %v off", seed, step.ID, pat.ID, pat.Detail, off)
				}
			}
		}
	}
	s, err := OnBlank(ex, map[string]float64{"run": 300, "rise": 60, "kerf": 2, "boards": 4}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	r := Grade(ex, s, map[string]string{"slope": "20", "slant": "300", "board": "74"}, Millimetres)
	if p := r.Steps[0].Pattern; p == nil || p.ID != "grade-in-hundreds" || p.Says != "Is the slope asked in hundredths, or in degrees?" {
		t.Errorf("slope 20 names %+v, want the exercise's own pattern", p)
	}
	if r.Steps[2].Verdict != Follows || r.Fit != nil {
		t.Errorf("board = %s, fit %v, want follows and no fit", r.Steps[2].Verdict, r.Fit)
	}
	if r := graded(ex, s, "board", "75.985"); r.Pattern == nil || !contains(names(r), "one-sided") {
		t.Errorf("board with one kerf names %v, want one-sided", names(r))
	}
	if r := graded(ex, s, "board", "76.485"); r.Pattern == nil || r.Pattern.ID != "allowance-forgotten" {
		t.Errorf("board without kerfs names %v, want allowance-forgotten", names(r))
	}
	if _, err := OnBlank(ex, map[string]float64{"run": 300, "rise": 60, "kerf": 2}, DefaultShop()); err == nil {
		t.Error("OnBlank without boards = nil, want an error")
	}
}
