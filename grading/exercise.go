package grading

import (
	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// Exercise is one version of an exercise as a lesson module states it.
type Exercise struct {
	ID      string
	Version int // of the module that states it
	Title   string
	Module  string        // the module's id
	Family  *joint.Family // nil for an exercise over its own givens
	Givens  []Given       // in display order
	// InchGivens replaces the ranges for a class that works in inches.
	InchGivens []Given
	Keep       []Condition
	Steps      []Step
	Harmless   []Harmless
	Patterns   []OwnPattern
	// Allowances lists the givens that are left on or taken off for fitting.
	Allowances []string
	// Pairs lists the givens that count both sides of something symmetric.
	Pairs []string
	// Explain names the section of the module that explains a slip, by pattern
	// id, or by "*" for every slip that has no section of its own.
	Explain map[string]string

	spec  Spec   // what NewExercise made it from
	model *model // made by NewExercise; made afresh where it is missing
}

// Given is one given with the range it is drawn from, in its own unit.
type Given struct {
	joint.Parameter
	From, To, By float64
	// Only, when not empty, lists the values instead.
	Only []float64
}

// Condition is a keep rule: L op R with op one of < <= > >=, over parameters
// and quantities.
type Condition struct {
	L, R formula.Formula
	Op   string
	Text string
}

// Step is one asked number.
type Step struct {
	ID      string // the quantity's id
	Name    string // "Half angle"
	Symbol  string
	Unit    joint.Unit
	From    string // datum line under the label
	Formula formula.Formula
	// Carries lists the earlier steps this one builds on; follow-through
	// recomputes it from the student's own values of these.
	Carries []string
	// Follow is the formula written over those, where Formula is not.
	Follow formula.Formula
	// Across names the given that runs from the reference edge to the far edge,
	// for offsets from the reference edge.
	Across string
	// Tolerance, when > 0, replaces the tolerance from the fit.
	Tolerance float64
	Skill     string
	// View names the drawing that shows the step: "head", "joined" or "neck".
	View string
	// Hints replaces a pattern's hint on this step, by pattern id, or by id and
	// detail: "double", "other-quantity half_angle".
	Hints map[string]string
	// Explain is as in Exercise, for this step, by pattern id, by id and
	// detail, or by "*".
	Explain map[string]string
}

// Harmless declares that a pattern may land near the key on a step.
type Harmless struct{ Step, Pattern, Detail string }

// OwnPattern is a slip an instructor added: a formula with a name and a hint.
type OwnPattern struct {
	ID, Step, Says, Hint string
	Formula              formula.Formula
}

// Units is how a class writes lengths.
type Units string

// The two ways.
const (
	Millimetres Units = "mm"
	Inches      Units = "inch"
)

// Shop is what a class's room allows: it decides ranges and tolerances.
type Shop struct {
	Units Units
	Word  joint.Word // gaps must keep this word
	// LengthStep and AngleStep are the finest settings of the tools, mm and
	// degrees. A tolerance is never below half of them.
	LengthStep, AngleStep float64
	// LengthMost and AngleMost cap a tolerance.
	LengthMost, AngleMost float64
}

// DefaultShop is the default shop: calliper 0.1 mm, protractor 0.1 degree,
// tight joints.
func DefaultShop() Shop {
	return Shop{Units: Millimetres, Word: joint.Tight, LengthStep: 0.1, AngleStep: 0.1, LengthMost: 0.25, AngleMost: 0.25}
}

// Sheet is the concrete instance of an exercise that one student gets and that
// is stored: nothing that happens to the exercise later changes it.
type Sheet struct {
	Exercise   string       `json:"exercise"`
	Version    int          `json:"version"`
	Seed       uint64       `json:"seed"`
	Parameters joint.Values `json:"parameters"`
	Steps      []SheetStep  `json:"steps"`
	// Withdrawn are steps that were asked once and count no more; see Withdraw.
	Withdrawn []string `json:"withdrawn,omitempty"`
}

// SheetStep is one asked number with the tolerance it is judged by.
type SheetStep struct {
	ID        string     `json:"id"`
	Unit      joint.Unit `json:"unit"`
	Tolerance float64    `json:"tolerance"`
	Why       string     `json:"why"` // the reason for the tolerance, a sentence without figures that give the key
	// Undiagnosed says that on this wood some slip lands too near the key to
	// be told from a right answer.
	Undiagnosed bool `json:"undiagnosed,omitempty"`
}
