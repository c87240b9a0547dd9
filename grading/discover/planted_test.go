package discover_test

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"arrisbook/grading/discover"
	"arrisbook/grading/formula"
)

// long runs the whole of the simulations, which takes minutes.
var long = os.Getenv("ARRISBOOK_LONG") != ""

// room is a class to be simulated: how many, how many of them follow the wrong
// formula, and how many are right; the rest write what means nothing. All write
// tenths, or so many decimals more or less.
type room struct{ n, follow, right, decimals int }

// rooms are the classes that the promise is made for, answers to a tenth: of a
// hundred and more, a tenth and more follow the wrong formula.
var rooms = []room{
	{n: 100, follow: 10, right: 50}, {n: 100, follow: 20}, {n: 100, follow: 20, right: 50}, {n: 150, follow: 15, right: 75}, {n: 150, follow: 30},
	{n: 200, follow: 20}, {n: 200, follow: 20, right: 100}, {n: 300, follow: 30}, {n: 300, follow: 60, right: 150},
}

// A wrong formula that no pattern names is found and stands first: in at least
// 95 of 100 large classes, and in 80 of 100 classes of thirty of whom twelve
// follow it.
func TestPlantedFormulaIsFoundFirst(t *testing.T) {
	small := []room{{n: 30, follow: 12}, {n: 30, follow: 12, right: 9}}
	for _, c := range []struct {
		name  string
		rooms []room
		times int
		least float64
	}{{"large", rooms, 1, 0.95}, {"small", small, 2, 0.80}} {
		t.Run(c.name, func(t *testing.T) {
			rows, times := planted[:], c.times
			if !long {
				rows, times = everyOther(rows), 1
			}
			found, of := 0, 0
			for k, row := range rows {
				hits, tries := 0, 0
				for j, r := range c.rooms {
					if !long && (j+k)%len(c.rooms) > 0 {
						continue
					}
					for again := range times {
						rnd := rand.New(rand.NewPCG(uint64(k), uint64(1000*j+again)))
						tries++
						if foundFirst(t, row.exercise, row.step, row.formula, r, rnd) {
							hits++
						} else {
							t.Logf("%s %s: %s is not first in a class of %+v", row.exercise, row.step, row.formula, r)
						}
					}
				}
				found, of = found+hits, of+tries
			}
			t.Logf("first and accepted in %d of %d classes", found, of)
			if float64(found) < c.least*float64(of) {
				t.Errorf("first and accepted in %d of %d classes, want %.0f %%", found, of, 100*c.least)
			}
		})
	}
}

// everyOther keeps a part of the table with something of every family.
func everyOther[T any](rows []T) (out []T) {
	for i := 0; i < len(rows); i += 2 {
		out = append(out, rows[i])
	}
	return out
}

// banks are shared by the tests, as by the users of a server.
var banks discover.Banks

func foundFirst(t *testing.T, exercise, step, text string, r room, rnd *rand.Rand) bool {
	t.Helper()
	f := formula.MustParse(text)
	p := classOf(t, exercise, step, f, r, rnd)
	report, err := banks.Search(context.Background(), p, nil)
	if err != nil {
		t.Fatalf("Search = %v, want none", err)
	}
	return len(report.Findings) > 0 && same(f, report.Findings[0].Formula, p)
}

// same says that two formulas give the same numbers on every blank of a class.
func same(f, g formula.Formula, p discover.Problem) bool {
	for _, a := range p.Answers {
		x, y := value(f, a.Parameters), value(g, a.Parameters)
		if math.IsNaN(x) != math.IsNaN(y) || math.Abs(x-y) > 1e-6*(1+math.Abs(x)) {
			return false
		}
	}
	return true
}

// Classes in which every wrong answer means nothing have no findings.
func TestNoiseHasNoFindings(t *testing.T) {
	rows, sizes := planted[:], []room{{n: 30}, {n: 100, right: 30}, {n: 100}, {n: 200}, {n: 600}, {n: 100, decimals: -1}, {n: 60, decimals: 1}}
	if !long {
		rows = everyOther(everyOther(rows))
	}
	classes, answers := 0, 0
	for k, row := range rows {
		for j, r := range sizes {
			if !long && (k+j)%len(sizes) > 0 {
				continue
			}
			p := classOf(t, row.exercise, row.step, formula.Formula{}, r, rand.New(rand.NewPCG(uint64(k), uint64(j))))
			report, err := banks.Search(context.Background(), p, nil)
			if err != nil {
				t.Fatalf("Search = %v, want none", err)
			}
			classes, answers = classes+1, answers+report.Of
			for _, f := range report.Findings {
				t.Errorf("%s %s, a class of %d with no formula in it: found %s for %d of %d, decoy %d",
					row.exercise, row.step, r.n, f.Formula, len(f.Answers), f.Of, f.Decoy)
			}
		}
	}
	t.Logf("no finding among %d answers in %d classes", answers, classes)
}
