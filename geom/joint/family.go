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

	// layout builds the joint on a blank whose parameters are all there and of
	// a possible size. It sets the quantities that have a value and says what
	// is wrong with the blank.
	layout func(p Values, set func(id string, value float64)) (problems []string)
	// fit builds the parts from the quantities as submitted (the rest taken as
	// correct) and sets the consequences, in the order of Consequences, that
	// have a value. Trouble is a sentence, or "".
	fit func(p, q Values, out []Made) (trouble string)
	// seen gives what the word is taken from in a family that has no gap: its
	// worst error as it is seen along the part that is out, in degrees. nil in
	// families with gaps.
	seen func(p Values, made []Made) (degrees float64)
	// parts are the pieces of wood as fit builds and places them.
	parts func(p, q Values) (parts []Part, trouble string)
	// places says where on its faces the gaps are least and most; nil where
	// nobody asks.
	places func(p, q Values) map[string]Place
}

// Made is one consequence as a family works it out.
type Made struct {
	Value Spread
	// Has is false for a consequence that these numbers give no value.
	Has bool
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
func All() []*Family { return append([]*Family(nil), families...) }

// families is the registry: one line a family.
var families = []*Family{
	throughDovetail,
	lappedDovetail,
	angledLap,
	unequalMitre,
	angledTenon,
	headScarf,
	headVJoint,
	splayedLeg,
	splayedBox,
	cooperedVessel,
	hipRafter,
}

// Parameter finds a parameter by id.
func (f *Family) Parameter(id string) (Parameter, bool) {
	for _, p := range f.Parameters {
		if p.ID == id {
			return p, true
		}
	}
	return Parameter{}, false
}

// Quantity finds a quantity by id.
func (f *Family) Quantity(id string) (Quantity, bool) {
	for _, q := range f.Quantities {
		if q.ID == id {
			return q, true
		}
	}
	return Quantity{}, false
}

// Layout builds the joint on a blank. The error is an *IDError where a
// parameter is missing, unknown or not a finite number; what is merely
// impossible to build comes back as Problems.
func (f *Family) Layout(parameters Values) (Layout, error) {
	b, err := f.Prepare(parameters)
	if err != nil {
		return Layout{}, err
	}
	return b.layout, nil
}

// Fit builds the two parts from the submitted numbers, slides them together
// and says what stays apart. A quantity that was not submitted is taken as
// correct. Errors as for Layout.
func (f *Family) Fit(parameters, submitted Values) (Fit, error) {
	b, err := f.Prepare(parameters)
	if err != nil {
		return Fit{}, err
	}
	return b.Fit(submitted)
}

// Slack finds the deviation of one quantity that just keeps every gap within
// the word, all other quantities being right. ok is false where no gap
// depends on the quantity (within the search range of 5 mm or 5 degrees).
func (f *Family) Slack(parameters Values, quantity string, w Word) (s Slack, ok bool, err error) {
	b, err := f.Prepare(parameters)
	if err != nil {
		return Slack{}, false, err
	}
	return b.Slack(quantity, w)
}
