package discover

import (
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// Answer is one answer to the step that is reviewed, judged by itself.
type Answer struct {
	Parameters joint.Values // the blank, in millimetres and degrees
	Value      float64      // the number given, in the step's unit
	// Half is half the last written digit: the answer stands for anything from
	// Value−Half to Value+Half.
	Half    float64
	Key     float64 // the right number, NaN where the blank gives it no value
	Verdict grading.Verdict
	Slip    *grading.Slip // the error pattern that gives the number, or nil
	// Also are the other patterns that give it, or where Slip is nil those that
	// come near, which one answer cannot tell from chance.
	Also []grading.Slip
}

// Judge reads and judges one answer as it was written. An answer that cannot be
// read comes back with the verdict Unreadable and takes no part in a search.
// The error says what is wrong with the blank or the step.
func Judge(ex *grading.Exercise, step string, parameters joint.Values, text string, units grading.Units) (Answer, error) {
	j, err := grading.GradeOne(ex, parameters, step, text, units)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Parameters: parameters, Key: j.Key, Verdict: j.Verdict, Slip: j.Pattern, Also: j.Also}
	if j.Reading != nil {
		a.Value, a.Half = j.Reading.Value, j.Reading.Half
	}
	return a, nil
}
