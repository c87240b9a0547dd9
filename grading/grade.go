package grading

import "arrisbook/geom/joint"

// Verdict is what became of one answer.
type Verdict string

// The verdicts.
const (
	Right      Verdict = "right"
	Near       Verdict = "near"
	Follows    Verdict = "follows"
	Wrong      Verdict = "wrong"
	Unreadable Verdict = "unreadable"
	Blank      Verdict = "blank"
)

// Slip names an error pattern found in an answer.
type Slip struct {
	ID     string `json:"id"`
	Detail string `json:"detail"`
	// Says is one sentence: "this is the number you get if …", then a
	// question. It never holds a number.
	Says string `json:"says,omitempty"`
}

// StepResult is the judgement of one answer.
type StepResult struct {
	ID      string   `json:"id"`
	Given   string   `json:"given"`
	Reading *Reading `json:"reading"` // nil when blank or unreadable
	Verdict Verdict  `json:"verdict"`
	Pattern *Slip    `json:"pattern"`
	Also    []Slip   `json:"also"`
	// Reason says why an entry could not be read, or whose value a follows
	// verdict followed.
	Reason string `json:"reason,omitempty"`
}

// Result is the judgement of one attempt: what is stored and replayed.
type Result struct {
	Steps []StepResult `json:"steps"`
	Score int          `json:"score"` // steps right
	OutOf int          `json:"out_of"`
	Fit   *FitResult   `json:"fit,omitempty"`
}

// FitResult is how the numbers would close at the bench. Steps not answered
// (or unreadable) are taken as correct.
type FitResult struct {
	Consequences map[string]any `json:"consequences"` // number or joint.Spread
	Word         string         `json:"fit"`
}

// Grade judges an attempt. It is pure: the same exercise, sheet and answers
// always give the same result. Answers may hold any quantity of the family;
// asked steps without an answer come back blank.
func Grade(ex *Exercise, sheet Sheet, answers map[string]string, units Units) Result {
	panic("unwritten")
}

// Bands is the fit told without figures, for sheets whose key is not
// released: a band per gap consequence at its smallest and largest.
type Bands map[string]struct{ Least, Most joint.Word }
