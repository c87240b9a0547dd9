package drawing

import (
	"math"
	"slices"
)

// Residual is one answer beside the right number of its own blank.
type Residual struct{ Key, Answer float64 }

// Ratio is the answer as a multiple of the right number; ok is false where the
// right number is 0 or there is none.
func (r Residual) Ratio() (ratio float64, ok bool) {
	ratio = r.Answer / r.Key
	return ratio, !math.IsNaN(ratio) && !math.IsInf(ratio, 0)
}

// The plot's window: ratios that are further off stand at its edge, as
// triangles that point there.
const (
	plotLeast = -0.5
	plotMost  = 3.0
)

// ResidualPlot puts answers over the right numbers of their blanks, upwards as
// multiples of them: so every blank is brought to one size. A formula that is
// off by a factor lies on a level line, any other on a curve, and chance lies
// anywhere. Answers without a ratio are left out. The label is what people hear
// instead of the picture; the numbers belong in a table beside it.
func ResidualPlot(answers []Residual, label string) View {
	const left, right, top, bottom = 56.0, 474.0, 14.0, 204.0
	c := &canvas{}
	var keys []float64
	for _, a := range answers {
		if _, ok := a.Ratio(); ok {
			keys = append(keys, a.Key)
		}
	}
	across := func(float64) float64 { return (left + right) / 2 }
	if len(keys) > 0 {
		lo, hi := slices.Min(keys), slices.Max(keys)
		if hi > lo {
			across = func(k float64) float64 { return left + 14 + (k-lo)/(hi-lo)*(right-left-28) }
		}
	}
	up := func(ratio float64) float64 {
		return bottom - (ratio-plotLeast)/(plotMost-plotLeast)*(bottom-top)
	}
	for _, level := range []struct {
		at   float64
		kind layer
		says string
	}{{0, narrow, "0"}, {0.5, hidden, "half"}, {1, visible, "right"}, {2, hidden, "double"}, {3, hidden, "3 times"}} {
		c.line(level.kind, pt{left, up(level.at)}, pt{right, up(level.at)})
		c.note(pt{left - 6, up(level.at) + 4}, end, level.says)
	}
	c.line(narrow, pt{left, top}, pt{left, bottom}, pt{right, bottom})
	c.note(pt{left, bottom + 18}, start, "smallest right number")
	c.note(pt{right, bottom + 18}, end, "largest")
	for _, a := range answers {
		ratio, ok := a.Ratio()
		switch x := across(a.Key); {
		case !ok:
		case ratio > plotMost:
			c.put(solid{[]pt{{x, top - 9}, {x + 5, top}, {x - 5, top}}})
		case ratio < plotLeast:
			c.put(solid{[]pt{{x, bottom + 3}, {x + 5, bottom - 6}, {x - 5, bottom - 6}}})
		default:
			c.put(ring{ink, pt{x, up(ratio)}, 4.5})
		}
	}
	return View{Title: label, W: 480, H: 228, class: "plot", items: c.byLayer(pt{})}
}
