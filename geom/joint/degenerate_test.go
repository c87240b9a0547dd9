package joint

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// sane checks what must hold for any input: an *IDError, or finite numbers and
// sentences; a problem wherever something is left without a value that always
// has one on a buildable blank; and the word failed wherever a gap has no
// value.
func sane(t *testing.T, f *Family, parameters, submitted Values) {
	t.Helper()
	l, err := f.Layout(parameters)
	var id *IDError
	if err != nil {
		if !errors.As(err, &id) {
			t.Errorf("%v: %v, want an *IDError", parameters, err)
		}
		return
	}
	saneLayout(t, f, l)
	fit, err := f.Fit(parameters, submitted)
	if err != nil {
		if !errors.As(err, &id) {
			t.Errorf("%v: %v, want an *IDError", submitted, err)
		}
		return
	}
	saneFit(t, f, fit)
	if f.parts == nil {
		return
	}
	parts, err := f.MadePieces(parameters, submitted)
	if err != nil && !isSentence(err.Error()) {
		t.Errorf("%v with %v: pieces refused with %q", parameters, submitted, err)
	}
	for _, part := range parts {
		if v := volume(part.Pieces); !(v > 0) || math.IsInf(v, 0) {
			t.Errorf("%v with %v: the %s has %g mm³", parameters, submitted, part.Name, v)
		}
	}
}

func saneLayout(t *testing.T, f *Family, l Layout) {
	t.Helper()
	for _, q := range f.Quantities {
		x, has := l.Quantities[q.ID]
		if !has && l.Buildable() && !slices.Contains(testFamilies[f.ID].maybe, q.ID) {
			t.Errorf("%v: no %s, want a problem named", l.Parameters, q.ID)
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%v: %s = %g", l.Parameters, q.ID, x)
		}
	}
	for _, p := range l.Problems {
		if !isSentence(p) {
			t.Errorf("%v: problem %q", l.Parameters, p)
		}
	}
}

func saneFit(t *testing.T, f *Family, fit Fit) {
	t.Helper()
	for _, c := range f.Consequences {
		o, has := fit.Outcome(c.ID)
		if !has && (c.Gap || f.seen != nil) && fit.Word != Failed {
			t.Errorf("%v with %v: %v without %s", fit.Parameters, fit.Submitted, fit.Word, c.ID)
		}
		if sum := o.Value.Min + o.Value.Max; math.IsNaN(sum) || math.IsInf(sum, 0) {
			t.Errorf("%v with %v: %s = %v", fit.Parameters, fit.Submitted, o.ID, o.Value)
		}
	}
	if fit.Trouble != "" && (!isSentence(fit.Trouble) || fit.Word != Failed) {
		t.Errorf("%v with %v: %v, trouble %q", fit.Parameters, fit.Submitted, fit.Word, fit.Trouble)
	}
}

var oddNumbers = []float64{
	0, math.Copysign(0, -1), -1, 1e-300, -1e-300, 1e-9, 0.5, 5, 45, 89.999999999, 90, 90.1, 180, 270, 1e3,
	1e6, 1e6 + 1, -1e6, 1e16, 1e300, -1e300, math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1),
}

func TestOddNumbers(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		for i, a := range f.Parameters {
			for _, x := range oddNumbers {
				sane(t, f, with(f.House, Values{a.ID: x}), nil)
				for _, b := range f.Parameters[i+1:] {
					for _, y := range oddNumbers {
						sane(t, f, with(f.House, Values{a.ID: x, b.ID: y}), nil)
					}
				}
			}
		}
		closes := tf.closes(f)
		for i, a := range closes {
			for _, x := range oddNumbers {
				for _, b := range closes[i:] {
					for _, y := range oddNumbers {
						sane(t, f, f.House, Values{a: x, b: y})
					}
				}
			}
		}
	})
}

// FuzzFamilies hands every family any numbers at all. The first chooses the
// family, the next are its parameters, the rest submitted numbers.
func FuzzFamilies(f *testing.F) {
	nan, inf := math.NaN(), math.Inf(1)
	for n := range len(All()) {
		f.Add(uint8(n), 27.0, 66.0, 34.0, 33.0, 11.0, 17.0, 1.5, 5.0, 25.9, 16.5, 49.5, 34.6, 25.5, 4.8, 5.2, 1.0)
		f.Add(uint8(n), 147.0, 3.0, 5.5, 9.0, 7.0, 13.0, 15.5, 5.0, 8.1, 81.9, 39.3, 34.9, 9.9, 15.5, 13.0, 9.0)
		f.Add(uint8(n), 0.0, -1.0, 1e300, nan, 90.0, inf, 0.0, 2.0, 0.0, 1e300, -1.0, 0.0, 90.0, -90.0, 1e9, 180.0)
		f.Add(uint8(n), 440.0, 350.0, 370.0, 36.0, 21.0, 1e-9, 1e6, 60.0, 1e-9, 49.5, 16.5, 300.0, 89.9, 89.9, -500.0, 1e5)
	}
	f.Fuzz(func(t *testing.T, n uint8, a, b, c, d, e, g, h, i, j, k, l, m, o, p, q, r float64) {
		family := All()[int(n)%len(All())]
		given, said := []float64{a, b, c, d, e, g, h, i}, []float64{j, k, l, m, o, p, q, r}
		parameters, submitted := Values{}, Values{}
		for i, par := range family.Parameters {
			parameters[par.ID] = given[i%len(given)]
			if par.Whole && math.Abs(given[i%len(given)]) < 100 {
				parameters[par.ID] = math.Trunc(given[i%len(given)])
			}
		}
		for i, q := range family.Quantities {
			submitted[q.ID] = said[i%len(said)]
		}
		sane(t, family, parameters, submitted)
		sane(t, family, family.House, submitted)
		sane(t, family, parameters, nil)
	})
}
