package drawing

import "sort"

// hatchStep is the distance between hatching lines.
const hatchStep = 8.0

// hatch fills outlines with narrow lines at 45 degrees. Lines lie on one grid
// over the whole paper, so that neighbouring outlines match; a point inside
// an odd number of outlines is inside.
func (c *canvas) hatch(outlines ...[]pt) { c.hatchEvery(hatchStep, outlines...) }

// hatchEvery is hatch with lines at another distance from each other.
func (c *canvas) hatchEvery(distance float64, outlines ...[]pt) {
	lo, hi := diagonals(outlines)
	s := stroke{kind: narrow}
	for k := int(lo/(distance*1.4142)) - 1; float64(k)*distance*1.4142 <= hi; k++ {
		d := float64(k) * distance * 1.4142
		xs := crossings(outlines, d)
		for i := 0; i+1 < len(xs); i += 2 {
			if xs[i+1]-xs[i] < 1.5 {
				continue
			}
			s.steps = append(s.steps,
				step{op: 'M', p: pt{xs[i], d - xs[i]}},
				step{op: 'L', p: pt{xs[i+1], d - xs[i+1]}})
		}
	}
	if len(s.steps) > 0 {
		c.put(s)
	}
}

// diagonals is the range of x + y over all corners: a hatching line is
// x + y = d.
func diagonals(outlines [][]pt) (lo, hi float64) {
	lo, hi = 1e9, -1e9
	for _, o := range outlines {
		for _, p := range o {
			lo, hi = min(lo, p.x+p.y), max(hi, p.x+p.y)
		}
	}
	return lo, hi
}

// crossings lists where the line x + y = d crosses the outlines, by x.
func crossings(outlines [][]pt, d float64) []float64 {
	var xs []float64
	for _, o := range outlines {
		for i, p := range o {
			q := o[(i+1)%len(o)]
			f, g := p.x+p.y-d, q.x+q.y-d
			if (f < 0) == (g < 0) {
				continue
			}
			xs = append(xs, p.x+(q.x-p.x)*(f/(f-g)))
		}
	}
	sort.Float64s(xs)
	return xs
}
