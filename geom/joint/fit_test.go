package joint

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// The right numbers close: no gap is left, whether they are submitted or taken
// as correct.
func TestRightNumbersClose(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, _ testFamily) {
		rng := rand.New(rand.NewPCG(41, 42))
		worst := 0.0
		for range 2000 {
			p := randomBlankOf(f, rng)
			l, _ := f.Layout(p)
			for _, submitted := range []Values{nil, l.Quantities} {
				fit, err := f.Fit(p, submitted)
				if err != nil || fit.Word != Tight || fit.Trouble != "" || len(fit.Outcomes) != len(f.Consequences) {
					t.Fatalf("%v: %v %s %v, want tight with all consequences", p, fit.Word, fit.Trouble, err)
				}
				for _, o := range fit.Outcomes {
					if o.Gap {
						worst = max(worst, math.Abs(o.Value.Min), math.Abs(o.Value.Max))
					}
				}
			}
		}
		t.Logf("largest gap %.1e mm", worst)
		if worst > 1e-9 {
			t.Errorf("right numbers leave %g mm, want at most 1e-9", worst)
		}
	})
}

// A wrong number moves only the consequences it can touch, and does move each
// of these on some blank.
func TestADeviationMovesOnlyWhatItCanTouch(t *testing.T) {
	type pair struct{ quantity, consequence string }
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		rng := rand.New(rand.NewPCG(45, 46))
		may, moved := map[pair]bool{}, map[pair]bool{}
		for q, list := range tf.touches {
			for _, c := range list {
				may[pair{q, c}] = true
			}
		}
		for range 200 {
			p := randomBlankOf(f, rng)
			right, _ := f.Fit(p, nil)
			l, _ := f.Layout(p)
			for _, q := range f.Quantities {
				key, has := l.Quantities[q.ID]
				if !has {
					continue
				}
				fit, err := f.Fit(p, Values{q.ID: key + 2*rng.Float64() - 1})
				if err != nil {
					t.Fatal(err)
				}
				for _, o := range fit.Outcomes {
					by, at := apart(o.Value, value(t, right, o.ID)), pair{q.ID, o.ID}
					if by > 1e-9 && !may[at] {
						t.Errorf("%s moved %s by %g, want it not to", q.ID, o.ID, by)
					}
					moved[at] = moved[at] || by > 1e-9
				}
			}
		}
		for at := range may {
			if !moved[at] {
				t.Errorf("%s never moved %s, want it to somewhere", at.quantity, at.consequence)
			}
		}
	})
}

// A millionth more or less of any number changes every consequence by a
// thousandth at most. Counts and sides, which have no unit, may jump.
func TestConsequencesAreContinuous(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		rng := rand.New(rand.NewPCG(49, 50))
		worst, at := 0.0, ""
		for range 500 {
			p := randomBlankOf(f, rng)
			l, _ := f.Layout(p)
			s := randomSlipOf(f, rng, l.Quantities)
			fit, _ := f.Fit(p, s)
			for id := range s {
				g, _ := f.Fit(p, with(s, Values{id: s[id] + 1e-6}))
				for _, o := range fit.Outcomes {
					if by := apart(value(t, g, o.ID), o.Value); o.Unit != One && by > worst {
						worst, at = by, o.ID
					}
				}
			}
		}
		t.Logf("1e-6 in, at most %.1e out (%s)", worst, at)
		if worst > 1e-3 {
			t.Errorf("1e-6 in gives %g out at %s, want at most 1e-3", worst, at)
		}
	})
}

// The word is that of the worst gap.
func TestWordIsThatOfTheWorstGap(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		rng := rand.New(rand.NewPCG(57, 58))
		words := map[Word]int{}
		for range 300 {
			p := randomBlankOf(f, rng)
			l, _ := f.Layout(p)
			s := randomSlipOf(f, rng, l.Quantities)
			for id := range s {
				s[id] = l.Quantities[id] + (s[id]-l.Quantities[id])*rng.Float64()*rng.Float64()
			}
			fit, _ := f.Fit(p, s)
			words[fit.Word]++
			if worst, ok := fit.Worst(); ok {
				if want := WordOf(max(worst.Value.Max, -worst.Value.Min)); fit.Word != want {
					t.Errorf("%v with %v: %v, want %v for %v", p, s, fit.Word, want, worst)
				}
			} else if f.seen == nil {
				t.Errorf("%v with %v: no gap has a value", p, s)
			}
		}
		if len(words) < 4 {
			t.Errorf("slips of all sizes give only %v, want every word", words)
		}
	})
}

func TestSameInputSameBits(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, _ testFamily) {
		rng := rand.New(rand.NewPCG(55, 56))
		p := randomBlankOf(f, rng)
		l, _ := f.Layout(p)
		s := randomSlipOf(f, rng, l.Quantities)
		first, _ := f.Fit(p, s)
		b, _ := f.Prepare(p)
		for range 20 {
			again, _ := b.Fit(s)
			if !reflect.DeepEqual(first, again) {
				t.Fatalf("fit %v, then %v", first, again)
			}
		}
	})
}
