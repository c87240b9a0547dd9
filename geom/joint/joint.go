package joint

// Unit is the unit a number has at the boundary.
type Unit string

// The units of the catalogue.
const (
	MM  Unit = "mm"  // millimetres
	Deg Unit = "deg" // degrees
	MM2 Unit = "mm2" // square millimetres
	One Unit = "1"   // a plain number
)

// Values are numbers by id, in the units their ids have.
type Values map[string]float64

// Parameter is one given of a family: a size of the blank or of the design.
type Parameter struct {
	ID     string
	Name   string // "V length", for labels
	Symbol string // "L", for formulas and drawings
	Unit   Unit
	// Min and Max bound what is plausible at all; outside them a layout has a
	// named problem.
	Min, Max float64
	// Measured says that this is a size of the wood itself, which a student
	// may replace by what was measured.
	Measured bool
	// Whole says that this counts things: only whole numbers are possible.
	Whole bool
	Means string // one line, plain words
}

// Quantity is one number a student sets or marks.
type Quantity struct {
	ID     string
	Name   string
	Symbol string
	Unit   Unit
	Means  string // what it is, one line
	From   string // the datum: where it is measured from
}

// Consequence is one number of what the submitted values would make.
type Consequence struct {
	ID   string
	Name string // "near cheek"
	Unit Unit
	// Gap says that the fit word is taken from it.
	Gap bool
	// Spread says that it has a smallest and a largest value over a face.
	Spread bool
	Means  string // what it is, and what its sign says; one line
}

// Spread is the smallest and the largest value over a mating face.
type Spread struct {
	Min float64 `json:"min"`
	Max float64 `json:"max"`
}

// Layout is the joint as it should be on one blank.
type Layout struct {
	Parameters Values
	// Quantities leaves out what has no value on this blank.
	Quantities Values
	// Problems says in sentences why the blank is not possible; none: it is.
	Problems []string
}

// Buildable says whether the blank is possible at all.
func (l Layout) Buildable() bool { return len(l.Problems) == 0 }

// Outcome is one consequence with its value. Min and Max are equal unless the
// consequence is a spread.
type Outcome struct {
	Consequence
	Value Spread
}

// Fit is what submitted numbers would make at the bench.
type Fit struct {
	Parameters Values
	Submitted  Values
	// Outcomes leaves out what has no value.
	Outcomes []Outcome
	Word     Word
	// Trouble says in a sentence why the parts could not be made or put
	// together from these numbers; empty where they could.
	Trouble string
}
