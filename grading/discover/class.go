package discover

import "math"

// class is the answers that a search looks at: sizes by column, and for each
// student what the answer may stand for.
type class struct {
	n       int
	cols    [][]float64 // by given, then by student
	windows []window    // by student
}

// window is the stretch of numbers that a student's answer may stand for, as
// its middle and the square of half its length, so that one comparison tells
// whether a number lies in it; nothing does where the square is negative.
//
// Beside it stands the decoy's: the answer of the next student, who has another
// blank. What a formula finds there it finds by chance.
type window struct{ mid, reach, decoyMid, decoyReach float64 }

// newClass puts the answers into columns. blanks holds the sizes by student.
func newClass(blanks [][]float64, values, halves []float64) *class {
	c := &class{n: len(values), windows: make([]window, len(values))}
	if c.n > 0 {
		c.cols = make([][]float64, len(blanks[0]))
	}
	for k := range c.cols {
		c.cols[k] = make([]float64, c.n)
		for i := range blanks {
			c.cols[k][i] = blanks[i][k]
		}
	}
	for i, v := range values {
		play := halves[i] + 1e-9*(1+math.Abs(v))
		before := &c.windows[(i+c.n-1)%c.n]
		c.windows[i].mid, c.windows[i].reach = v, play*play
		before.decoyMid, before.decoyReach = v, play*play
	}
	return c
}

// pick gives some of the students, with the decoys they have.
func (c *class) pick(which []int) *class {
	p := &class{n: len(which), windows: make([]window, len(which))}
	for k, i := range which {
		p.windows[k] = c.windows[i]
	}
	for _, col := range c.cols {
		picked := make([]float64, len(which))
		for k, i := range which {
			picked[k] = col[i]
		}
		p.cols = append(p.cols, picked)
	}
	return p
}

// part is the students from one to another.
func (c *class) part(from, to int) *class {
	p := &class{n: to - from, windows: c.windows[from:to]}
	for _, col := range c.cols {
		p.cols = append(p.cols, col[from:to])
	}
	return p
}

// over gives the class with its columns in another order: place by place.
func (c *class) over(places []int) *class {
	out := *c
	out.cols = make([][]float64, len(places))
	for i, p := range places {
		out.cols[i] = c.cols[p]
	}
	return &out
}

// holds says that a number lies in the student's window.
func (w *window) holds(v float64) bool {
	d := v - w.mid
	return d*d <= w.reach
}

// beside says that a number lies beside the student's window: outside it, by
// up to its length.
func (w *window) beside(v float64) bool {
	d := v - w.mid
	return d*d > w.reach && d*d <= 9*w.reach
}

// decoyHolds says that a number lies in the decoy's window.
func (w *window) decoyHolds(v float64) bool {
	d := v - w.decoyMid
	return d*d <= w.decoyReach
}

// before gives for a last step on one number the windows of that number, so
// that the step need not be worked out. It is nil where a stretch of answers
// does not come from one stretch of numbers.
func (c *class) before(o op) []window {
	out := make([]window, c.n)
	for i := range c.windows {
		w := &c.windows[i]
		var ok bool
		if out[i].mid, out[i].reach, ok = stretchBefore(o, w.mid, w.reach); !ok {
			return nil
		}
		out[i].decoyMid, out[i].decoyReach, _ = stretchBefore(o, w.decoyMid, w.decoyReach)
	}
	return out
}

func stretchBefore(o op, mid, reach float64) (m, r float64, ok bool) {
	if reach < 0 {
		return mid, reach, true
	}
	half := math.Sqrt(reach)
	lo, hi, ok := before(o, mid-half, mid+half)
	if !ok || hi < lo {
		return 0, -1, ok
	}
	half = (hi-lo)/2 + 1e-12*math.Abs(lo)
	return lo + (hi-lo)/2, half * half, true
}

func before(o op, lo, hi float64) (from, to float64, ok bool) {
	switch o {
	case opNeg:
		return -hi, -lo, true
	case opDouble:
		return lo / 2, hi / 2, true
	case opHalf:
		return 2 * lo, 2 * hi, true
	case opComplement:
		return 90 - hi, 90 - lo, true
	case opSupplement:
		return 180 - hi, 180 - lo, true
	case opFromInch:
		return lo / inch, hi / inch, true
	case opToInch:
		return lo * inch, hi * inch, true
	case opRoot:
		if hi < 0 {
			return 1, 0, true
		}
		lo = max(lo, 0)
		return lo * lo, hi * hi, true
	case opAsin, opAcos, opAtan:
		return beforeAngle(o, lo, hi)
	}
	return 0, 0, false
}

func beforeAngle(o op, lo, hi float64) (from, to float64, ok bool) {
	least, most := -90.0, 90.0
	if o == opAcos {
		least, most = 0, 180
	}
	if hi < least || lo > most {
		return 1, 0, true
	}
	lo, hi = max(lo, least)*degree, min(hi, most)*degree
	switch o {
	case opAsin:
		return math.Sin(lo), math.Sin(hi), true
	case opAcos:
		return math.Cos(hi), math.Cos(lo), true
	}
	from, to = -1e12, 1e12 // a right angle is near
	if lo > -math.Pi/2 {
		from = math.Tan(lo)
	}
	if hi < math.Pi/2 {
		to = math.Tan(hi)
	}
	return from, to, true
}
