package grading

import (
	"fmt"
	"slices"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// Spec is an exercise as somebody writes it: plain texts. Whatever is left ""
// comes from the catalogue and from the formulas as they are taught.
// It survives JSON, so that a version of an exercise can be stored and made
// again.
type Spec struct {
	ID      string `json:"id"`
	Title   string `json:"title,omitempty"`
	Module  string `json:"module,omitempty"`
	Version int    `json:"version,omitempty"`
	// Family is "" for an exercise over its own givens.
	Family string      `json:"family,omitempty"`
	Givens []GivenSpec `json:"givens"`
	// InchGivens are the ranges for a class that works in inches; lengths
	// without a unit are inches there.
	InchGivens []GivenSpec `json:"inch_givens,omitempty"`
	Keep       []string    `json:"keep,omitempty"`
	// Steps left out asks every quantity of the family in teaching order.
	Steps    []StepSpec     `json:"steps,omitempty"`
	Harmless []HarmlessSpec `json:"harmless,omitempty"`
	Patterns []PatternSpec  `json:"patterns,omitempty"`
	// Allowances and Pairs are for exercises over their own givens; a family
	// brings its own.
	Allowances []string `json:"allowances,omitempty"`
	Pairs      []string `json:"pairs,omitempty"`
	// Explain names the section of the module that explains a slip, by pattern
	// id, or by "*" for every slip that has no section of its own.
	Explain map[string]string `json:"explain,omitempty"`
}

// GivenSpec is one given. For a family only ID and the range are needed.
type GivenSpec struct {
	ID     string `json:"id"`
	Name   string `json:"name,omitempty"`
	Symbol string `json:"symbol,omitempty"`
	Unit   string `json:"unit,omitempty"`
	Means  string `json:"means,omitempty"`
	// From, To and By are sizes such as "24", "1 1/4" or "15/16 in".
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
	By   string `json:"by,omitempty"`
	// Only lists the values instead.
	Only     []string `json:"only,omitempty"`
	Measured bool     `json:"measured,omitempty"`
}

// StepSpec is one asked number. For a family only ID is needed.
type StepSpec struct {
	ID      string `json:"id"`
	Name    string `json:"name,omitempty"`
	Symbol  string `json:"symbol,omitempty"`
	Unit    string `json:"unit,omitempty"`
	From    string `json:"from,omitempty"`
	Formula string `json:"formula,omitempty"`
	// Carries left out takes the earlier steps that the formula names.
	Carries []string `json:"carries,omitempty"`
	// Alone says that the step is not worked out from earlier answers.
	Alone     bool              `json:"alone,omitempty"`
	Follow    string            `json:"follow,omitempty"`
	Across    string            `json:"across,omitempty"`
	Tolerance string            `json:"tolerance,omitempty"`
	Skill     string            `json:"skill,omitempty"`
	View      string            `json:"view,omitempty"`
	Hints     map[string]string `json:"hints,omitempty"`
	// Explain is as in Spec, for this step; "pattern detail" is a key as well.
	Explain map[string]string `json:"explain,omitempty"`
}

// HarmlessSpec declares slips that may land near the key. Step "" is every
// step and Detail "*" every detail; NewExercise writes them out one by one.
type HarmlessSpec struct {
	Step    string `json:"step,omitempty"`
	Pattern string `json:"pattern"`
	Detail  string `json:"detail,omitempty"`
}

// PatternSpec is an instructor's own slip.
type PatternSpec struct {
	ID      string `json:"id"`
	Step    string `json:"step"`
	Says    string `json:"says,omitempty"`
	Hint    string `json:"hint,omitempty"`
	Formula string `json:"formula"`
}

// Fault is something wrong with a Spec. Path says where, as in
// "steps[3].formula" or "givens[0].from"; Col is the column in that text, from
// 1, or 0.
type Fault struct {
	Path string
	Col  int
	Msg  string
}

// Error gives path, column and message.
func (f Fault) Error() string {
	if f.Col > 0 {
		return fmt.Sprintf("%s, column %d: %s", f.Path, f.Col, f.Msg)
	}
	return f.Path + ": " + f.Msg
}

// NewExercise makes an exercise and finds everything wrong with it at once.
// The exercise is nil when there are faults.
func NewExercise(s Spec) (*Exercise, []Fault) {
	b := builder{spec: s, ex: &Exercise{
		ID: s.ID, Title: s.Title, Module: s.Module, Version: s.Version,
		Allowances: s.Allowances, Pairs: s.Pairs, Explain: s.Explain, spec: s,
	}}
	b.build()
	if len(b.faults) > 0 {
		return nil, b.faults
	}
	return b.ex, nil
}

// Spec gives back what the exercise was made from. The caller must not change
// it.
func (ex *Exercise) Spec() Spec { return ex.spec }

type builder struct {
	spec   Spec
	ex     *Exercise
	faults []Fault
}

func (b *builder) fault(path string, col int, format string, args ...any) {
	b.faults = append(b.faults, Fault{Path: path, Col: col, Msg: fmt.Sprintf(format, args...)})
}

// formulaFault keeps the column of a formula's error.
func (b *builder) formulaFault(path string, err error) {
	if e, ok := err.(*formula.Error); ok {
		b.fault(path, e.Col, "%s", e.Msg)
		return
	}
	b.fault(path, 0, "%s", err)
}

func (b *builder) build() {
	if b.spec.ID == "" {
		b.fault("id", 0, "The exercise needs an id.")
	}
	b.family()
	b.ex.Givens = b.givens("givens", b.spec.Givens, joint.MM)
	if len(b.spec.InchGivens) > 0 {
		b.ex.InchGivens = b.inchGivens()
	}
	b.steps()
	if len(b.faults) > 0 {
		return
	}
	b.patterns()
	b.explain()
	b.keep()
	b.checkFormulas()
	if len(b.faults) > 0 {
		return
	}
	b.model()
}

func (b *builder) family() {
	if b.spec.Family == "" {
		if len(b.spec.Allowances) == 0 {
			b.ex.Allowances = []string{"allowance", "kerf", "lap"}
		}
		return
	}
	f, ok := joint.Lookup(b.spec.Family)
	if !ok {
		b.fault("family", 0, "%s is not a family of the catalogue.", b.spec.Family)
		return
	}
	b.ex.Family = f
	b.ex.Allowances = append(slices.Clone(taught[f.ID].allowances), b.spec.Allowances...)
	b.ex.Pairs = append(slices.Clone(taught[f.ID].pairs), b.spec.Pairs...)
}
