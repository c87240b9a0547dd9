package grading

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
	// Reason says why an entry could not be read, whose value a follows verdict
	// followed or a slip was made with, how working differs from what is right,
	// or why no slip is named.
	Reason string `json:"reason,omitempty"`
	// Evidence is why Pattern stands before those in Also: [Weigh] writes it.
	Evidence []Evidence `json:"evidence,omitempty"`

	fit fits // for Weigh, and not kept
}

// fits are the slips of a step that give its answer: what Weigh goes by.
type fits struct {
	slips  []int // indexes into the step's slips
	swap   Slip  // digits changed round, "" for none
	chance float64
}

// Result is the judgement of one attempt: what is stored and replayed.
type Result struct {
	Steps []StepResult `json:"steps"`
	// Score counts the asked steps that are right or follow from the student's
	// own earlier numbers: a mistake counts once.
	Score int        `json:"score"`
	OutOf int        `json:"out_of"` // asked steps
	Fit   *FitResult `json:"fit,omitempty"`
}
