package joint

import "math"

// Fit says what the submitted numbers would make on this blank. A quantity
// that was not submitted is taken as correct. The error is an *IDError where
// an id is unknown or carries no finite number. Numbers that no part can be
// made from give a Fit with a Trouble, the word failed, and without the
// consequences that have no value.
func (b *Blank) Fit(submitted Values) (Fit, error) {
	f := b.family
	known := func(id string) bool { _, ok := f.Quantity(id); return ok }
	if err := checkIDs(submitted, known, "is not a quantity of "+f.ID, f.quantityIDs()); err != nil {
		return Fit{}, err
	}
	q := b.asSubmitted(submitted)
	made := make([]Made, len(f.Consequences))
	fit := Fit{Parameters: b.layout.Parameters, Submitted: make(Values, len(submitted))}
	for id, x := range submitted {
		fit.Submitted[id] = x
	}
	fit.Trouble = b.fitInto(q, made)
	fit.Outcomes = make([]Outcome, 0, len(made))
	for i, m := range made {
		if m.Has {
			fit.Outcomes = append(fit.Outcomes, Outcome{Consequence: f.Consequences[i], Value: m.Value})
		}
	}
	fit.Word = b.word(made)
	return fit, nil
}

// word takes the fit word from the worst gap. Where a family has no gap, its
// errors are lengths that grow with the part, and nobody feels them as gaps:
// the word is then taken from the angle under which the worst of them is seen
// along the part, by the same limits in degrees. A number within its tolerance
// of a tenth of a degree is so tight, whatever the part's size.
func (b *Blank) word(made []Made) Word {
	f := b.family
	if f.seen == nil {
		gap, _, whole := f.worst(made)
		if !whole {
			return Failed
		}
		return WordOf(gap)
	}
	for _, m := range made {
		if !m.Has {
			return Failed
		}
	}
	return WordOf(f.seen(b.layout.Parameters, made))
}

// asSubmitted is the key with the submitted numbers in place of its own.
func (b *Blank) asSubmitted(submitted Values) Values {
	q := make(Values, len(b.family.Quantities))
	for id, x := range b.layout.Quantities {
		q[id] = x
	}
	for id, x := range submitted {
		q[id] = x
	}
	return q
}

// fitInto works out the consequences of q, with everything that came out
// unusable left without a value.
func (b *Blank) fitInto(q Values, made []Made) (trouble string) {
	clear(made)
	for _, par := range b.family.Parameters {
		if math.Abs(b.layout.Parameters[par.ID]) > far {
			return "A part of this size cannot be made."
		}
	}
	for _, x := range q {
		if math.Abs(x) > far {
			return "A part with such a number cannot be made."
		}
	}
	trouble = b.family.fit(b.layout.Parameters, q, made)
	for i := range made {
		m := &made[i]
		m.Value.Min, m.Value.Max = dustless(m.Value.Min), dustless(m.Value.Max)
		if math.IsNaN(m.Value.Min+m.Value.Max) || math.IsInf(m.Value.Max-m.Value.Min, 0) {
			*m = Made{}
		}
	}
	return trouble
}

// dustless puts 0 for what is only rounding: a million times less than the
// thinnest shaving.
func dustless(x float64) float64 {
	if math.Abs(x) < 1e-11 {
		return 0
	}
	return x
}

// worst is the largest gap, or interference, among the consequences that are
// gaps, and its place in the list. whole is false where one has no value.
func (f *Family) worst(made []Made) (gap float64, at int, whole bool) {
	at, whole = -1, true
	for i, c := range f.Consequences {
		if !c.Gap {
			continue
		}
		if !made[i].Has {
			whole = false
			continue
		}
		if g := max(made[i].Value.Max, -made[i].Value.Min); at < 0 || g > gap {
			gap, at = g, i
		}
	}
	return gap, at, whole
}

// Worst is the gap that gives the fit its word: the largest, or the deepest
// interference. ok is false where no gap has a value.
func (f Fit) Worst() (Outcome, bool) {
	var worst Outcome
	size, ok := 0.0, false
	for _, o := range f.Outcomes {
		if g := max(o.Value.Max, -o.Value.Min); o.Gap && (!ok || g > size) {
			worst, size, ok = o, g, true
		}
	}
	return worst, ok
}

// Outcome finds a consequence by id. ok is false where it has no value.
func (f Fit) Outcome(id string) (Outcome, bool) {
	for _, o := range f.Outcomes {
		if o.ID == id {
			return o, true
		}
	}
	return Outcome{}, false
}

// Consequences are the outcomes by id: a number, or a [Spread] for what has a
// smallest and a largest value over a face.
func (f Fit) Consequences() map[string]any {
	out := make(map[string]any, len(f.Outcomes))
	for _, o := range f.Outcomes {
		if o.Spread {
			out[o.ID] = o.Value
		} else {
			out[o.ID] = o.Value.Min
		}
	}
	return out
}
