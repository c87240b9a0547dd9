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

// chance is the part of the answer's neighbourhood that the first n slips
// explain, and the swapped digits where they count as simpler. What lies within
// twice the tolerance of the right number is never called wrong and does not
// count.
func (q *diagnosis) chance(n int, swaps bool) float64 {
	covered, reach := q.covered(n, swaps)
	return covered / (2 * reach)
}

// covered is the same as a length.
func (q *diagnosis) covered(n int, swaps bool) (covered, reach float64) {
	reach = q.reach()
	low, high, key := q.answer-reach, q.answer+reach, q.right[q.d.slot]
	near := q.near[:0]
	add := func(v float64) {
		if v > low-q.window && v < high+q.window && math.Abs(v-key) > 2*q.tolerance {
			near = append(near, v)
		}
	}
	for _, v := range q.values[:n] {
		add(v) // what has no value is in no neighbourhood
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
	return covered, reach
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
const TooRough = "More than one slip comes near this number. Write one more digit: that may tell which."
