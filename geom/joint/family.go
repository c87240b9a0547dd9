package joint

// Family is one kind of joint. Build one with its own file and one line in
// the registry.
type Family struct {
	ID           string
	Title        string
	Summary      string // one sentence
	Parameters   []Parameter
	Quantities   []Quantity
	Consequences []Consequence
	// House is the blank that unreleased drawings are made from: nobody's own.
	House Values

	layout func(Values) Layout
	fit    func(Values, Values, Values) []Outcome // parameters, key, submitted
}

// Lookup finds a family by id.
func Lookup(id string) (*Family, bool) {
	for _, f := range families {
		if f.ID == id {
			return f, true
		}
	}
	return nil, false
}

// All lists the families in teaching order.
func All() []*Family { return families }

// families is the registry: one line a family.
var families = []*Family{}

// Parameter finds a parameter by id.
func (f *Family) Parameter(id string) (Parameter, bool) { panic("unwritten") }

// Quantity finds a quantity by id.
func (f *Family) Quantity(id string) (Quantity, bool) { panic("unwritten") }

// Layout builds the joint on a blank. The error is an *IDError where a
// parameter is missing, unknown or not a finite number; what is merely
// impossible to build comes back as Problems.
func (f *Family) Layout(parameters Values) (Layout, error) { panic("unwritten") }

// Fit builds the two parts from the submitted numbers, slides them together
// and says what stays apart. A quantity that was not submitted is taken as
// correct. Errors as for Layout.
func (f *Family) Fit(parameters, submitted Values) (Fit, error) { panic("unwritten") }

// Slack is how far one quantity may be off before a gap leaves a fit word.
type Slack struct {
	Quantity string
	// Deviation is the largest one, on the side that allows less, in the
	// quantity's unit.
	Deviation float64
	// Gap names the consequence that reaches the limit first.
	Gap string
}

// Slack finds the deviation of one quantity that just keeps every gap within
// the word, all other quantities being right. ok is false where no gap
// depends on the quantity (within the search range of 5 mm or 5 degrees).
func (f *Family) Slack(parameters Values, quantity string, w Word) (s Slack, ok bool, err error) {
	panic("unwritten")
}

// IDError says that an id is unknown, missing or carries no usable number.
type IDError struct {
	ID      string
	Reason  string // "is not a parameter of head-v-joint"
	Nearest string // the id that was probably meant, or ""
}

func (e *IDError) Error() string {
	s := e.ID + " " + e.Reason
	if e.Nearest != "" {
		s += ": did you mean " + e.Nearest + "?"
	}
	return s
}
