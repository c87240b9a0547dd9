package grading

import (
	"math"
	"math/bits"
	"math/rand/v2"

	"arrisbook/geom/joint"
)

// A stream is where blanks come from. A seed must give the same blank for
// ever, so nothing here may change: the PCG generator (O'Neill, PCG-XSL-RR
// 128/64; math/rand/v2 keeps its sequence), its second word fixed below, and
// our own mapping to a range instead of the library's, which is free to change.
type stream struct{ src *rand.PCG }

// streamWord is the second half of every seed: an arbitrary number, fixed.
const streamWord = 0x6172726973626f6b

func newStream(seed uint64) stream { return stream{rand.NewPCG(seed, streamWord)} }

// below draws a whole number under n by multiplying and keeping the upper
// word. For the ranges here the unevenness is under 1e-13.
func (s stream) below(n int) int {
	hi, _ := bits.Mul64(s.src.Uint64(), uint64(n))
	return int(hi)
}

// count is how many values a given can take.
func (g Given) count() int {
	if len(g.Only) > 0 {
		return len(g.Only)
	}
	if g.By <= 0 {
		return 1
	}
	return int(math.Floor((g.To-g.From)/g.By+1e-6)) + 1
}

// value is the i-th of them.
func (g Given) value(i int) float64 {
	if len(g.Only) > 0 {
		return g.Only[i]
	}
	return onGrid(g.From + float64(float64(i)*g.By))
}

// ranges are the givens for a class's units.
func (ex *Exercise) ranges(u Units) []Given {
	if u == Inches && len(ex.InchGivens) > 0 {
		return ex.InchGivens
	}
	return ex.Givens
}

// draw fills the slots of the givens from their ranges, in display order. What
// has no range takes the house blank's size.
func (m *model) draw(ex *Exercise, givens []Given, s stream, vals []float64) {
	if ex.Family != nil {
		for id, v := range ex.Family.House {
			if slot, ok := m.slots[id]; ok && slot < m.givens {
				vals[slot] = v
			}
		}
	}
	for _, g := range givens {
		vals[m.slots[g.ID]] = g.value(s.below(g.count()))
	}
}

// blank gives the givens in the slots as values by id.
func (m *model) blank(vals []float64) joint.Values {
	out := make(joint.Values, m.givens)
	for i, id := range m.names[:m.givens] {
		out[id] = vals[i]
	}
	return out
}

// sampleBlanks draws a handful of blanks to see how an exercise behaves in
// general: which slips ever have a value, which always give the key.
func (m *model) sampleBlanks(ex *Exercise) [][]float64 {
	const samples = 24
	s := newStream(0)
	out := make([][]float64, samples)
	for i := range out {
		out[i] = make([]float64, len(m.names))
		m.draw(ex, ex.Givens, s, out[i])
		m.fill(out[i])
	}
	return out
}
