package grading

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"
)

// The rule, worked by hand. Four slips of three patterns, of which the first
// two fit the answer; a number that means nothing falls there once in 100 times.
//
//	slip             simplicity  p0 = simplicity/2
//	complement            1           0.5
//	ratio-inverted        0.5         0.25
//	wrong-measure a       0.25        0.125
//	wrong-measure b       0.25        0.125
//
// Nothing known: u = 1/4; the weights are as 0.75·0.5 : 0.75·0.25 : 0.25·0.01
// = 0.375 : 0.1875 : 0.0025, together 0.565.
//
// The class inverted the ratio ten times: p1 = (10·0.5 + 0)/20 = 0.25 and
// (10·0.25 + 10)/20 = 0.625; u = 1/14; the weights are as 13·0.25 : 13·0.625 :
// 0.01, that is 3.25 : 8.125 : 0.01, together 11.385.
//
// The student took the complement five times: p2 = (5·0.5 + 5)/10 = 0.75 and
// (5·0.25 + 0)/10 = 0.125; u = 1/4; as 0.5625 : 0.09375 : 0.0025, together
// 0.65875.
//
// The class has six answers that nothing explains: u = 7/10; as 0.3·0.5 :
// 0.3·0.25 : 0.7·0.01 = 0.15 : 0.075 : 0.007, together 0.232.
//
// Both: the class took measure a twice and inverted once, the student inverted
// twice and took a wrong measure twice. p1: complement 5/13, ratio-inverted
// 3.5/13, a 3.25/13, b 1.25/13. p2: complement 5·5/13/9 = 25/117,
// ratio-inverted (17.5/13 + 2)/9 = 43.5/117. u = 1/7; as 6·25/117 : 6·43.5/117 :
// 0.01, that is 150 : 261 : 1.17, together 412.17.
func TestPosteriorByHand(t *testing.T) {
	for _, row := range []struct {
		name                         string
		own, class                   map[string]int
		complement, inverted, nobody float64
	}{
		{"nothing known", nil, nil, 0.375 / 0.565, 0.1875 / 0.565, 0.0025 / 0.565},
		{"class", nil, map[string]int{"ratio-inverted w over l": 10}, 3.25 / 11.385, 8.125 / 11.385, 0.01 / 11.385},
		{"student", map[string]int{"complement": 5, "far-edge": 9}, nil, 0.5625 / 0.65875, 0.09375 / 0.65875, 0.0025 / 0.65875},
		{"unexplained", nil, map[string]int{"": 6}, 0.15 / 0.232, 0.075 / 0.232, 0.007 / 0.232},
		{"both", map[string]int{"ratio-inverted": 2, "wrong-measure": 2}, map[string]int{"wrong-measure a for l": 2, "ratio-inverted w over l": 1},
			150 / 412.17, 261 / 412.17, 1.17 / 412.17},
	} {
		t.Run(row.name, func(t *testing.T) {
			fit := []hypothesis{
				{id: "complement", key: "complement", simplicity: 1},
				{id: "ratio-inverted", key: "ratio-inverted w over l", simplicity: 0.5},
			}
			step := simplicities{all: 2, of: map[string]float64{"complement": 1, "ratio-inverted": 0.5, "wrong-measure": 0.5}}
			nobody := posterior(fit, step, row.own, row.class, 0.01)
			for _, c := range []struct {
				what      string
				got, want float64
			}{{"complement", fit[0].weight, row.complement}, {"ratio-inverted", fit[1].weight, row.inverted}, {"none", nobody, row.nobody}} {
				if math.Abs(c.got-c.want) > 1e-12 {
					t.Errorf("weight of %s = %v, want %v", c.what, c.got, c.want)
				}
			}
			if sum := fit[0].weight + fit[1].weight + nobody; math.Abs(sum-1) > 1e-12 {
				t.Errorf("weights add to %v, want 1", sum)
			}
		})
	}
}

// weighed judges one answer and weighs it.
func weighed(t *testing.T, step, text string, h History) StepResult {
	t.Helper()
	ex := headVAgain(t)
	for _, s := range Weigh(ex, Grade(ex, onWorked(t, ex), map[string]string{step: text}, Millimetres), h).Steps {
		if s.ID == step {
			return s
		}
	}
	t.Fatalf("no result for %s", step)
	return StepResult{}
}

// Legs exchanged and the angle against the other line give one number: without
// history the simpler is named, with it what the class, or the student, does.
func TestWeighOrdersByHistory(t *testing.T) {
	const inverted = "ratio-inverted v_length over v_width/2"
	for _, row := range []struct {
		name        string
		h           History
		first, says string
	}{
		{"nothing", History{}, "complement", "the angle is taken against the other line"},
		{"class", History{Class: map[string]map[string]int{"half_angle": {inverted: 12}}}, "ratio-inverted", "two numbers of a ratio change places"},
		{"another step of the class", History{Class: map[string]map[string]int{"face_half_angle": {inverted: 12}}}, "complement", ""},
		{"student", History{Own: map[string]int{"ratio-inverted": 3}}, "ratio-inverted", "two numbers of a ratio"},
		{"student against class", History{Own: map[string]int{"ratio-inverted": 1}, Class: map[string]map[string]int{"half_angle": {"complement": 20}}}, "complement", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := weighed(t, "half_angle", "64.11", row.h)
			if r.Pattern.ID != row.first || !strings.Contains(r.Pattern.Says, row.says) || len(r.Also) == 0 {
				t.Errorf("named %+v, beside it %v, want %s first", r.Pattern, r.Also, row.first)
			}
			sum := 0.0
			for i, e := range r.Evidence {
				sum += e.Weight
				if i > 0 && e.ID != "" && e.Weight > r.Evidence[i-1].Weight {
					t.Errorf("evidence %+v out of order", r.Evidence)
				}
			}
			if math.Abs(sum-1) > 1e-9 || r.Evidence[0].ID != row.first {
				t.Errorf("evidence %+v adds to %v and begins with %s, want 1 and %s", r.Evidence, sum, r.Evidence[0].ID, row.first)
			}
		})
	}
}

// Without history every result keeps its order, and what weighing adds is the
// evidence; the result that was given in stays as it was.
func TestWeighWithoutHistoryChangesNothing(t *testing.T) {
	ex := headV(t)
	for seed := range uint64(20) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		for _, step := range s.Steps {
			for _, p := range Patterns(ex, s, step.ID) {
				r := Grade(ex, s, map[string]string{step.ID: plainDigits(p.Value, 2)}, Millimetres)
				before, _ := json.Marshal(r)
				w := Weigh(ex, r, History{})
				if after, _ := json.Marshal(r); string(after) != string(before) {
					t.Fatalf("Weigh changed its argument from %s to %s", before, after)
				}
				for i := range w.Steps {
					a, b := r.Steps[i], w.Steps[i]
					if !reflect.DeepEqual(a.Pattern, b.Pattern) || !sameSlips(a.Also, b.Also) {
						t.Errorf("%s %s: %v %v became %v %v", a.ID, a.Given, a.Pattern, a.Also, b.Pattern, b.Also)
					}
				}
			}
		}
	}
}

func sameSlips(a, b []Slip) bool {
	seen := map[string]int{}
	for _, s := range a {
		seen[s.Key()]++
	}
	for _, s := range b {
		seen[s.Key()]--
	}
	for _, n := range seen {
		if n != 0 {
			return false
		}
	}
	return true
}

// A result that was stored keeps its evidence, and is not weighed again.
func TestWeighedResultSurvivesJSON(t *testing.T) {
	ex := headV(t)
	r := Weigh(ex, Grade(ex, onWorked(t, ex), map[string]string{"half_angle": "64.11"}, Millimetres), History{Own: map[string]int{"complement": 2}})
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var back Result
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back.Steps[0].Evidence, r.Steps[0].Evidence) || len(back.Steps[0].Evidence) < 3 {
		t.Errorf("evidence came back as %+v, want %+v", back.Steps[0].Evidence, r.Steps[0].Evidence)
	}
	if again := Weigh(ex, back, History{Own: map[string]int{"ratio-inverted": 50}}); !reflect.DeepEqual(again, back) {
		t.Errorf("a stored result was weighed again: %+v", again)
	}
	if got, want := back.Steps[0].Evidence[0].Says(), "It has come up twice in your numbers before."; got != want {
		t.Errorf("Says() = %q, want %q", got, want)
	}
}

// A number too rough to be told keeps its slips unnamed, in the order of their
// weights.
func TestWeighNamesNothingAnew(t *testing.T) {
	tried := 0
	for tenths := 5; tenths < 150; tenths++ {
		text := plainDigits(float64(tenths)/10, 1)
		r := weighed(t, "cheek_tilt", text, History{Own: map[string]int{"wrong-measure": 40}})
		if r.Reason != TooRough || len(r.Also) < 2 || len(r.Evidence) < 2 {
			continue
		}
		tried++
		if r.Pattern != nil || r.Also[0].ID != r.Evidence[0].ID || r.Also[0].Says != "" {
			t.Errorf("%s: pattern %v, also %v, evidence %v, want slips in the order of the evidence and none named", text, r.Pattern, r.Also, r.Evidence)
		}
	}
	if tried == 0 {
		t.Error("no number in tenths was too rough: nothing is tested")
	}
}

// An exercise without a family, with a slip of its own that gives what one of
// the program's gives: the author's is named first, until the class says
// otherwise.
func TestWeighOwnExercise(t *testing.T) {
	ex := mustExercise(t, Spec{
		ID: "rest",
		Givens: []GivenSpec{
			{ID: "height", Unit: "mm", From: "90", To: "130", By: "1"}, {ID: "depth", Unit: "mm", From: "200", To: "260", By: "1"},
		},
		Steps:    []StepSpec{{ID: "angle", Unit: "deg", Formula: "atan(height/depth)"}},
		Patterns: []PatternSpec{{ID: "from-the-wall", Step: "angle", Formula: "90 - angle", Hint: "This is the number you get if the angle is read from the wall. Where does the rest stand?"}},
	})
	s, err := OnBlank(ex, map[string]float64{"height": 110, "depth": 242}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	r := Grade(ex, s, map[string]string{"angle": "65.56"}, Millimetres)
	for _, row := range []struct {
		class map[string]int
		want  string
	}{{nil, "from-the-wall"}, {map[string]int{"from-the-wall": 4, "complement": 4}, "from-the-wall"}, {map[string]int{"complement": 30}, "complement"}} {
		w := Weigh(ex, r, History{Class: map[string]map[string]int{"angle": row.class}}).Steps[0]
		if w.Pattern == nil || w.Pattern.ID != row.want || w.Pattern.Says == "" || len(w.Also) != 2 || len(w.Evidence) != 4 {
			t.Errorf("with %v named %+v, beside it %v, for %v, want %s", row.class, w.Pattern, w.Also, w.Evidence, row.want)
		}
	}
}
