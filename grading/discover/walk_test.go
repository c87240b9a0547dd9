package discover

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

// walked is a formula as a tree of its own kind, worked out the plain way: the
// slow oracle for the screening, and what its speed is measured against.
type walked struct {
	op   op
	l, r *walked
	at   int32 // of a given, its place
}

func (w *walked) value(blank []float64) float64 {
	switch {
	case w.op == opSize:
		return blank[w.at]
	case w.r == nil:
		return w.op.one(w.l.value(blank))
	}
	return w.op.two(w.l.value(blank), w.r.value(blank))
}

// walks makes the trees of a plan's roots.
func walks(p *plan) []*walked {
	made := make([]*walked, len(p.ops))
	for i, o := range p.ops {
		w := &walked{op: o}
		switch {
		case leaf(o):
			w.at = p.l[i]
		case o.binary():
			w.l, w.r = made[p.l[i]], made[p.r[i]]
		default:
			w.l = made[p.l[i]]
		}
		made[i] = w
	}
	roots := make([]*walked, len(p.roots))
	for k, i := range p.roots {
		roots[k] = made[i]
	}
	return roots
}

// walk counts the hits of every tree, the students' own and the decoy's.
func walk(trees []*walked, blanks [][]float64, windows []window) tallies {
	t := tallies{make([]uint16, len(trees)), make([]uint16, len(trees))}
	for k, w := range trees {
		for i, blank := range blanks {
			v := w.value(blank)
			if windows[i].holds(v) {
				t.own[k]++
			}
			if windows[i].decoyHolds(v) {
				t.decoy[k]++
			}
		}
	}
	return t
}

// oneRoom is a class of n with blanks of a family round its house blank, all
// of whose answers mean nothing. blanks stand in the bank's order.
func oneRoom(f *joint.Family, n int, least, most float64) (c *class, blanks [][]float64) {
	rnd := rand.New(rand.NewPCG(uint64(n), 3))
	_, places := signatureOf(f.Parameters)
	values, halves := make([]float64, n), make([]float64, n)
	for i := range n {
		var blank []float64
		for _, p := range places {
			v := f.House[f.Parameters[p].ID] * (0.7 + 0.6*rnd.Float64())
			if f.Parameters[p].Whole {
				v = math.Round(v)
			}
			blank = append(blank, v)
		}
		blanks = append(blanks, blank)
		values[i], halves[i] = math.Round(10*(least+(most-least)*rnd.Float64()))/10, 0.05
	}
	return newClass(blanks, values, halves), blanks
}

// Screening gives every formula the count that working it out tree by tree
// gives it, whatever shortcut its last step takes.
func TestScreenAgreesWithWalk(t *testing.T) {
	for _, id := range []string{"unequal-mitre", "splayed-box", "coopered-vessel", "hip-rafter"} {
		f, _ := joint.Lookup(id)
		s, _ := signatureOf(f.Parameters)
		b, err := grow(context.Background(), s, 6, bankMost, func(float64) {})
		if err != nil {
			t.Fatalf("grow(%s) = %v, want none", s, err)
		}
		c, blanks := oneRoom(f, 2*blockSize+5, 3, 70)
		for _, asked := range []kind{length, angle, area, plain} {
			p := b.plan(asked)
			got, err := p.screen(context.Background(), c)
			if err != nil {
				t.Fatalf("screen = %v, want none", err)
			}
			want := walk(walks(p), blanks, c.windows)
			hits := 0
			for k := range want.own {
				if got.own[k] != want.own[k] || got.decoy[k] != want.decoy[k] {
					t.Errorf("%s, asked kind %d: formula %d has %d and %d, want %d and %d",
						s, asked, p.roots[k], got.own[k], got.decoy[k], want.own[k], want.decoy[k])
				}
				hits += int(want.own[k] + want.decoy[k])
			}
			t.Logf("%s, asked kind %d: %d formulas, %d hits", s, asked, len(p.roots), hits)
		}
	}
}

// BenchmarkSearch measures a search with the bank kept against the plain ways
// to try the same bank on the same class, in turns, the best of each: working
// every formula out for every student with the formula language's own evaluator
// ("times-eval"), and walking bare trees of pointers over slots ("times-walk").
// The plain ways take the first students only and count them as many times as
// it takes to make the class.
func BenchmarkSearch(b *testing.B) {
	ex := exerciseOf(b, "head-v-joint")
	for _, n := range []int{30, 300, 3000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			problem := noiseProblem(b, ex, "cheek_length", n)
			var banks Banks
			h := newHunt(&banks, problem, mustMeasure(b, ex, "cheek_length"), places(n))
			if err := h.run(context.Background(), func(Progress) {}); err != nil {
				b.Fatal(err)
			}
			class := h.class.over(h.places)
			trees, some, few := walks(h.bank), min(n, 300), min(n, 30)
			formulas := written(h)
			rows := make([][]float64, some)
			for i := range rows {
				for _, col := range class.cols {
					rows[i] = append(rows[i], col[i])
				}
			}
			evalTook, walkTook, took, whole := time.Hour, time.Hour, time.Hour, time.Hour
			for b.Loop() {
				evalTook = min(evalTook, timed(func() { evaluate(formulas, problem, few, class.windows) })*time.Duration(n/few))
				walkTook = min(walkTook, timed(func() { walk(trees, rows, class.windows) })*time.Duration(n/some))
				for range 5 {
					h := newHunt(&banks, problem, h.measure, places(n))
					took = min(took, timed(func() { must(b, h.near(context.Background(), func(Progress) {})) }))
					whole = min(whole, took+timed(func() { must(b, h.beyond(context.Background(), func(Progress) {})) }))
				}
			}
			b.ReportMetric(float64(evalTook)/float64(took), "times-eval")
			b.ReportMetric(float64(walkTook)/float64(took), "times-walk")
			b.ReportMetric(float64(took.Microseconds())/1000, "ms/search")
			b.ReportMetric(float64(whole.Microseconds())/1000, "ms/with-larger")
			b.ReportMetric(float64(len(h.bank.roots)), "formulas")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// written are the bank's formulas in the formula language.
func written(h *hunt) []formula.Formula {
	out := make([]formula.Formula, len(h.bank.roots))
	for k, i := range h.bank.roots {
		out[k] = formula.FromNode(h.bank.tree(i, h.names, func(int32) bool { return true }))
	}
	return out
}

// evaluate counts the hits of every formula with the language's evaluator.
func evaluate(formulas []formula.Formula, p Problem, n int, windows []window) tallies {
	t := tallies{make([]uint16, len(formulas)), make([]uint16, len(formulas))}
	for k, f := range formulas {
		for i := range n {
			blank := p.Answers[i].Parameters
			v, err := f.Eval(func(id string) (float64, bool) { v, ok := blank[id]; return v, ok })
			if err != nil {
				continue
			}
			if windows[i].holds(v) {
				t.own[k]++
			}
			if windows[i].decoyHolds(v) {
				t.decoy[k]++
			}
		}
	}
	return t
}

func timed(do func()) time.Duration {
	start := time.Now()
	do()
	return time.Since(start)
}

func must(b *testing.B, err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

func places(n int) (out []int) {
	for i := range n {
		out = append(out, i)
	}
	return out
}

func exerciseOf(t testing.TB, family string) *grading.Exercise {
	t.Helper()
	f, _ := joint.Lookup(family)
	spec := grading.Spec{ID: family, Family: family}
	for _, p := range f.Parameters {
		v := fmt.Sprint(f.House[p.ID])
		spec.Givens = append(spec.Givens, grading.GivenSpec{ID: p.ID, From: v, To: v, By: "1"})
	}
	ex, faults := grading.NewExercise(spec)
	if ex == nil {
		t.Fatalf("NewExercise(%s) = %v, want none", family, faults)
	}
	return ex
}

func mustMeasure(t testing.TB, ex *grading.Exercise, id string) grading.Measure {
	t.Helper()
	m, ok := ex.Measure(id)
	if !ok {
		t.Fatalf("Measure(%s) = none, want one", id)
	}
	return m
}

// noiseProblem is a class of answers that mean nothing.
func noiseProblem(t testing.TB, ex *grading.Exercise, step string, n int) Problem {
	t.Helper()
	rnd := rand.New(rand.NewPCG(5, uint64(n)))
	p := Problem{Exercise: ex, Step: step}
	for range n {
		blank := joint.Values{}
		for _, g := range ex.Sizes() {
			blank[g.ID] = ex.Family.House[g.ID] * (0.7 + 0.6*rnd.Float64())
		}
		p.Answers = append(p.Answers, Answer{
			Parameters: blank, Value: math.Round(10*(15+100*rnd.Float64())) / 10, Half: 0.05, Key: 0, Verdict: grading.Wrong,
		})
	}
	return p
}
