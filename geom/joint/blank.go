package joint

import "math"

// Blank is one blank of a family, laid out once: what many fits on the same
// wood start from. It may be used by several goroutines at once.
type Blank struct {
	family *Family
	layout Layout
}

// far is a size no workshop holds, in millimetres or degrees. Beyond it
// nothing is built, and what is built below it stays well inside what float64
// can carry.
const far = 1e6

// Prepare lays a blank out for many fits. Errors as for Layout.
func (f *Family) Prepare(parameters Values) (*Blank, error) {
	if err := f.checkParameters(parameters); err != nil {
		return nil, err
	}
	p := make(Values, len(f.Parameters))
	b := &Blank{family: f, layout: Layout{Parameters: p, Quantities: make(Values, len(f.Quantities))}}
	absurd := false
	for _, par := range f.Parameters {
		x := parameters[par.ID]
		p[par.ID] = x
		if text := implausible(par, x); text != "" {
			b.layout.Problems = append(b.layout.Problems, text)
		}
		absurd = absurd || math.Abs(x) > far
	}
	if absurd {
		return b, nil
	}
	set := func(id string, x float64) {
		if !math.IsNaN(x) && math.Abs(x) <= far {
			b.layout.Quantities[id] = x
		}
	}
	b.layout.Problems = append(b.layout.Problems, f.layout(p, set)...)
	return b, nil
}

// Layout is the joint as it should be on this blank. The caller must not
// change its maps.
func (b *Blank) Layout() Layout { return b.layout }

func (f *Family) checkParameters(v Values) error {
	known := func(id string) bool { _, ok := f.Parameter(id); return ok }
	if err := checkIDs(v, known, "is not a parameter of "+f.ID, f.parameterIDs()); err != nil {
		return err
	}
	for _, p := range f.Parameters {
		if _, ok := v[p.ID]; !ok {
			return &IDError{ID: p.ID, Reason: "is missing"}
		}
	}
	return nil
}

func (f *Family) parameterIDs() []string {
	ids := make([]string, len(f.Parameters))
	for i, p := range f.Parameters {
		ids[i] = p.ID
	}
	return ids
}

func (f *Family) quantityIDs() []string {
	ids := make([]string, len(f.Quantities))
	for i, q := range f.Quantities {
		ids[i] = q.ID
	}
	return ids
}

// implausible says in a sentence that a parameter is no sensible size, or "".
func implausible(p Parameter, x float64) string {
	switch {
	case x < p.Min && p.Min <= 0:
		return "The " + lower(p.Name) + " cannot be negative."
	case x <= 0 && p.Min > 0:
		return "The " + lower(p.Name) + " must be more than nothing."
	case x < p.Min:
		return "A " + lower(p.Name) + " under " + plain(p.Min, p.Unit) + " is too small to work with."
	case x > p.Max:
		return "A " + lower(p.Name) + " over " + plain(p.Max, p.Unit) + " is beyond what this joint is made in."
	case p.Whole && x != math.Trunc(x):
		return "The " + lower(p.Name) + " must be a whole number."
	}
	return ""
}
