package server

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// keyChange is what an instructor wants of a new key, step by step.
type keyChange struct {
	Why        string
	Tolerances map[string]float64 // all that are set, in mm and degrees
	Withdrawn  []string           // all that are not asked
	Formulas   map[string]string  // put right, as typed
	Slip       *grading.PatternSpec
	// Hint replaces what students read about one slip on one step.
	Hint *hintChange
}

type hintChange struct{ Step, Pattern, Detail, Text string }

// change gives the rules with a change made, what it changes in words that
// students read, and the faults of the exercise that would come of it.
func (r rules) change(c keyChange, units grading.Units) (rules, []store.KeyChange, []grading.Fault) {
	out := rules{no: r.no + 1, given: r.given, tolerances: c.Tolerances, withdrawn: c.Withdrawn, exercise: r.exercise}
	var says []store.KeyChange
	spec, touched := writtenOut(r.exercise), false
	spec.Patterns = slices.Clone(spec.Patterns)
	for i, st := range r.exercise.Steps {
		say := func(text string) { says = append(says, store.KeyChange{Step: st.ID, Says: st.Name + ": " + text}) }
		if text, ok := c.Formulas[st.ID]; ok && text != st.Formula.String() {
			spec.Steps[i], touched = reformulated(spec.Steps[i], text), true
			say("its formula was put right.")
		}
		if h := c.Hint; h != nil && h.Step == st.ID {
			spec.Patterns = h.rehint(&spec.Steps[i], spec.Patterns)
			touched = true
			say("a hint was written anew.")
		}
		if p := c.Slip; p != nil && p.Step == st.ID {
			spec.Patterns, touched = append(spec.Patterns, *p), true
			say("one more slip is known by name now.")
		}
		was, hadOwn := r.tolerances[st.ID]
		switch now, own := c.Tolerances[st.ID]; {
		case own && (!hadOwn || was != now):
			say("right within " + toleranceText(now, st.Unit, units) + " now.")
		case hadOwn && !own:
			say("the tolerance that follows from the fit counts again.")
		}
		switch gone, goes := slices.Contains(r.withdrawn, st.ID), slices.Contains(c.Withdrawn, st.ID); {
		case goes && !gone:
			text := "withdrawn. It is not asked any more and counts for nothing."
			if i < len(r.exercise.Steps)-1 {
				text += " The numbers after it move up."
			}
			say(text)
		case gone && !goes:
			say("asked again, and counts again.")
		}
	}
	if !touched {
		return out, says, nil
	}
	ex, faults := grading.NewExercise(spec)
	if len(faults) == 0 {
		out.exercise = ex
	}
	return out, says, faults
}

// reformulated is a step with another formula: it carries on from the earlier
// steps that the formula names.
func reformulated(st grading.StepSpec, text string) grading.StepSpec {
	st.Formula, st.Carries, st.Follow, st.Alone = text, nil, "", false
	return st
}

// rehint puts a hint in place: of an instructor's own slip in the slip, of a
// known one in the step.
func (h hintChange) rehint(st *grading.StepSpec, own []grading.PatternSpec) []grading.PatternSpec {
	for i, p := range own {
		if p.ID == h.Pattern && p.Step == h.Step {
			own[i].Says, own[i].Hint = h.Text, ""
			return own
		}
	}
	st.Hints = maps.Clone(st.Hints)
	if st.Hints == nil {
		st.Hints = map[string]string{}
	}
	st.Hints[strings.TrimSpace(h.Pattern+" "+h.Detail)] = h.Text
	return own
}

// plan makes a key out of rules and a change.
func (r rules) plan(class store.Class, c keyChange) (keyPlan, []grading.Fault, error) {
	to, says, faults := r.change(c, unitsOf(class))
	p := keyPlan{class: class, from: r, rules: to}
	if len(faults) > 0 {
		return p, faults, nil
	}
	spec, err := json.Marshal(writtenOut(to.exercise))
	if err != nil {
		return p, nil, fmt.Errorf("write down exercise %s: %w", to.exercise.ID, err)
	}
	p.key = store.Key{Spec: spec, Tolerances: to.tolerances, Withdrawn: to.withdrawn, Changes: says, Why: c.Why}
	return p, nil, nil
}

// planBack makes the key that takes the newest one back: before are the rules
// of the one before it.
func (r rules) planBack(class store.Class, before rules) (keyPlan, error) {
	spec, err := json.Marshal(writtenOut(before.exercise))
	if err != nil {
		return keyPlan{}, fmt.Errorf("write down exercise %s: %w", before.exercise.ID, err)
	}
	undone := r.no
	to := before
	to.no = r.no + 1
	return keyPlan{class: class, from: r, rules: to, leave: leaveStays, key: store.Key{
		Spec: spec, Tolerances: before.tolerances, Withdrawn: before.withdrawn, Undoes: &undone,
		Changes: []store.KeyChange{}, Why: "The change before it was taken back.",
	}}, nil
}

// fixed says that a step's right number is built by the catalogue, so that no
// formula changes it.
func fixed(ex *grading.Exercise, step string) bool {
	if ex.Family == nil {
		return false
	}
	_, ok := ex.Family.Quantity(step)
	return ok
}

// toleranceText writes a tolerance in the class's units, as it can be read
// back.
func toleranceText(t float64, unit joint.Unit, units grading.Units) string {
	return strings.TrimSuffix(strings.TrimPrefix(withinText(grading.SheetStep{Tolerance: t, Unit: unit}, units), "Within "), ".")
}
