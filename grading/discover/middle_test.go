package discover

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// What one part must be, where the other is known, is what the step says.
func TestNeededIsWhatTheStepGives(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 9))
	for _, o := range []op{opAdd, opApart, opMul, opDiv, opHypot} {
		for range 2000 {
			x, y := 0.1+60*rnd.Float64(), 0.1+60*rnd.Float64()
			v := o.two(x, y)
			w := stretchOfNumbers{v - 0.05, v + 0.05}
			if !within(needed(o, x, true, w), y) || !within(needed(o, y, false, w), x) {
				t.Errorf("op %d of %v and %v gives %v, which needed does not give back", o, x, y, v)
			}
			for _, s := range needed(o, x, true, w) {
				at := s.lo + (s.hi-s.lo)*rnd.Float64()
				if got := o.two(x, at); at > 0 && math.Abs(got-v) > 0.0501 {
					t.Errorf("op %d of %v and %v gives %v, want about %v", o, x, at, got, v)
				}
			}
		}
	}
}

func within(stretches []stretchOfNumbers, v float64) bool {
	for _, s := range stretches {
		if v >= s.lo-1e-9 && v <= s.hi+1e-9 {
			return true
		}
	}
	return false
}

// Single precision keeps the order of numbers, whatever their signs.
func TestOrderedKeepsOrder(t *testing.T) {
	numbers := []float64{math.Inf(-1), -1e9, -2, -1e-9, 0, 1e-9, 0.5, 2, 1e9, math.Inf(1)}
	for i := range numbers[1:] {
		if a, b := ordered(numbers[i]), ordered(numbers[i+1]); a >= b {
			t.Errorf("ordered(%v) = %d and ordered(%v) = %d, want them in order", numbers[i], a, numbers[i+1], b)
		}
	}
}

// A formula larger than any of the bank's is met in the middle by those who
// share it, whatever step puts it together.
func TestMeetFindsLargerFormulas(t *testing.T) {
	const s = signature("LLLAA")
	b, err := grow(context.Background(), s, 7, bankMost, func(float64) {})
	if err != nil {
		t.Fatalf("grow(%s) = %v, want none", s, err)
	}
	for _, c := range []struct {
		name  string
		asked kind
		value func(v []float64) float64 // of three lengths and two angles
	}{
		{"(a − b)/cos(v + w)", length, func(v []float64) float64 { return math.Abs(v[0]-v[1]) / math.Cos((v[3]+v[4])*degree) }},
		{"a·tan v + b·tan w", length, func(v []float64) float64 { return v[0]*math.Tan(v[3]*degree) + v[1]*math.Tan(v[4]*degree) }},
		{"atan((a + b)/(b + c))", angle, func(v []float64) float64 { return math.Atan((v[0]+v[1])/(v[1]+v[2])) / degree }},
		{"90 − asin(sin(v + w)·cos w)", angle, func(v []float64) float64 {
			return 90 - math.Asin(math.Sin((v[3]+v[4])*degree)*math.Cos(v[4]*degree))/degree
		}},
	} {
		c, want := c, 9
		class := sharedClass(s, 30, want, c.value)
		own, _, err := b.meet(context.Background(), class, c.asked, func(float64) {})
		if err != nil {
			t.Fatalf("meet = %v, want none", err)
		}
		most := 0
		for _, m := range own {
			most = max(most, m.answers)
		}
		if most < want {
			t.Errorf("%s: the best formula met gives %d answers, want %d", c.name, most, want)
		}
	}
}

// sharedClass is a class of n over invented blanks, some of whom share a
// formula.
func sharedClass(s signature, n, follow int, value func([]float64) float64) *class {
	rnd := rand.New(rand.NewPCG(4, uint64(n)))
	var blanks [][]float64
	values, halves := make([]float64, n), make([]float64, n)
	for i := range n {
		var blank []float64
		for _, k := range s.kinds() {
			blank = append(blank, invented(k, rnd)[0])
		}
		blanks = append(blanks, blank)
		v := value(blank)
		if i >= follow {
			v *= 0.4 + 2*rnd.Float64()
		}
		values[i], halves[i] = math.Round(10*v)/10, 0.05
	}
	return newClass(blanks, values, halves)
}
