package grading

import (
	"math"
	"slices"

	"arrisbook/geom/joint"
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
	swaps     []swap    // of the key's digits, written as the answer is
}

// diagnose finds the slips that give a wrong number: the simplest is named, the
// others go beside it. What chance would explain as well is not named at all.
func (j *judge) diagnose(d *definition, reading Reading, text string, tolerance float64, r *StepResult) {
	q := diagnosis{
		judge: j, d: d, answer: reading.Value, half: reading.Half, window: min(reading.Half, tolerance), tolerance: tolerance,
		slips: j.m.slips[j.m.bySlot[d.slot]],
	}
	j.values = slices.Grow(j.values[:0], len(q.slips))[:len(q.slips)]
	q.values = j.values
	first := q.run()
	swapped, isSwap := q.swapped(reading, text)
	r.fit.swap = swapped
	switch {
	case isSwap && (first < 0 || !q.slips[first].onAnswer):
		r.Pattern = &swapped
		if first >= 0 {
			r.Also = append(r.Also, q.slips[first].slip())
		}
		q.beside(first, r)
		q.settle(r, q.chance(q.onAnswer(), true))
	case first >= 0:
		named := q.slips[first].slip()
		r.Pattern = &named
		if isSwap {
			r.Also = append(r.Also, swapped)
		}
		q.beside(first, r)
		q.settle(r, q.chance(first+1, !q.slips[first].onAnswer))
	default:
		q.rest(reading, r)
		return
	}
	q.keepFits(r)
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
	r.fit.chance = min(1, q.window/q.reach())
}

// run works the slips out on this blank and gives the first that leads to the
// answer, -1 for none.
func (q *diagnosis) run() int {
	first := -1
	for i := range q.slips {
		q.values[i] = q.slips[i].prog.run(q.right)
		if first < 0 && q.matches(q.values[i]) {
			first = i
		}
	}
	return first
}

func (q *diagnosis) matches(v float64) bool {
	return within(math.Abs(v-q.answer), q.window, q.answer)
}

// settle takes the name back from a slip that chance explains as well, and puts
// one in weaker words that the answer is too rough to tell for sure.
func (q *diagnosis) settle(r *StepResult, chance float64) {
	switch {
	case chance > q.mostByChance().single:
		r.possible()
	case q.guessed(chance):
		r.Pattern.Says = weaker(r.Pattern.Says)
	}
}

// possible puts the slip that was named beside the others: none is named.
func (r *StepResult) possible() {
	first := *r.Pattern
	first.Says = ""
	r.Pattern, r.Reason = nil, TooRough
	r.Also = slices.Insert(r.Also, 0, first)
	for i := range r.Also {
		r.Also[i].Says = ""
	}
}

// beside puts the slips that give the same number beside the one named.
func (q *diagnosis) beside(first int, r *StepResult) {
	for i := range q.slips {
		if i == first || !finite(q.values[i]) {
			continue
		}
		near := first >= 0 && within(math.Abs(q.values[i]-q.values[first]), q.tolerance, q.values[i])
		if near || q.matches(q.values[i]) {
			r.addAlso(q.slips[i].slip())
		}
	}
}

// rest looks at what no single slip explains: working of the right form, or
// two slips together.
func (q *diagnosis) rest(reading Reading, r *StepResult) {
	if r.Reason = q.rightForm(q.d, reading); r.Reason != "" {
		return
	}
	found, chance, ok := q.paired()
	if len(found) == 0 {
		return
	}
	named := found[0].slip()
	r.Pattern, r.Also = &named, append(r.Also, found[0].also...)
	for _, p := range found[1:] {
		r.addAlso(p.slip())
		for _, second := range p.also {
			r.addAlso(second)
		}
	}
	if ok {
		q.settle(r, chance)
	} else {
		r.possible()
	}
}

// addAlso keeps each slip once.
func (r *StepResult) addAlso(s Slip) {
	known := func(o Slip) bool { return o.ID == s.ID && o.Detail == s.Detail }
	if !known(*r.Pattern) && !slices.ContainsFunc(r.Also, known) {
		s.Says = "" // the page speaks of one, and asks which of them it was
		r.Also = append(r.Also, s)
	}
}

func (s *slip) slip() Slip { return Slip{ID: s.id, Detail: s.detail, Says: s.says} }

// swapped finds two digits of the key changed round, written with as many
// decimals as the answer, in millimetres or inches.
func (q *diagnosis) swapped(reading Reading, text string) (Slip, bool) {
	decimals, ok := writtenDecimals(text)
	if !ok || reading.Working != "" {
		return Slip{}, false
	}
	for _, scale := range [2]float64{1, inch} {
		if scale == inch && q.d.unit != joint.MM {
			break
		}
		all := swaps(q.right[q.d.slot]/scale, decimals)
		if scale == 1 {
			q.swaps = all
		}
		for _, sw := range all {
			if same(float64(sw.value*scale), reading.Value) {
				return Slip{ID: digitsSwapped, Detail: sw.detail(), Says: q.d.hint(digitsSwapped, sw.detail(), saysDigitsSwapped)}, true
			}
		}
	}
	return Slip{}, false
}
