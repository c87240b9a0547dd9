package discover

import (
	"cmp"
	"math"
	"slices"

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
}

// Judge reads and judges one answer as it was written. An answer that cannot be
// read comes back with the verdict Unreadable and takes no part in a search.
// The error says what is wrong with the blank or the step.
func Judge(ex *grading.Exercise, step string, parameters joint.Values, text string, units grading.Units) (Answer, error) {
	j, err := grading.GradeOne(ex, parameters, step, text, units)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Parameters: parameters, Key: j.Key, Verdict: j.Verdict, Slip: j.Pattern}
	if j.Reading != nil {
		a.Value, a.Half = j.Reading.Value, j.Reading.Half
	}
	return a, nil
}

// Pattern is an error pattern with the answers that show it.
type Pattern struct {
	ID, Detail string
	Says       string
	Answers    []int // places in Problem.Answers
}

const (
	// nearShare sets answers aside that lie so near the key that a slip of the
	// calculator or of the rule is likelier than a wrong formula.
	nearShare = 0.05
	// oftenEnough is how many answers make a pattern of the catalogue a fact
	// about the class, so that no other formula is sought for them.
	oftenEnough = 3
)

// sift counts what needs no search and gives the places of what is left.
func sift(answers []Answer) (right int, patterns []Pattern, left []int) {
	for i, a := range answers {
		switch {
		case a.Verdict == grading.Right:
			right++
		case a.Verdict == grading.Wrong && a.Slip != nil:
			patterns = noted(patterns, *a.Slip, i)
		}
	}
	slices.SortStableFunc(patterns, func(a, b Pattern) int {
		return cmp.Or(cmp.Compare(len(b.Answers), len(a.Answers)), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Detail, b.Detail))
	})
	explained := map[int]bool{}
	for _, p := range patterns {
		for _, i := range p.Answers {
			explained[i] = len(p.Answers) >= oftenEnough
		}
	}
	for i, a := range answers {
		if a.Verdict == grading.Wrong && !explained[i] && worthALook(a) {
			left = append(left, i)
		}
	}
	return right, patterns, left
}

func worthALook(a Answer) bool {
	off := math.Abs(a.Value - a.Key)
	return !math.IsInf(off, 0) && off > nearShare*math.Abs(a.Key) // false for NaN
}

func noted(patterns []Pattern, s grading.Slip, answer int) []Pattern {
	i := slices.IndexFunc(patterns, func(p Pattern) bool { return p.ID == s.ID && p.Detail == s.Detail })
	if i < 0 {
		i = len(patterns)
		patterns = append(patterns, Pattern{ID: s.ID, Detail: s.Detail, Says: s.Says})
	}
	patterns[i].Answers = append(patterns[i].Answers, answer)
	return patterns
}
