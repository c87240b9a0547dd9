package grading

import (
	"fmt"
	"strings"
	"testing"
)

// A chain of steps that each use the one before twice would double with every
// step if it were written out in givens: with forty it would never end. It is
// taken as it is instead, and everything else works.
func TestChainThatDoubles(t *testing.T) {
	s := Spec{ID: "chain", Givens: []GivenSpec{{ID: "a", Unit: "mm", From: "10", To: "90", By: "1"}, {ID: "b", Unit: "mm", From: "10", To: "90", By: "1"}}}
	before := "a"
	for i := range 40 {
		id := fmt.Sprintf("s%d", i)
		s.Steps = append(s.Steps, StepSpec{ID: id, Unit: "mm", Formula: fmt.Sprintf("(%s + %s)/2.3 + b*0.1", before, before)})
		before = id
	}
	ex := mustExercise(t, s)
	m, err := ex.ready()
	if err != nil {
		t.Fatal(err)
	}
	for i := range m.defs {
		if d := &m.defs[i]; d.size > mostWritten {
			t.Errorf("%s is written out to %d nodes, want at most %d", d.id, d.size, mostWritten)
		}
	}
	sheet, err := OnBlank(ex, map[string]float64{"a": 33, "b": 44}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	key := Key(ex, sheet.Parameters)
	r := Grade(ex, sheet, map[string]string{"s0": plainDigits(key["s0"], 3), "s39": "7.3219", "s1": plainDigits(2*key["s1"], 3)}, Millimetres)
	if r.Steps[0].Verdict != Right || r.Steps[39].Verdict != Wrong || r.Steps[1].Pattern == nil || r.Steps[1].Pattern.ID != "double" {
		t.Errorf("Grade = %+v, want right, a named double and a wrong number", r.Steps)
	}
}

// A formula as long as one may be has more pairs of slips than can be looked
// at: the likeliest are.
func TestLongestFormula(t *testing.T) {
	long := "a" + strings.Repeat("*b/(a+b)", 32)
	ex := mustExercise(t, Spec{ID: "long",
		Givens: []GivenSpec{{ID: "a", Unit: "mm", From: "10", To: "90", By: "1"}, {ID: "b", Unit: "mm", From: "10", To: "90", By: "1"}},
		Steps:  []StepSpec{{ID: "l", Unit: "mm", Formula: long}},
	})
	m, err := ex.ready()
	if err != nil {
		t.Fatal(err)
	}
	all := findPairs(subject{m: m, ex: ex, d: &m.defs[0]}, m.slips[0])
	if len(all) < 100 || len(all) > mostPairs/50 {
		t.Errorf("%d pairs were found, want some hundreds", len(all))
	}
}
