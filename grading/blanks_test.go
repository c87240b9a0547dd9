package grading_test

import (
	"cmp"
	"errors"
	"math"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"arrisbook/grading"
)

// violations holds one blank to all that blanks promise, by the catalogue and by
// the list of slips, not by what the generator thinks of them.
func violations(ex *grading.Exercise, sheet grading.Sheet, shop grading.Shop) []string {
	var out []string
	givens := ex.Givens
	if shop.Units == grading.Inches && len(ex.InchGivens) > 0 {
		givens = ex.InchGivens
	}
	for _, g := range givens {
		v := sheet.Parameters[g.ID]
		on := slices.Contains(g.Only, v)
		if len(g.Only) == 0 {
			n := (v - g.From) / max(g.By, 1e-9)
			on = v >= g.From-1e-6 && v <= g.To+1e-6 && (g.From == g.To || math.Abs(n-math.Round(n)) < 1e-4)
		}
		if !on {
			out = append(out, g.ID+" is outside its range")
		}
	}
	if ex.Family != nil {
		if l, err := ex.Family.Layout(sheet.Parameters); err != nil || !l.Buildable() {
			out = append(out, "cannot be built")
		}
	}
	key := grading.Key(ex, sheet.Parameters)
	if len(sheet.Steps) != len(ex.Steps) {
		out = append(out, "asks "+strconv.Itoa(len(sheet.Steps))+" numbers")
	}
	for _, s := range sheet.Steps {
		right, ok := key[s.ID]
		if !ok || s.Tolerance <= 0 || s.Undiagnosed {
			out = append(out, s.ID+" has no value or cannot be judged")
		}
		for _, p := range grading.Patterns(ex, sheet, s.ID) {
			if off := math.Abs(p.Value - right); !p.Harmless && !(off > 2*s.Tolerance) {
				out = append(out, s.ID+": "+p.ID+" "+p.Detail+" passes")
			}
		}
	}
	return out
}

// Blanks without luck: inside their ranges, buildable, and no known slip passes
// on any of them. A hundred and twenty seeds an exercise; with ARRISBOOK_LONG=1 a
// hundred thousand, which takes an hour or more.
func TestBlanksWithoutLuck(t *testing.T) {
	seeds := uint64(120)
	if os.Getenv("ARRISBOOK_LONG") == "1" {
		seeds = 100_000
	}
	for _, ex := range shippedExercises(t) {
		t.Run(ex.ID, func(t *testing.T) {
			shop := grading.DefaultShop()
			var next atomic.Uint64
			var all sync.WaitGroup
			for range runtime.GOMAXPROCS(0) {
				all.Go(func() {
					for seed := next.Add(1) - 1; seed < seeds; seed = next.Add(1) - 1 {
						sheet, err := grading.Generate(ex, seed, shop)
						if err != nil {
							t.Errorf("seed %d: %v", seed, err)
						} else if broken := violations(ex, sheet, shop); len(broken) > 0 {
							t.Errorf("seed %d: %s", seed, strings.Join(broken, "; "))
						}
					}
				})
			}
			all.Wait()
		})
	}
}

// The blanks of one exercise are equally hard: as many numbers, as many special
// angles, and digits within one of what is usual.
func TestBlanksAreEquallyHard(t *testing.T) {
	for _, ex := range shippedExercises(t) {
		for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
			s := grading.DifficultySpread(ex, 1, 60, grading.ShopFor(units))
			if s.Blanks != 60 || s.Least.Steps != s.Most.Steps || s.Least.Special != s.Most.Special || s.Most.Digits-s.Least.Digits > 2 {
				t.Errorf("%s in %s: %+v, want one number of steps and of special angles, and digits within 2", ex.ID, units, s)
			}
		}
	}
}

// A special angle is refused where another could be drawn, and stands where the
// exercise has no other.
func TestSpecialAngles(t *testing.T) {
	for _, row := range []struct {
		angles []string
		want   int
	}{{[]string{"30", "31", "45", "47"}, 0}, {[]string{"30", "45", "60"}, 1}} {
		ex := mustMake(t, grading.Spec{
			ID: "ramp",
			Givens: []grading.GivenSpec{
				{ID: "run", Unit: "mm", From: "200", To: "300", By: "1"}, {ID: "slant", Unit: "deg", Only: row.angles},
			},
			Steps: []grading.StepSpec{{ID: "rise", Unit: "mm", Formula: "run*tan(slant)"}},
			Harmless: []grading.HarmlessSpec{{Pattern: "factor-inverted", Detail: "*"}, {Pattern: "slope-for-run", Detail: "*"},
				{Pattern: "wrong-function", Detail: "*"}, {Pattern: "wrong-measure", Detail: "*"}},
		})
		s := grading.DifficultySpread(ex, 1, 40, grading.DefaultShop())
		if s.Blanks != 40 || s.Least.Special != row.want || s.Most.Special != row.want {
			t.Errorf("angles %v: %+v, want 40 blanks with %d special angles", row.angles, s, row.want)
		}
	}
}

func mustMake(t testing.TB, s grading.Spec) *grading.Exercise {
	t.Helper()
	ex, faults := grading.NewExercise(s)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return ex
}

// BenchmarkBlank draws the blanks of every shipped exercise and reports the
// median and the slowest beside the mean.
func BenchmarkBlank(b *testing.B) {
	for _, ex := range shippedExercises(b) {
		b.Run(ex.ID, func(b *testing.B) {
			var took []time.Duration
			for seed := uint64(0); b.Loop(); seed++ {
				start := time.Now()
				if _, err := grading.Generate(ex, seed, grading.DefaultShop()); err != nil {
					b.Fatal(err)
				}
				took = append(took, time.Since(start))
			}
			slices.SortFunc(took, cmp.Compare[time.Duration])
			b.ReportMetric(float64(took[len(took)/2].Microseconds()), "µs-median")
			b.ReportMetric(float64(took[len(took)-1].Microseconds()), "µs-slowest")
		})
	}
}

// An exercise whose ranges cannot do it says which two things collide, also
// where a rule refuses more of the draws.
func TestRangesThatCannotDoIt(t *testing.T) {
	for _, keep := range [][]string{nil, {"run >= 296"}} {
		ex := mustMake(t, grading.Spec{
			ID:     "ramp",
			Givens: []grading.GivenSpec{{ID: "run", Unit: "mm", From: "200", To: "300", By: "1"}, {ID: "slant", Unit: "deg", Only: []string{"1"}}},
			Keep:   keep,
			Steps:  []grading.StepSpec{{ID: "rise", Unit: "mm", Formula: "run*tan(slant)"}},
		})
		_, err := grading.Generate(ex, 1, grading.DefaultShop())
		var none *grading.NoBlankError
		if !errors.As(err, &none) || none.Step != "rise" || none.One != "the right number" || none.Other != "wrong-function (sin for tan)" {
			t.Errorf("Generate with %v = %v, want that sin for tan cannot be told from the right number on rise", keep, err)
		}
	}
}

// Slips that land within the tolerance of each other are told together: whoever
// makes one reads of the other too.
func TestSlipsThatLandTogetherAreToldTogether(t *testing.T) {
	pairs := 0
	for _, ex := range shippedExercises(t) {
		sheet := drawn(t, ex, 311)
		for _, step := range sheet.Steps {
			patterns := slices.DeleteFunc(grading.Patterns(ex, sheet, step.ID), func(p grading.Pattern) bool { return p.ID == "digits-swapped" })
			for i, a := range patterns {
				r := graded(ex, sheet, step.ID, written(a.Value, 6))
				if r.Verdict != grading.Wrong {
					continue
				}
				for _, b := range patterns[i+1:] {
					if math.Abs(a.Value-b.Value) > step.Tolerance/2 {
						continue
					}
					pairs++
					first, beside := named(r, b.ID)
					if !first && !beside {
						t.Errorf("%s %s: %s %q gives %v and %s %q %v, and %v with %v is told", ex.ID, step.ID, a.ID, a.Detail, a.Value, b.ID, b.Detail, b.Value, r.Pattern, r.Also)
					}
				}
			}
		}
	}
	if pairs < 100 {
		t.Errorf("%d pairs of slips land together, want at least 100 to look at", pairs)
	}
}
