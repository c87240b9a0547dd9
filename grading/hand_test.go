package grading_test

import (
	"math"
	"strconv"
)

// A hand works a sheet out as a person does: one operation after another, with
// a pencil. Each operation knows what commonly goes wrong with it, and a hand
// can be told to go wrong at one operation, or at two. It knows nothing of
// formulas, trees or patterns: it only has numbers, and the name of the slip
// that it was told to make.
type hand struct {
	given map[string]float64
	unit  map[string]string // of givens and of numbers: mm, deg, mm2, 1
	// allowance and pair say which givens are left on or taken off for fitting,
	// and which count both sides of something.
	allowance, pair map[string]bool
	radians         bool // the calculator is set to radians

	plan   map[int]int // operation → which of its mishaps happens
	n      int         // operations so far
	offers []offer     // what could have gone wrong
}

// mishap is one way for an operation to go wrong, and what comes out then.
type mishap struct {
	name  string
	value float64
}

// offer is one mishap that a working has room for.
type offer struct {
	op, which int
	name      string
}

// op does one operation.
func (h *hand) op(right float64, wrong ...mishap) float64 {
	i := h.n
	h.n++
	for k, w := range wrong {
		h.offers = append(h.offers, offer{i, k, w.name})
	}
	if k, ok := h.plan[i]; ok && k < len(wrong) {
		return wrong[k].value
	}
	return right
}

// read takes a given off the drawing.
func (h *hand) read(id string) float64 {
	v := h.given[id]
	var wrong []mishap
	for _, other := range sortedKeys(h.given) {
		if other != id && h.unit[other] == h.unit[id] {
			wrong = append(wrong, mishap{"wrong-measure", h.given[other]})
		}
	}
	if h.unit[id] == "deg" {
		wrong = append(wrong, mishap{"tilt-ignored", 0})
	}
	if h.allowance[id] {
		wrong = append(wrong, mishap{"allowance-forgotten", 0}, mishap{"allowance-subtracted", -v})
	}
	if h.pair[id] {
		wrong = append(wrong, mishap{"one-sided", v / 2}, mishap{"one-sided", 2 * v})
	}
	return h.op(v, wrong...)
}

func (h *hand) half(v float64) float64 {
	return h.op(v/2, mishap{"half-forgotten", v}, mishap{"halved-twice", v / 4})
}

func (h *hand) twice(v float64) float64 { return h.op(2*v, mishap{"one-sided", v}) }

func (h *hand) plus(a, b float64) float64  { return h.op(a+b, mishap{"sign-flipped", a - b}) }
func (h *hand) minus(a, b float64) float64 { return h.op(a-b, mishap{"sign-flipped", a + b}) }

// ratio sets two lengths against each other.
func (h *hand) ratio(a, b float64) float64 {
	return h.op(a/b, mishap{"ratio-inverted", b / a}, mishap{"added-for-multiplied", a - b})
}

// over divides a measure by a factor.
func (h *hand) over(a, f float64) float64 {
	return h.op(a/f, mishap{"factor-inverted", a * f}, mishap{"added-for-multiplied", a - f})
}

// overCos divides by a cosine: from a run to the slope above it.
func (h *hand) overCos(a, cos float64) float64 {
	return h.op(a/cos, mishap{"factor-inverted", a * cos}, mishap{"added-for-multiplied", a - cos}, mishap{"slope-for-run", a})
}

// times multiplies a measure by a factor.
func (h *hand) times(a, f float64) float64 {
	return h.op(a*f, mishap{"factor-inverted", a / f}, mishap{"added-for-multiplied", a + f})
}

// part is an equal part of a measure; a whole number of things has no slip of
// its own beyond the multiplying.
func (h *hand) part(a, n float64) float64 { return h.op(a/n, mishap{"factor-inverted", a * n}) }

// hypotenuse of two legs.
func (h *hand) hypotenuse(a, b float64) float64 {
	return h.op(math.Sqrt(a*a+b*b), mishap{"slope-for-run", a}, mishap{"slope-for-run", b},
		mishap{"added-for-multiplied", a + b}, mishap{"sign-flipped", math.Sqrt(a*a - b*b)})
}

// twoSlopes is the tangent of the lean that two slopes make together.
func (h *hand) twoSlopes(a, b float64) float64 {
	r := math.Sqrt(a*a + b*b)
	return h.op(r, mishap{"slopes-combined", a * b / r}, mishap{"added-for-multiplied", a + b})
}

// onTheWay is a number written down between two steps of the working.
func (h *hand) onTheWay(v float64) float64 { return h.op(v, mishap{"rounded-early", math.Round(v)}) }

func (h *hand) in(deg float64) float64 {
	if h.radians {
		return deg
	}
	return deg * math.Pi / 180
}

func (h *hand) out(rad float64) float64 {
	if h.radians {
		return rad
	}
	return rad * 180 / math.Pi
}

func (h *hand) sin(a float64) float64 {
	x := h.in(a)
	return h.op(math.Sin(x), mishap{"wrong-function", math.Cos(x)}, mishap{"wrong-function", math.Tan(x)})
}

func (h *hand) cos(a float64) float64 {
	x := h.in(a)
	return h.op(math.Cos(x), mishap{"wrong-function", math.Sin(x)}, mishap{"wrong-function", math.Tan(x)})
}

func (h *hand) tan(a float64) float64 {
	x := h.in(a)
	return h.op(math.Tan(x), mishap{"wrong-function", math.Sin(x)}, mishap{"wrong-function", math.Cos(x)})
}

func (h *hand) asin(v float64) float64 {
	return h.op(h.out(math.Asin(v)), mishap{"wrong-function", h.out(math.Acos(v))}, mishap{"wrong-function", h.out(math.Atan(v))})
}

func (h *hand) atan(v float64) float64 {
	return h.op(h.out(math.Atan(v)), mishap{"wrong-function", h.out(math.Asin(v))}, mishap{"wrong-function", h.out(math.Acos(v))})
}

// lastAtan and lastAsin end a working: here a person may stop at the ratio.
func (h *hand) lastAtan(v float64) float64 {
	return h.op(h.out(math.Atan(v)), mishap{"inverse-missing", v},
		mishap{"wrong-function", h.out(math.Asin(v))}, mishap{"wrong-function", h.out(math.Acos(v))})
}

func (h *hand) lastAsin(v float64) float64 {
	return h.op(h.out(math.Asin(v)), mishap{"inverse-missing", v},
		mishap{"wrong-function", h.out(math.Acos(v))}, mishap{"wrong-function", h.out(math.Atan(v))})
}

// writeDown puts the answer on the sheet. across is the width of the board for
// an offset from the reference edge, 0 for anything else; others are the
// joint's other numbers.
func (h *hand) writeDown(id string, v, across float64, others map[string]float64) float64 {
	wrong := []mishap{{"double", 2 * v}, {"half", v / 2}, {"decimal-shift", v * 10}, {"decimal-shift", v / 10}}
	switch h.unit[id] {
	case "deg":
		wrong = append(wrong, mishap{"complement", 90 - v}, mishap{"supplement", 180 - v}, mishap{"radians", v * math.Pi / 180})
	case "mm":
		wrong = append(wrong, mishap{"inches-as-mm", v / 25.4}, mishap{"mm-as-inches", v * 25.4},
			mishap{"rule-from-one", v + 10}, mishap{"rule-from-one", v + 25.4})
	}
	if across > 0 {
		wrong = append(wrong, mishap{"far-edge", across - v})
	}
	for _, o := range sortedKeys(others) {
		if o != id && h.unit[o] == h.unit[id] {
			wrong = append(wrong, mishap{"other-quantity", others[o]})
		}
	}
	for _, g := range sortedKeys(h.given) {
		if h.unit[g] == h.unit[id] {
			wrong = append(wrong, mishap{"wrong-measure", h.given[g]})
		}
	}
	return h.op(v, wrong...)
}

// swapped changes two neighbouring digits of a written number round, the
// first pair that differs from the at-th on; ok is false where none does.
func swapped(text string, at int) (string, bool) {
	b := []byte(text)
	for i := at; i+1 < len(b); i++ {
		j := i + 1
		if b[j] == '.' {
			j++
		}
		if b[i] != '.' && j < len(b) && b[i] != b[j] {
			b[i], b[j] = b[j], b[i]
			return string(b), true
		}
	}
	return "", false
}

func written(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
