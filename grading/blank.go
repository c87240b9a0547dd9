package grading

import (
	"fmt"
	"math"

	"arrisbook/geom/joint"
)

// OnBlank makes the sheet of a given blank (as measured, or typed): key and
// tolerances follow the blank. A step that cannot be diagnosed on it is marked,
// a step without a value on it is left out. The blank need not be buildable:
// ask the family's Layout where that matters. The error says which given is
// missing or unknown.
func OnBlank(ex *Exercise, parameters joint.Values, shop Shop) (Sheet, error) {
	m, err := ex.ready()
	if err != nil {
		return Sheet{}, err
	}
	if err := m.checkBlank(ex, parameters); err != nil {
		return Sheet{}, err
	}
	vals, blank := m.rightValues(ex, parameters)
	sheet := Sheet{Exercise: ex.ID, Version: ex.Version, Parameters: make(joint.Values, m.givens)}
	for _, id := range m.names[:m.givens] {
		sheet.Parameters[id] = parameters[id]
	}
	for _, s := range ex.Steps {
		d, _ := m.def(s.ID)
		if !finite(vals[d.slot]) {
			continue
		}
		t, why := m.tolerance(ex, blank, sheet.Parameters, d, shop)
		off, _ := m.nearestSlip(ex, d, vals)
		sheet.Steps = append(sheet.Steps, SheetStep{
			ID: s.ID, Unit: s.Unit, Tolerance: t, Why: why, Undiagnosed: !tellable(off, t),
		})
	}
	return sheet, nil
}

// checkBlank makes sure that every given is there and nothing else.
func (m *model) checkBlank(ex *Exercise, parameters joint.Values) error {
	if ex.Family != nil {
		_, err := ex.Family.Layout(parameters)
		return err
	}
	for id, v := range parameters {
		if s, ok := m.slots[id]; !ok || s >= m.givens {
			return &joint.IDError{ID: id, Reason: "is not a given of " + ex.ID}
		}
		if !finite(v) {
			return &joint.IDError{ID: id, Reason: "is not a number"}
		}
	}
	for _, id := range m.names[:m.givens] {
		if _, ok := parameters[id]; !ok {
			return &joint.IDError{ID: id, Reason: "is missing"}
		}
	}
	return nil
}

// MeasuredRange is how far the wood may differ from the blank that was handed
// out, in millimetres: more than that is another blank or a slip of the rule.
const MeasuredRange = 3.0

// OnMeasured makes the sheet of a student's own wood. Only sizes of the wood
// itself may differ from the sheet, each by MeasuredRange at most, and the
// joint must still be possible. The error is an *InputError with the field and
// a sentence for the student.
func OnMeasured(ex *Exercise, sheet Sheet, measured joint.Values, shop Shop) (Sheet, error) {
	blank := make(joint.Values, len(sheet.Parameters))
	for id, v := range sheet.Parameters {
		blank[id] = v
	}
	for _, p := range ex.parameters() {
		v, ok := measured[p.ID]
		if !ok || v == blank[p.ID] {
			continue
		}
		switch {
		case !p.Measured:
			return Sheet{}, &InputError{Field: p.ID, Reason: p.Name + " belongs to the design, not to the wood: it stays as it is."}
		case !finite(v) || math.Abs(v-blank[p.ID]) > MeasuredRange:
			return Sheet{}, &InputError{Field: p.ID, Reason: fmt.Sprintf("%s differs by more than %s from your blank: measure again, or ask for another blank.",
				p.Name, shop.written(MeasuredRange, joint.MM))}
		}
		blank[p.ID] = v
	}
	if ex.Family != nil {
		l, err := ex.Family.Layout(blank)
		if err != nil {
			return Sheet{}, err
		}
		if !l.Buildable() {
			return Sheet{}, &InputError{Field: "blank", Reason: l.Problems[0]}
		}
	}
	out, err := OnBlank(ex, blank, shop)
	out.Seed = sheet.Seed
	return out, err
}

// Key gives the right value of every step and, for a family, of every other
// quantity that has a value. Where the family does not know the blank's givens
// it is empty.
func Key(ex *Exercise, parameters joint.Values) joint.Values {
	out := joint.Values{}
	m, err := ex.ready()
	if err != nil {
		return out
	}
	vals, _ := m.rightValues(ex, parameters)
	for i := range m.defs {
		if v := vals[m.defs[i].slot]; finite(v) {
			out[m.defs[i].id] = v
		}
	}
	return out
}

// rightValues fills the slots: quantities of the catalogue as built from
// planes and points, the others by their formulas. The blank is nil without a
// family, or where the family cannot take these givens.
func (m *model) rightValues(ex *Exercise, parameters joint.Values) ([]float64, *joint.Blank) {
	vals := m.values(parameters)
	if ex.Family == nil {
		return vals, nil
	}
	blank, err := ex.Family.Prepare(parameters)
	if err != nil {
		return vals, nil
	}
	built := blank.Layout().Quantities
	for i := range m.defs {
		d := &m.defs[i]
		if _, ok := quantityOf(ex.Family, d.id); !ok {
			continue
		}
		v, ok := built[d.id]
		if !ok {
			v = math.NaN()
		}
		vals[d.slot] = v
	}
	return vals, blank
}
