package server

import (
	"context"
	"strconv"
	"strings"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// slipPlan is what a student will type: every number right but one, which is
// what a known slip gives on this blank.
type slipPlan struct {
	step, id, detail string
	texts            map[string]string // by step, as typed
	reads            map[string]string // by step, as read
	right            string            // the right number of the step with the slip
	says             string            // the hint
	fit              string            // the fit word
}

// stored is the sheet at an address as the server keeps it; its exercise is
// kept aside.
func (s *story) stored(path string) grading.Sheet {
	ctx := context.Background()
	no, err := strconv.Atoi(path[strings.LastIndexByte(path, '/')+1:])
	if err != nil {
		s.t.Fatalf("%q is not a sheet's address", path)
	}
	sheet, err := s.h.Store.Sheet(ctx, s.class.ID, no)
	if err != nil {
		s.t.Fatal(err)
	}
	a, err := s.h.Store.Assignment(ctx, s.class.ID, sheet.AssignmentNo)
	if err != nil {
		s.t.Fatal(err)
	}
	if s.exercise, err = s.h.Server.exerciseOf(ctx, a); err != nil {
		s.t.Fatal(err)
	}
	return sheet.Current()
}

// plan works the sheet out and chooses the slip.
func (s *story) plan() {
	s.key = s.stored(s.sheet)
	for _, st := range s.key.Steps {
		for _, p := range grading.Patterns(s.exercise, s.key, st.ID) {
			if p.ID == "half-forgotten" || p.ID == "tilt-ignored" {
				s.slip = planSlip(s.t, s.exercise, s.key, p.ID, p.Detail, st.ID)
				s.t.Logf("the slip: %s of %s", p.ID, st.ID)
				return
			}
		}
	}
	s.t.Fatal("no slip of this sheet is half-forgotten or tilt-ignored")
}

// planSlip writes down what somebody types who makes one slip. What the pages
// have to say of it comes from the grader.
func planSlip(t *testing.T, ex *grading.Exercise, sheet grading.Sheet, id, detail, step string) slipPlan {
	t.Helper()
	p := slipPlan{step: step, id: id, detail: detail, texts: map[string]string{}, reads: map[string]string{}}
	key := grading.Key(ex, sheet.Parameters)
	for _, st := range sheet.Steps {
		p.texts[st.ID] = bare(grading.Print(key[st.ID], st.Unit, grading.Millimetres))
	}
	p.right = p.texts[step]
	for _, slip := range grading.Patterns(ex, sheet, step) {
		if slip.ID == id && slip.Detail == detail {
			p.texts[step] = bare(grading.Print(slip.Value, unitOfStep(sheet, step), grading.Millimetres))
		}
	}
	result := grading.Grade(ex, sheet, p.texts, grading.Millimetres)
	for _, r := range result.Steps {
		p.reads[r.ID] = grading.Print(r.Reading.Value, r.Reading.Unit, grading.Millimetres)
		if r.ID == step && r.Pattern != nil {
			p.says = r.Pattern.Says
		}
	}
	if p.says == "" || result.Score != len(sheet.Steps)-1 || result.Fit == nil {
		t.Fatalf("%s %s of %s gives %d of %d and the hint %q: no use for this test", id, detail, step, result.Score, result.OutOf, p.says)
	}
	p.fit = result.Fit.Word
	return p
}

func unitOfStep(sheet grading.Sheet, step string) joint.Unit {
	for _, st := range sheet.Steps {
		if st.ID == step {
			return st.Unit
		}
	}
	return joint.One
}
