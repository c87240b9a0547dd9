package discover

import (
	"math"
	"strings"
	"unicode/utf8"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// write writes a candidate out over the givens' ids; edits are what was put in
// place of what in the right formula, none for a formula of its own.
func (h *hunt) write(c candidate) (formula.Formula, []formula.Edit) {
	if c.source == fromRewrites {
		return h.rewrites.writer.tree(h.rewrites.changes[c.place])
	}
	class := h.class.over(h.places)
	if c.source == fromMiddle {
		return h.writeJoined(h.met[c.place], c.own.members(), class), nil
	}
	root := h.bank.roots[c.place]
	return formula.FromNode(h.bank.tree(root, h.names, h.larger(c.own.members(), class))).Simplify(), nil
}

// larger decides for two numbers that are so far apart which is the larger one
// for most of those students.
func (h *hunt) larger(who []int, class *class) func(i int32) bool {
	return func(i int32) bool {
		l := h.bank.work(h.bank.l[i], class.cols, class.n)
		r := h.bank.work(h.bank.r[i], class.cols, class.n)
		return mostly(l, r, who)
	}
}

func mostly(l, r []float64, who []int) bool {
	n := 0
	for _, k := range who {
		if l[k] >= r[k] {
			n++
		}
	}
	return 2*n >= len(who)
}

// evaluate gives a formula's numbers for everybody, and whose answers they are.
func (h *hunt) evaluate(f formula.Formula) (numbers []float64, gives set) {
	numbers, gives = make([]float64, h.class.n), newSet(h.class.n)
	for k, i := range h.at {
		blank := h.problem.Answers[i].Parameters
		v, err := f.Eval(func(id string) (float64, bool) { v, ok := blank[id]; return v, ok })
		if err != nil {
			v = math.NaN() // stays in here: a window never holds it
		}
		if numbers[k] = v; h.class.windows[k].holds(v) {
			gives.add(k)
		}
	}
	return numbers, gives
}

// says tells a finding in words.
func (h *hunt) says(f formula.Formula, edits []formula.Edit) string {
	s := "This is the number you get from " + h.speech(f.Root()) + "."
	var parts []string
	for _, e := range edits {
		part := h.edit(e)
		if utf8.RuneCountInString(part) > mostSaid {
			return s
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return s
	}
	return s + " It is the right formula with " + strings.Join(parts, ", and with ") + "."
}

// mostSaid bounds how much of a formula a sentence repeats, in characters.
const mostSaid = 80

// edit tells one change of a formula.
func (h *hunt) edit(e formula.Edit) string {
	at, to := h.speech(e.At), h.speech(e.To)
	b, ok := e.To.(formula.Binary)
	if !ok {
		return to + " in place of " + at
	}
	second := h.speech(b.R)
	switch fromAt := formula.Identical(b.L, e.At); {
	case fromAt && b.Op == '+':
		return second + " added to " + at
	case fromAt && b.Op == '-':
		return second + " taken from " + at
	case fromAt && b.Op == '*':
		return at + " multiplied by " + second
	case fromAt && b.Op == '/':
		return at + " divided by " + second
	case formula.Identical(b.R, e.At) && b.Op == '-':
		return at + " taken from " + h.speech(b.L)
	case formula.Identical(b.R, e.At) && b.Op == '*':
		return at + " doubled"
	}
	return to + " in place of " + at
}

func (h *hunt) speech(n formula.Node) string {
	return formula.FromNode(n).Speech("", func(id string) string {
		return strings.TrimPrefix(h.problem.Exercise.Words(id), "the ")
	})
}

func kindOfUnit(u joint.Unit) kind { return kindOf(joint.Parameter{Unit: u}) }
