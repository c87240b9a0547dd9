package drawing

// IntervalStrip shows a share between none and all: a dot, and its interval
// as a dimension with end marks, over a line with quarters marked. All three
// are from 0 to 1. The label is what people hear instead of the picture.
func IntervalStrip(lo, hi, dot float64, label string) View {
	const from, long, base, mid = 6.0, 188.0, 20.0, 11.0
	c := &canvas{}
	at := func(share float64) float64 { return from + min(max(share, 0), 1)*long }
	c.line(narrow, pt{at(0), base}, pt{at(1), base})
	for q, tick := range [...]float64{7, 4, 4, 4, 7} {
		x := at(float64(q) / 4)
		c.line(narrow, pt{x, base}, pt{x, base - tick})
	}
	c.line(visible, pt{at(lo), mid}, pt{at(hi), mid})
	for _, end := range []float64{lo, hi} {
		c.line(visible, pt{at(end), mid - 6}, pt{at(end), mid + 6})
	}
	c.put(ring{ink, pt{at(dot), mid}, 5})
	return View{Title: label, W: 200, H: 24, class: "strip", items: c.byLayer(pt{})}
}
