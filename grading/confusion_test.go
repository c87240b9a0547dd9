package grading_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/lessons"
)

var shippedOnce = sync.OnceValues(lessons.Shipped)

func shippedExercises(t testing.TB) []*grading.Exercise {
	t.Helper()
	lib, err := shippedOnce()
	if err != nil {
		t.Fatal(err)
	}
	var out []*grading.Exercise
	for _, m := range lib.Modules {
		out = append(out, m.Exercises...)
	}
	return out
}

func shippedExercise(t testing.TB, id string) *grading.Exercise {
	t.Helper()
	for _, ex := range shippedExercises(t) {
		if ex.ID == id {
			return ex
		}
	}
	t.Fatalf("there is no shipped exercise %s", id)
	return nil
}

func drawn(t testing.TB, ex *grading.Exercise, seed uint64) grading.Sheet {
	t.Helper()
	s, err := grading.Generate(ex, seed, grading.DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// newHand gives somebody the sheet.
func newHand(ex *grading.Exercise, sheet grading.Sheet, w handwork) *hand {
	h := &hand{given: sheet.Parameters, unit: map[string]string{}, allowance: map[string]bool{}, pair: map[string]bool{}}
	for _, p := range ex.Family.Parameters {
		h.unit[p.ID] = string(p.Unit)
	}
	for _, q := range ex.Family.Quantities {
		h.unit[q.ID] = string(q.Unit)
	}
	for _, id := range w.allowance {
		h.allowance[id] = true
	}
	for _, id := range w.pair {
		h.pair[id] = true
	}
	return h
}

// work works one number out from the start, with the slips planned.
func (h *hand) work(w handwork, id string, others map[string]float64, plan map[int]int) float64 {
	h.n, h.offers, h.plan = 0, nil, plan
	v := w.numbers[id](h)
	return h.writeDown(id, v, h.given[w.across[id]], others)
}

// wrongAnswer is a number that somebody wrote, with what went wrong.
type wrongAnswer struct {
	ex    *grading.Exercise
	sheet grading.Sheet
	step  string
	slips []string
	value float64
}

// eachSheet hands a few sheets of every family to somebody.
func eachSheet(t *testing.T, seeds uint64, do func(ex *grading.Exercise, sheet grading.Sheet, h *hand, w handwork, key joint.Values)) {
	for _, id := range slices.Sorted(mapKeys(byHand)) {
		ex := shippedExercise(t, id)
		for seed := range seeds {
			sheet := drawn(t, ex, 100+seed)
			w := byHand[id]
			do(ex, sheet, newHand(ex, sheet, w), w, grading.Key(ex, sheet.Parameters))
		}
	}
}

func mapKeys[V any](m map[string]V) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// Somebody who makes no slip gets the right numbers: the hand can be trusted.
func TestHandworkIsRight(t *testing.T) {
	numbers := 0
	eachSheet(t, 4, func(ex *grading.Exercise, sheet grading.Sheet, h *hand, w handwork, key joint.Values) {
		for id, want := range key {
			numbers++
			if w.numbers[id] == nil {
				t.Errorf("%s: %s is not worked out by hand", ex.ID, id)
			} else if got := h.work(w, id, key, nil); math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s: %s by hand is %v, want %v on %v", ex.ID, id, got, want, sheet.Parameters)
			}
		}
	})
	if numbers < 4*70 {
		t.Errorf("%d numbers were worked out, want those of all families", numbers)
	}
}

// singleSlips makes every slip that the workings have room for, one at a time.
func singleSlips(t *testing.T, seeds uint64) []wrongAnswer {
	var all []wrongAnswer
	eachSheet(t, seeds, func(ex *grading.Exercise, sheet grading.Sheet, h *hand, w handwork, key joint.Values) {
		for _, id := range sortedKeys(key) {
			h.work(w, id, key, nil)
			for _, o := range slices.Clone(h.offers) {
				v := h.work(w, id, key, map[int]int{o.op: o.which})
				all = append(all, wrongAnswer{ex, sheet, id, []string{o.name}, v})
			}
			h.radians = true
			v := h.work(w, id, key, nil)
			h.radians = false
			if v != key[id] {
				all = append(all, wrongAnswer{ex, sheet, id, []string{"radian-mode"}, v})
			}
		}
	})
	return all
}

// doubleSlips makes two slips at two operations: of all that there are, every
// so many. Where one of them leaves nothing of the other (whoever writes the
// head angle down made no other slip), or both together lead back to the right
// number, there are no two slips to be seen.
func doubleSlips(t *testing.T, seeds uint64, every int) []wrongAnswer {
	var all []wrongAnswer
	n := 0
	eachSheet(t, seeds, func(ex *grading.Exercise, sheet grading.Sheet, h *hand, w handwork, key joint.Values) {
		for _, id := range sortedKeys(key) {
			h.work(w, id, key, nil)
			offers := slices.Clone(h.offers)
			alone := make([]float64, len(offers))
			for i, o := range offers {
				alone[i] = h.work(w, id, key, map[int]int{o.op: o.which})
			}
			for i, a := range offers {
				for j, b := range offers[i+1:] {
					if a.op == b.op {
						continue
					}
					v := h.work(w, id, key, map[int]int{a.op: a.which, b.op: b.which})
					if near(v, alone[i]) || near(v, alone[i+1+j]) || near(v, key[id]) {
						continue
					}
					if n++; n%every != 0 {
						continue
					}
					all = append(all, wrongAnswer{ex, sheet, id, []string{a.name, b.name}, v})
				}
			}
		}
	})
	return all
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

// confusion counts what was named for a slip.
type confusion struct {
	first, beside, other, unexplained, passes int
	otherNames                                map[string]int
}

func (c confusion) wrong() int { return c.first + c.beside + c.other + c.unexplained }

// graded gives the judgement of one number.
func graded(ex *grading.Exercise, sheet grading.Sheet, step, text string) grading.StepResult {
	for _, r := range grading.Grade(ex, sheet, map[string]string{step: text}, grading.Millimetres).Steps {
		if r.ID == step {
			return r
		}
	}
	return grading.StepResult{}
}

// named says whether a slip is the one named first, or one beside it.
func named(r grading.StepResult, slip string) (first, beside bool) {
	if r.Pattern != nil && r.Pattern.ID == slip {
		return true, false
	}
	return false, slices.ContainsFunc(r.Also, func(s grading.Slip) bool { return s.ID == slip })
}

// tally judges the answers written with so many decimals; negative decimals
// write all of them.
func tally(answers []wrongAnswer, decimals func(joint.Unit) int) map[string]*confusion {
	table := map[string]*confusion{}
	for _, a := range answers {
		if math.IsNaN(a.value) || math.IsInf(a.value, 0) {
			continue
		}
		name := strings.Join(a.slips, " + ")
		if len(a.slips) > 1 {
			name = "two slips"
		}
		c := table[name]
		if c == nil {
			c = &confusion{otherNames: map[string]int{}}
			table[name] = c
		}
		c.count(a, graded(a.ex, a.sheet, a.step, written(a.value, decimals(unitOf(a)))))
	}
	return table
}

func unitOf(a wrongAnswer) joint.Unit {
	q, _ := a.ex.Family.Quantity(a.step)
	return q.Unit
}

func (c *confusion) count(a wrongAnswer, r grading.StepResult) {
	if r.Verdict == grading.Unreadable {
		return // out of any range: refused before it is judged
	}
	if r.Verdict != grading.Wrong {
		c.passes++
		return
	}
	all, firsts := true, false
	for _, s := range a.slips {
		first, beside := named(r, s)
		all, firsts = all && (first || beside), firsts || first
	}
	switch {
	case all && firsts:
		c.first++
	case all:
		c.beside++
	case r.Pattern != nil:
		c.other++
		c.otherNames[r.Pattern.ID]++
	default:
		c.unexplained++
	}
}

// report prints the table and gives the share whose cause is named.
func report(t *testing.T, title string, table map[string]*confusion) (share float64, wrong int) {
	var lines []string
	total := confusion{}
	for _, name := range slices.Sorted(mapKeys(table)) {
		c := table[name]
		total.first, total.beside = total.first+c.first, total.beside+c.beside
		total.other, total.unexplained, total.passes = total.other+c.other, total.unexplained+c.unexplained, total.passes+c.passes
		lines = append(lines, fmt.Sprintf("%-22s %6d %6d %6d %6d %6d  %v", name, c.first, c.beside, c.other, c.unexplained, c.passes, c.otherNames))
	}
	wrong = total.wrong()
	share = float64(total.first+total.beside) / float64(wrong)
	t.Logf("%s: %d wrong, cause named %.1f %%\n%-22s %6s %6s %6s %6s %6s  instead\n%s\n%-22s %6d %6d %6d %6d %6d", title, wrong, 100*share,
		"slip made", "named", "beside", "other", "none", "passes", strings.Join(lines, "\n"), "all", total.first, total.beside, total.other, total.unexplained, total.passes)
	return share, wrong
}

func sameFor(decimals int) func(joint.Unit) int { return func(joint.Unit) int { return decimals } }

// shopDigits is how a shop writes: tenths of millimetres and degrees.
func shopDigits(u joint.Unit) int {
	if u == joint.MM2 {
		return 0
	}
	return 1
}

func TestConfusion(t *testing.T) {
	singles := singleSlips(t, 2)
	for _, row := range []struct {
		title    string
		decimals func(joint.Unit) int
		least    float64
	}{
		{"single slips, four decimals", sameFor(4), 0.97},
		{"single slips, two decimals", sameFor(2), 0.97},
		{"single slips, as in the shop", shopDigits, 0.97},
	} {
		share, wrong := report(t, row.title, tally(singles, row.decimals))
		if wrong < 2000 || share < row.least {
			t.Errorf("%s: cause named in %.2f %% of %d, want %.0f %% of at least 2,000", row.title, 100*share, wrong, 100*row.least)
		}
	}
}

func TestConfusionOfTwo(t *testing.T) {
	doubles := doubleSlips(t, 1, 7)
	for _, row := range []struct {
		title    string
		decimals func(joint.Unit) int
		least    float64
	}{
		{"two slips, four decimals", sameFor(4), 0.80},
		{"two slips, three decimals", sameFor(3), 0.80},
		{"two slips, two decimals", sameFor(2), 0},
	} {
		share, wrong := report(t, row.title, tally(doubles, row.decimals))
		if wrong < 2000 || share < row.least {
			t.Errorf("%s: both named in %.2f %% of %d, want %.0f %% of at least 2,000", row.title, 100*share, wrong, 100*row.least)
		}
	}
}
