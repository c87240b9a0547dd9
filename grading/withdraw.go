package grading

import "slices"

// Withdraw gives the sheet without the steps named: they are not asked any
// more and count for nothing. What was written for them stays good for one
// thing: numbers that were worked out from it still follow from it. Steps that
// the sheet does not ask are passed over; the sheet given in is not changed.
func Withdraw(sheet Sheet, steps []string) Sheet {
	out := sheet
	out.Steps, out.Withdrawn = make([]SheetStep, 0, len(sheet.Steps)), slices.Clone(sheet.Withdrawn)
	for _, s := range sheet.Steps {
		if slices.Contains(steps, s.ID) {
			out.Withdrawn = append(out.Withdrawn, s.ID)
			continue
		}
		out.Steps = append(out.Steps, s)
	}
	return out
}

// readWithdrawn reads the withdrawn numbers that a step carries on from, and
// those that they carry on from in turn. Their verdict is nobody's business.
func (j *judge) readWithdrawn(d *definition, answers map[string]string) {
	if len(j.withdrawn) == 0 {
		return
	}
	for _, s := range d.carried {
		w := &j.m.defs[j.m.bySlot[s]]
		if !slices.Contains(j.withdrawn, w.id) || j.read[s] {
			continue
		}
		j.readWithdrawn(w, answers)
		j.step(w, 0, plainTolerance, answers[w.id])
	}
}
