package grading

import (
	"math"
	"slices"
	"strings"

	"arrisbook/geom/joint"
)

// A number with few digits lies near one slip or another by chance alone, the
// sooner the more slips there are and the rougher it is written. So before a
// slip is named it is asked how many of the numbers round about would be
// explained as simply as this one: the part of the neighbourhood that lies
// within the written digits of this slip or of a simpler one. A slip is named
// only where that part is small; that bounds the accusations of numbers that
// mean nothing, on every step of every exercise. Where it is not small, nothing
// is named: the slips that come near stand beside as possible, and the reader
// is asked for one more digit.

// part is what is put up with for a single slip and for two together, of which
// there are always enough to use it up.
type part struct{ single, two float64 }

// How much depends on how finely a number is written: half of its last step, in
// millimetres or degrees. Numbers in tenths and rougher are told in weaker words.
var (
	fine   = part{0.01, 0.005}  // finer than a tenth
	tenths = part{0.045, 0.015} // in tenths
	rough  = part{0.25, 0.015}  // rougher: whole numbers, fractions of an inch
)

// inTenths is the half step of a number in tenths, with room for rounding.
const inTenths = 0.05

func (q *diagnosis) mostByChance() part {
	switch {
	case q.half < inTenths-1e-9:
		return fine
	case q.half <= inTenths+1e-9:
		return tenths
	}
	return rough
}

// guessed says that an answer cannot carry more than a guess: it is in tenths,
// or chance would do as well once in a hundred times. Of an area a tenth is
// fine.
func (q *diagnosis) guessed(chance float64) bool {
	coarse := q.half >= inTenths-1e-9 && q.d.unit != joint.MM2
	return coarse || chance > fine.single
}

// reach is half the width of the neighbourhood of an answer: half of what is
// measured or of what was written, whichever is more, and never so little that
// a few slips fill it.
func (q *diagnosis) reach() float64 {
	return max(math.Abs(q.right[q.d.slot])/2, math.Abs(q.answer)/2, 10*q.window)
}

// chance is the part of the answer's neighbourhood that slips as simple as one
// of those that fit explain; first is the simplest of these, -1 where only
// swapped digits fit. What lies within twice the tolerance of the right number
// is never called wrong and does not count.
//
// Copying a given down takes no formula at all, so it counts as simple as what
// is done to the answer, although it is named late: where something else gives
// the same number, that says more.
func (q *diagnosis) chance(first int) float64 {
	onAnswer := q.onAnswer()
	simple := func(i int) bool { return i < onAnswer || q.slips[i].copied }
	switch {
	case first < 0:
		return q.part(q.covered(func(i int) bool { return i < onAnswer }, true))
	case first < onAnswer:
		return q.part(q.covered(func(i int) bool { return i <= first }, false))
	case q.copies():
		return q.part(q.covered(simple, true))
	}
	return q.part(q.covered(func(i int) bool { return i <= first || simple(i) }, true))
}

// part is a length as a part of the neighbourhood.
func (q *diagnosis) part(covered float64) float64 { return covered / (2 * q.reach()) }

// copies says that a given copied down is among the slips that fit.
func (q *diagnosis) copies() bool {
	for i := range q.slips {
		if q.slips[i].copied && q.matches(q.values[i]) {
			return true
		}
	}
	return false
}

// covered is how much of the neighbourhood lies within the written digits of
// these slips, and of the swapped digits.
func (q *diagnosis) covered(these func(i int) bool, swaps bool) (covered float64) {
	reach := q.reach()
	low, high, key := q.answer-reach, q.answer+reach, q.right[q.d.slot]
	near := q.near[:0]
	add := func(v float64) {
		if v > low-q.window && v < high+q.window && math.Abs(v-key) > 2*q.tolerance {
			near = append(near, v)
		}
	}
	for i, v := range q.values {
		if these(i) {
			add(v) // what has no value is in no neighbourhood
		}
	}
	if swaps {
		for _, sw := range q.swaps {
			add(sw.value)
		}
	}
	q.near = near
	slices.Sort(near)
	end := low
	for _, v := range near {
		from, to := max(v-q.window, end), min(v+q.window, high)
		if to > from {
			covered, end = covered+to-from, to
		}
	}
	return covered
}

// onAnswer counts the slips that are simpler than swapped digits: those of the
// answer come first.
func (q *diagnosis) onAnswer() int {
	n := slices.IndexFunc(q.slips, func(s slip) bool { return !s.onAnswer })
	if n < 0 {
		return len(q.slips)
	}
	return n
}

const couldBe = "This could be the number you get if "

// weaker puts a hint as a guess. A hint that somebody wrote another way stays as
// it is: most of them ask a question.
func weaker(says string) string {
	if rest, ok := strings.CutPrefix(says, getIf); ok {
		return couldBe + rest
	}
	return says
}

// TooRough is the reason given with slips that are possible and none named.
const TooRough = "This number may come of a slip, but it is written too roughly to tell of which. Write one more digit."
