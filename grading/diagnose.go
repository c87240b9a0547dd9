package grading

import (
	"math"
	"slices"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// diagnosis is the search for the slips behind one wrong number.
type diagnosis struct {
	*judge
	d         *definition
	answer    float64
	half      float64 // of the last step written
	window    float64 // the answer stands for everything within this of it
	tolerance float64
	slips     []slip
	values    []float64 // of the slips on this blank
	swapped   Slip      // two digits changed round that give the answer; no id for none
	// named and beside are what was found: named has no id where nothing was,
	// and takes its place among the others where it cannot be told from chance.
	named Slip
	why   string
	// goesOn says whose numbers a slip was made with, where they were not the
	// right ones.
	goesOn string
}

// diagnose finds the slips that give a wrong number: the simplest is named, the
// others go beside it. What chance would explain as well is not named at all.
//
// carried is whose earlier values the step goes on from, nil for nobody's; the
// numbers it then leads to stand in j.trial.
func (j *judge) diagnose(d *definition, reading Reading, text string, tolerance float64, carried []source, r *StepResult) {
	q := diagnosis{
		judge: j, d: d, answer: reading.Value, half: reading.Half, window: min(reading.Half, tolerance), tolerance: tolerance,
		slips: j.m.slips[j.m.bySlot[d.slot]],
	}
	j.values = slices.Grow(j.values[:0], len(q.slips))[:len(q.slips)]
	j.beside, q.values = j.beside[:0], j.values
	first := q.likestFit(q.run(), reading)
	q.findSwapped(reading, text)
	switch {
	case q.swapped.ID != "" && (first < 0 || !q.slips[first].onAnswer):
		q.named = q.swapped
		q.besideNamed(first)
		q.settle(q.chance(-1))
		q.keepFits(r)
	case first >= 0:
		q.named = q.slips[first].slip()
		if q.swapped.ID != "" {
			q.addBeside(q.swapped)
		}
		q.besideNamed(first)
		q.settle(q.chance(first))
		q.keepFits(r)
	default:
		q.rest(reading, carried)
	}
	q.give(r)
}

// give puts what was found into the result.
func (q *diagnosis) give(r *StepResult) {
	r.Reason = q.why + q.goesOn
	from := len(q.kept)
	if q.named.ID != "" {
		q.kept = append(q.kept, q.named)
	}
	q.kept = append(q.kept, q.beside...)
	found := q.kept[from:len(q.kept):len(q.kept)]
	switch {
	case len(found) == 0:
	case q.why != "":
		r.Also = found
	default:
		r.Pattern, r.Also = &found[0], found[1:]
	}
}

// keepFits keeps what the weighing needs.
func (q *diagnosis) keepFits(r *StepResult) {
	from := len(q.fitting)
	for i, v := range q.values {
		if q.matches(v) {
			q.fitting = append(q.fitting, i)
		}
	}
	r.fit.slips = q.fitting[from:len(q.fitting):len(q.fitting)]
	r.fit.swap, r.fit.chance = q.swapped, min(1, q.window/q.reach())
}

// run works the slips out on this blank and gives the first that leads to the
// answer, -1 for none.
func (q *diagnosis) run() int {
	first := -1
	for i := range q.slips {
		q.values[i] = q.eval(&q.slips[i].prog)
		if first < 0 && q.matches(q.values[i]) {
			first = i
		}
	}
	return first
}

// likestFit chooses among the slips that give the answer of a working the first
// that has its form: who writes atan(40/18) inverted a ratio, whatever else
// comes to the same number.
func (q *diagnosis) likestFit(first int, reading Reading) int {
	if first < 0 || reading.Working == "" {
		return first
	}
	for i := first; i < len(q.slips); i++ {
		if !q.matches(q.values[i]) {
			continue
		}
		if l, ok := q.likest(reading.Working, q.slips[i].tree); ok && l.wrong == 0 && len(l.own) == 0 {
			return i
		}
	}
	return first
}

// ofForm finds the first slip whose form working has, and which it comes near
// in spite of numbers that are rounded on the way; -1 for none.
func (q *diagnosis) ofForm(reading Reading) int {
	if reading.Working == "" {
		return -1
	}
	for i := range q.slips {
		if !within(math.Abs(q.values[i]-q.answer), q.tolerance, q.answer) {
			continue
		}
		if _, isName := q.slips[i].tree.(formula.Name); isName {
			continue // a number alone has no form
		}
		if l, ok := q.likest(reading.Working, q.slips[i].tree); ok && l.wrong == 0 && len(l.own) == 0 {
			return i
		}
	}
	return -1
}

func (q *diagnosis) matches(v float64) bool {
	return within(math.Abs(v-q.answer), q.window, q.answer)
}

// settle takes the name back from a slip that chance explains as well, and puts
// one in weaker words that the answer is too rough to tell for sure.
func (q *diagnosis) settle(chance float64) {
	switch {
	case chance > q.mostByChance().single:
		q.onlyPossible()
	case q.guessed(chance):
		q.named.Says = weaker(q.named.Says)
	}
}

// onlyPossible names none of what was found.
func (q *diagnosis) onlyPossible() { q.named.Says, q.why = "", TooRough }

// besideNamed puts the slips that give the same number beside the one named;
// first is the simplest of the list that fits, -1 for none.
func (q *diagnosis) besideNamed(first int) {
	for i := range q.slips {
		if !finite(q.values[i]) {
			continue
		}
		near := first >= 0 && within(math.Abs(q.values[i]-q.values[first]), q.tolerance, q.values[i])
		if near || q.matches(q.values[i]) {
			q.addBeside(q.slips[i].slip())
		}
	}
}

// rest looks at what no single slip explains: working of the form of a slip
// with rounded numbers in it, working of the right form, or two slips together.
func (q *diagnosis) rest(reading Reading, carried []source) {
	if i := q.ofForm(reading); i >= 0 {
		q.named = q.slips[i].slip()
		return
	}
	if q.why = q.ofWorking(q.d, reading); q.why != "" && q.why != OtherForm {
		return
	}
	if carried != nil && q.onOwn() {
		q.goesOn, q.why = "It goes on from "+q.whose(carried)+".", ""
		return
	}
	found, chance, ok := q.paired()
	if len(found) == 0 {
		return
	}
	q.why = ""
	q.named = found[0].slip()
	for _, p := range found {
		q.addBeside(p.slip())
		for _, second := range p.also {
			q.addBeside(second)
		}
	}
	if ok {
		q.settle(chance)
	} else {
		q.onlyPossible()
	}
}

// onOwn looks for a slip made on the way on from the student's own earlier
// numbers. The numbers that lead to are more than a sheet usually has, so
// chance is asked over both lots.
func (q *diagnosis) onOwn() bool {
	n, found := len(q.values), -1
	for i := range q.slips {
		v := q.slips[i].prog.run(q.trial)
		if same(v, q.values[i]) {
			v = math.NaN() // it says nothing of the student's own numbers
		}
		q.values = append(q.values, v)
		if found < 0 && q.matches(v) {
			found = i
		}
	}
	chance := 1.0
	if found >= 0 {
		chance = q.part(q.covered(func(i int) bool { return i <= n+found }, true))
	}
	q.values = q.values[:n]
	if chance > q.mostByChance().single {
		return false
	}
	q.named = q.slips[found].slip()
	q.settle(chance)
	return true
}

// addBeside keeps each slip once. The page speaks of the one that is named, and
// asks which of them it was, so the others say nothing.
func (q *diagnosis) addBeside(s Slip) {
	known := func(o Slip) bool { return o.ID == s.ID && o.Detail == s.Detail }
	if !known(q.named) && !slices.ContainsFunc(q.beside, known) {
		s.Says = ""
		q.beside = append(q.beside, s)
	}
}

func (s *slip) slip() Slip { return Slip{ID: s.id, Detail: s.detail, Says: s.says} }

// findSwapped finds two digits of the key changed round, written with as many
// decimals as the answer, in millimetres or inches.
func (q *diagnosis) findSwapped(reading Reading, text string) {
	q.swaps = q.swaps[:0]
	decimals, ok := writtenDecimals(text)
	if !ok || reading.Working != "" {
		return
	}
	key := q.right[q.d.slot]
	q.swaps = swaps(key, decimals, q.swaps)
	n := len(q.swaps)
	if q.d.unit == joint.MM {
		q.swaps = swaps(key/inch, decimals, q.swaps)
	}
	for i, sw := range q.swaps {
		v := sw.value
		if i >= n {
			v = float64(v * inch)
		}
		if same(v, reading.Value) {
			q.swapped = Slip{ID: digitsSwapped, Detail: sw.detail(), Says: q.d.hint(digitsSwapped, sw.detail(), saysDigitsSwapped)}
			break
		}
	}
	q.swaps = q.swaps[:n]
}
