package grading

import "arrisbook/grading/formula"

// A lesson holds the worked solution of one family: the closed forms as they
// are taught, in teaching order. The catalogue builds the same numbers from
// planes and points; a test holds the two against each other.
type lesson struct {
	family string
	forms  []form
	// possible holds the rules a joint must keep to be built at all, written
	// over givens and quantities. A student's own number is carried on only
	// where they still hold.
	possible []string
	// allowances are the givens that are left on or taken off for fitting.
	allowances []string
	// pairs are the givens that count both sides of something symmetric.
	pairs []string
}

// form is the formula of one quantity as it is taught.
type form struct {
	id, formula string
	// follow, where not "", is the same number written over an earlier answer,
	// for follow-through.
	follow string
	// when holds rules over givens without which the quantity has no value:
	// the second of one tail does not exist.
	when []string
	// across names the given that runs from the reference edge to the far
	// edge, for offsets that are measured from the reference edge.
	across string
}

// taught is the registry: one line a family.
var taught = map[string]lesson{
	"through-dovetail": throughDovetail,
	"lapped-dovetail":  lappedDovetail,
	"angled-lap":       angledLap,
	"unequal-mitre":    unequalMitre,
	"angled-tenon":     angledTenon,
	"head-scarf":       headScarf,
	"head-v-joint":     headVJoint,
	"splayed-leg":      splayedLeg,
	"splayed-box":      splayedBox,
	"coopered-vessel":  cooperedVessel,
	"hip-rafter":       hipRafter,
}

// TaughtOrder lists the quantities of a family in teaching order; nil where
// nothing is taught for it.
func TaughtOrder(family string) []string {
	var ids []string
	for _, f := range taught[family].forms {
		ids = append(ids, f.id)
	}
	return ids
}

// Taught gives the formula of a family's quantity as it is taught: over givens
// and other quantities.
func Taught(family, quantity string) (formula.Formula, bool) {
	for _, f := range taught[family].forms {
		if f.id == quantity {
			return formula.MustParse(f.formula), true
		}
	}
	return formula.Formula{}, false
}

// Exists says whether a family's quantity has a value at all with these
// givens, as far as the givens alone tell.
func Exists(family, quantity string, givens func(id string) (float64, bool)) bool {
	for _, c := range whenOf(family, quantity) {
		l, errL := c.L.Eval(givens)
		r, errR := c.R.Eval(givens)
		if errL != nil || errR != nil || !compares(l, c.Op, r) {
			return false
		}
	}
	return true
}

// whenOf lists the rules without which a family's quantity has no value. What
// is taught is checked by a test, so that every rule can be read.
func whenOf(family, quantity string) []Condition {
	var out []Condition
	for _, f := range taught[family].forms {
		if f.id != quantity {
			continue
		}
		for _, text := range f.when {
			if c, fault := parseCondition(text); fault == nil {
				out = append(out, c)
			}
		}
	}
	return out
}

// WrittenOut gives the formula of a family's quantity over givens alone.
func WrittenOut(family, quantity string) (formula.Formula, bool) {
	f, ok := Taught(family, quantity)
	if !ok {
		return f, false
	}
	return writeOut(f, func(id string) (formula.Formula, bool) { return Taught(family, id) }), true
}

// writeOut puts definitions in place of names until none is left. A formula
// that defines itself would never end, so it stops after as many rounds as a
// sensible chain is long; [NewExercise] has refused it before.
func writeOut(f formula.Formula, by func(string) (formula.Formula, bool)) formula.Formula {
	const longest = 64
	for range longest {
		more := false
		for _, id := range f.Names() {
			if _, ok := by(id); ok {
				more = true
			}
		}
		if !more {
			break
		}
		f = f.Substitute(by)
	}
	return f
}
