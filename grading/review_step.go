package grading

import (
	"fmt"
	"math"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// Measure is one number of an exercise as a review of a class needs it, asked
// on the sheet or not.
type Measure struct {
	ID   string
	Name string // inside a sentence: "the half angle"
	Unit joint.Unit
	// Taught is the formula as it is taught, Full the same written out in
	// givens.
	Taught, Full formula.Formula
}

// Measure finds a number of the exercise or of its family by id. ok is false
// where there is none.
func (ex *Exercise) Measure(id string) (found Measure, ok bool) {
	m, err := ex.ready()
	if err != nil {
		return Measure{}, false
	}
	d, ok := m.def(id)
	if !ok {
		return Measure{}, false
	}
	return Measure{ID: d.id, Name: ex.nameOf(d.id), Unit: d.unit, Taught: d.taught, Full: d.full}, true
}

// Measures lists every number of the exercise and its family.
func (ex *Exercise) Measures() []Measure {
	m, err := ex.ready()
	if err != nil {
		return nil
	}
	var all []Measure
	for _, d := range m.defs {
		all = append(all, Measure{ID: d.id, Name: ex.nameOf(d.id), Unit: d.unit, Taught: d.taught, Full: d.full})
	}
	return all
}

// Sizes lists what a blank of the exercise is given by, in display order: its
// own givens, then whatever else the family needs.
func (ex *Exercise) Sizes() []joint.Parameter { return ex.parameters() }

// Words names a given or a number of the exercise inside a sentence: "the head
// angle".
func (ex *Exercise) Words(id string) string { return ex.nameOf(id) }

// Two says that it is two slips that come together.
func (s Slip) Two() bool { return strings.Contains(" "+s.Detail, " with ") }

// Judged is one answer judged by itself.
type Judged struct {
	StepResult
	// Key is the right number, NaN where the blank gives it no value.
	Key float64
}

// GradeOne judges the answer to one number on one blank, without what the
// student wrote before and without the fit: what a review of many answers
// needs. The blank need not be buildable. The error says what is wrong with
// the blank, or that there is no such number.
func GradeOne(ex *Exercise, parameters joint.Values, id, text string, units Units) (Judged, error) {
	m, err := ex.ready()
	if err != nil {
		return Judged{}, err
	}
	d, ok := m.def(id)
	if !ok {
		return Judged{}, fmt.Errorf("%s is not a number of %s", id, ex.ID)
	}
	if err := m.checkBlank(ex, parameters); err != nil {
		return Judged{}, err
	}
	j := newJudge(m, ex, Sheet{Parameters: parameters}, units)
	tolerance := 0.0
	if key := j.right[d.slot]; !finite(key) {
		j.right[d.slot] = math.NaN()
	} else {
		tolerance, _ = m.tolerance(ex, j.blank, parameters, d, ShopFor(units))
	}
	return Judged{StepResult: j.step(d, 0, tolerance, text), Key: j.right[d.slot]}, nil
}
