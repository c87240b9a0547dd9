package grading

import (
	"math"
	"reflect"
	"slices"
	"testing"
)

func TestWilson(t *testing.T) {
	for _, row := range []struct {
		source    string
		k, n      int
		z         float64
		low, high float64
		exact     float64
	}{
		// R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, to four places; from memory.
		{"Newcombe 1998", 81, 263, z95, 0.2553, 0.3662, 5e-5},
		{"Newcombe 1998", 15, 148, z95, 0.0624, 0.1605, 5e-5},
		{"Newcombe 1998", 0, 20, z95, 0, 0.1611, 5e-5},
		{"Newcombe 1998", 1, 29, z95, 0.0061, 0.1718, 5e-5},
		// codegolf.stackexchange.com, question 105389, test list for z = 1.96.
		{"test list 105389", 1, 1, 1.96, 0.20654329, 1, 5e-9},
		{"test list 105389", 1, 2, 1.96, 0.09452865, 0.90547135, 5e-9},
		{"test list 105389", 10, 11, 1.96, 0.62263537, 0.98376825, 5e-9},
		{"test list 105389", 25, 100, 1.96, 0.17545094, 0.34304646, 5e-9},
		{"test list 105389", 0, 100, 1.96, 0, 0.03699481, 5e-9},
		{"nothing known", 0, 0, z95, 0, 1, 0},
	} {
		got := Wilson(row.k, row.n, row.z)
		if math.Abs(got.Low-row.low) > row.exact || math.Abs(got.High-row.high) > row.exact {
			t.Errorf("Wilson(%d, %d, %v) = %v, want %v to %v (%s)", row.k, row.n, row.z, got, row.low, row.high, row.source)
		}
	}
}

// class makes the work of a class: for each sheet the answers of its attempts.
func class(t *testing.T, ex *Exercise, attempts ...[]map[string]string) []Work {
	t.Helper()
	var out []Work
	for i, answers := range attempts {
		sheet, err := Generate(ex, uint64(i), DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		w := Work{No: int64(i + 1)}
		for _, a := range answers {
			w.Attempts = append(w.Attempts, Attempt{Sheet: sheet, Result: Grade(ex, sheet, a, Millimetres)})
		}
		out = append(out, w)
	}
	return out
}

func TestTally(t *testing.T) {
	ex := headV(t)
	right := map[string]string{"half_angle": "atan((v_width/2)/v_length)", "mouth_near": "(width-v_width)/2"}
	whole := map[string]string{"half_angle": "atan(v_width/v_length)", "mouth_near": "(width-v_width)/2"}
	legs := map[string]string{"half_angle": "atan(v_length/(v_width/2))", "mouth_near": "(width+v_width)/2"}
	odd := map[string]string{"half_angle": "61.234567"}
	work := class(t, ex,
		[]map[string]string{right}, []map[string]string{whole, whole, right}, []map[string]string{whole},
		[]map[string]string{legs}, []map[string]string{odd}, []map[string]string{{"half_angle": "?"}}, nil,
	)
	tally := NewTally(ex, work)
	got := tally.Steps[0]
	if got.Right != 2 || got.Wrong != 3 || got.Unreadable != 1 || got.Blank != 0 || got.Sheets() != 6 || tally.Sheets != 6 || got.Unexplained != 1 {
		t.Errorf("tally of half_angle = %+v over %d sheets, want 2 right, 3 wrong, 1 unreadable, 1 unexplained of 6", got, tally.Sheets)
	}
	if len(got.Slips) != 2 || got.Slips[0].Slip.ID != "half-forgotten" || got.Slips[0].Sheets != 2 || got.Slips[0].Count != 2 {
		t.Errorf("slips of half_angle = %+v, want half-forgotten on two sheets first, sent again counted once", got.Slips)
	}
	if near := tally.Steps[1]; near.Right != 3 || near.Wrong != 1 || near.Blank != 2 {
		t.Errorf("tally of mouth_near = %+v, want 3 right, 1 wrong, 2 blank", near)
	}
	if h := tally.Headline(); h != "Number 1 is the one to take up again" {
		t.Errorf("Headline = %q", h)
	}
	cases := tally.Cases(work, 3)
	if len(cases) != 3 || cases[0].Slip.ID != "half-forgotten" || cases[1].Slip.ID != "ratio-inverted" || cases[2].Slip != nil || cases[2].Given != "61.234567" {
		t.Errorf("Cases = %+v, want half-forgotten, ratio-inverted and the unexplained one", cases)
	}
	if !reflect.DeepEqual(cases[0].Parameters, work[1].Attempts[0].Sheet.Parameters) || cases[0].Number != 1 {
		t.Errorf("first case = %+v, want the second sheet's blank", cases[0])
	}
	if again := NewTally(ex, work); !reflect.DeepEqual(again, tally) {
		t.Error("the same work gives another tally")
	}
	if h := NewTally(ex, class(t, ex, []map[string]string{right})).Headline(); h != "No number needs taking up again" {
		t.Errorf("Headline of right answers = %q", h)
	}
	if h := NewTally(ex, nil).Headline(); h != "No answers yet" {
		t.Errorf("Headline of nothing = %q", h)
	}
}

// What one sentence tells is one line of the review, wherever in the formula
// the slip was made.
func TestTallySameSentence(t *testing.T) {
	ex := headV(t)
	first := map[string]string{"tip_depth": "thickness - v_length*tan(head_angle)"}
	second := map[string]string{"tip_depth": "thickness/cos(head_angle)"}
	tally := NewTally(ex, class(t, ex, []map[string]string{first, second}, []map[string]string{second}))
	i := slices.IndexFunc(tally.Steps, func(st StepTally) bool { return st.ID == "tip_depth" })
	if got := tally.Steps[i].Slips; len(got) != 1 || got[0].Slip.ID != "tilt-ignored" || got[0].Count != 3 || got[0].Sheets != 2 {
		t.Errorf("slips of tip_depth = %+v, want tilt-ignored once, with 3 answers on 2 sheets", got)
	}
}
