package grading

import (
	"fmt"
	"math"
	"slices"

	"arrisbook/geom/joint"
)

// Override gives the sheet with the tolerances that an instructor has set, by
// step id, in millimetres and degrees; the steps not named keep theirs, and a
// step that this sheet does not ask is passed over. Each says in its reason
// that it was set, and is looked at anew for slips that can no longer be told
// from a right answer. The sheet given in is not changed. The error is an
// *InputError with the step in Field.
//
// A sheet made anew ([OnBlank], [OnMeasured]) has the tolerances of the shop:
// what was set is put on again.
func Override(ex *Exercise, sheet Sheet, set map[string]float64, shop Shop) (Sheet, error) {
	m, err := ex.ready()
	if err != nil {
		return Sheet{}, err
	}
	vals, _ := m.rightValues(ex, sheet.Parameters)
	out := sheet
	out.Steps = make([]SheetStep, len(sheet.Steps))
	for i, s := range sheet.Steps {
		if t, isSet := set[s.ID]; isSet {
			if err := checkTolerance(s.ID, t, s.Unit, shop); err != nil {
				return Sheet{}, err
			}
			s.Tolerance, s.Why = t, "Your instructor has set "+shop.written(t, s.Unit)+" for this number."
			if d, ok := m.def(s.ID); ok {
				off, _ := m.nearestSlip(ex, d, vals)
				s.Undiagnosed = !tellable(off, t)
			}
		}
		out.Steps[i] = s
	}
	return out, nil
}

// mostSet is the widest tolerance that can be set, in mm or degrees: beyond it
// nothing is being judged any more.
const mostSet = 5.0

func checkTolerance(step string, t float64, u joint.Unit, shop Shop) error {
	wide := (u == joint.MM || u == joint.Deg) && t > mostSet
	switch {
	case !finite(t) || t <= 0:
		return &InputError{Field: step, Reason: "A tolerance is more than nothing: write a number such as " + shop.written(plainTolerance, u) + "."}
	case wide:
		return &InputError{Field: step, Reason: "A tolerance here goes up to " + shop.written(mostSet, u) + "."}
	}
	return nil
}

// Meaning is what a tolerance on one number means at the bench, on one blank,
// all other numbers being right. It is for the instructor: it holds figures
// that a student's page must not show before the key is released.
type Meaning struct {
	Tolerance float64
	// Word is the fit when the number is off by the whole tolerance, on the
	// side that does more harm. It is tight where nothing depends on it.
	Word joint.Word
	// Outcome is the consequence that is worst then, Size how large it is, in
	// the consequence's unit, without its sign. "" where the joint cannot be
	// put together at all, or nothing depends on the number.
	Outcome string
	Size    float64
	// Depends says that some consequence changes with the number.
	Depends bool
	// Hides names the slips whose result would no longer be called wrong,
	// simplest first; their Says is the sentence a student would have seen.
	Hides []Slip
	// Says is all of it in one or two sentences: "0.5° here lets the near
	// shoulder stand off up to 0.34 mm: open."
	Says string
}

// Means says what a tolerance on a step would mean on a sheet's blank. The
// error is an *InputError with the step in Field: a step the exercise does not
// have, or a tolerance that cannot be set.
func Means(ex *Exercise, sheet Sheet, step string, tolerance float64, shop Shop) (Meaning, error) {
	m, err := ex.ready()
	if err != nil {
		return Meaning{}, err
	}
	d, ok := m.def(step)
	if !ok {
		return Meaning{}, &InputError{Field: step, Reason: step + " is not a number of this exercise."}
	}
	if err := checkTolerance(step, tolerance, d.unit, shop); err != nil {
		return Meaning{}, err
	}
	vals, blank := m.rightValues(ex, sheet.Parameters)
	out := Meaning{Tolerance: tolerance, Hides: m.hidden(d, vals, tolerance)}
	if blank != nil {
		out.fit(blank, d.id, vals[d.slot])
	}
	out.Says = out.says(ex, d, shop)
	return out, nil
}

// hidden lists the slips that matter and land within twice the tolerance, one
// for each number they give.
func (m *model) hidden(d *definition, vals []float64, tolerance float64) []Slip {
	var out []Slip
	var seen []float64
	slips := m.slips[m.bySlot[d.slot]]
	for i := range slips {
		s := &slips[i]
		v := s.prog.run(vals)
		if s.harmless || !finite(v) || tellable(math.Abs(v-vals[d.slot]), tolerance) {
			continue
		}
		if !slices.ContainsFunc(seen, func(o float64) bool { return same(o, v) }) {
			seen, out = append(seen, v), append(out, s.slip())
		}
	}
	return out
}

// moves is the least change of a consequence that counts as one: above
// rounding, below any shaving.
const moves = 1e-9

// fit puts the joint together with the number off to either side.
func (mean *Meaning) fit(blank *joint.Blank, id string, key float64) {
	right, err := blank.Fit(nil)
	if err != nil || !finite(key) {
		return
	}
	for _, side := range [2]float64{1, -1} {
		off, err := blank.Fit(joint.Values{id: key + side*mean.Tolerance})
		if err != nil {
			return // no quantity of the family: nothing depends on it
		}
		worst, size, changed := worstChange(right, off)
		if !changed {
			continue
		}
		first := !mean.Depends
		mean.Depends = true
		if first || off.Word > mean.Word || off.Word == mean.Word && size > mean.Size {
			mean.Word, mean.Outcome, mean.Size = off.Word, worst, size
		}
	}
}

// worstChange finds the largest consequence among those that changed: the gaps
// where the family has any, else its errors. worst is "" where what changed has
// no value any more.
func worstChange(right, off joint.Fit) (worst string, size float64, changed bool) {
	before := map[string]joint.Spread{}
	gaps := false
	for _, o := range right.Outcomes {
		before[o.ID] = o.Value
		gaps = gaps || o.Gap
	}
	for _, o := range off.Outcomes {
		was, had := before[o.ID]
		delete(before, o.ID)
		if gaps && !o.Gap || !gaps && o.Unit != joint.MM {
			continue
		}
		if had && math.Abs(was.Min-o.Value.Min) < moves && math.Abs(was.Max-o.Value.Max) < moves {
			continue
		}
		changed = true
		if s := math.Max(math.Abs(o.Value.Min), math.Abs(o.Value.Max)); s > size {
			worst, size = o.ID, s
		}
	}
	for id := range before { // had a value, and has none now
		if o, ok := outcome(right, id); ok && (o.Gap || !gaps) {
			return "", 0, true
		}
	}
	return worst, size, changed
}

func outcome(f joint.Fit, id string) (joint.Outcome, bool) {
	for _, o := range f.Outcomes {
		if o.ID == id {
			return o, true
		}
	}
	return joint.Outcome{}, false
}

func (mean Meaning) says(ex *Exercise, d *definition, shop Shop) string {
	said := mean.saysFit(ex, shop.written(mean.Tolerance, d.unit), shop)
	if floor, _ := shop.limits(d.unit); mean.Tolerance < floor {
		said += " The class's tools set no finer than " + shop.written(floor, d.unit) + "."
	}
	switch n := len(mean.Hides); {
	case n == 1:
		said += " One known slip would then pass on this blank: " + clause(mean.Hides[0].Says) + "."
	case n > 1:
		said += fmt.Sprintf(" %d known slips would then pass on this blank, the first of them: %s.", n, clause(mean.Hides[0].Says))
	}
	return said
}

func (mean Meaning) saysFit(ex *Exercise, written string, shop Shop) string {
	switch {
	case ex.Family == nil:
		return "No joint is built from this number: how far off it may be is for you to say."
	case !mean.Depends:
		return "No gap depends on this number: with " + written + " the joint still closes."
	case mean.Outcome == "":
		return written + " here can keep the parts from going together at all: failed."
	}
	c, _ := consequenceOf(ex.Family, mean.Outcome)
	size := shop.gap(mean.Size)
	if !c.Gap || !c.Spread {
		return fmt.Sprintf("%s here lets the %s come to %s: %s.", written, midSentence(c.Name), size, mean.Word)
	}
	return fmt.Sprintf("%s here lets the %s stand off up to %s: %s.", written, midSentence(c.Name), size, mean.Word)
}

// gap is the size of a gap as an instructor reads it.
func (s Shop) gap(mm float64) string {
	if s.Units == Inches {
		return fmt.Sprintf("%.3f in", mm/inch)
	}
	return fmt.Sprintf("%.2f mm", mm)
}

func consequenceOf(f *joint.Family, id string) (joint.Consequence, bool) {
	for _, c := range f.Consequences {
		if c.ID == id {
			return c, true
		}
	}
	return joint.Consequence{}, false
}
