package drawing

import "arrisbook/geom/joint"

func boxFit(l joint.Layout, d fitDrawing) []View {
	k, ok := newBoxHoop(l)
	if !ok {
		return []View{}
	}
	return k.fitViews(d)
}

// boxTemplate is one side's outside face with both its ends.
func boxTemplate(l joint.Layout) []Flat {
	k, ok := newBoxHoop(l)
	if !ok {
		return []Flat{}
	}
	return []Flat{k.sideTemplate("The outside face of a side", "bottom edge", "top edge",
		"The bottom edge’s line lies on the arris of the board’s bottom edge. The slanting lines are the ends on the outside face; the edge’s bevel is set on the saw, from square to this face.")}
}

// sideTemplate is the outside face of the first side, true to size, or where
// that is too long its right-hand end up to a break.
func (h hoop) sideTemplate(title, foot, head, says string) Flat {
	const longest, shownOf = 380.0, 150.0
	f := newFlat()
	st := stage{h.sideFace(), f.scale}
	low, high := [2]pt{st.on(h.lowLeft), st.on(h.lowRight)}, [2]pt{st.on(h.highLeft), st.on(h.highRight)}
	if low[0].to(low[1]) > longest*fullSize {
		low[0], high[0] = low[1].sub(pt{shownOf * fullSize, 0}), pt{low[1].x - shownOf*fullSize, high[1].y}
		f.breakLine(low[0], high[0])
		f.line(visible, low[1], high[1])
	} else {
		f.line(visible, low[1], high[1])
		f.line(visible, low[0], high[0])
		f.line(centre, low[0].mid(low[1]).add(pt{0, 20}), high[0].mid(high[1]).sub(pt{0, 20}))
	}
	f.line(narrow, low[0], low[1])
	f.line(narrow, high[0], high[1])
	f.along(low[0].add(pt{8, 0}), low[0].mid(low[1]), foot)
	f.along(high[0].mid(high[1]), high[0].add(pt{8, 0}), head)
	return f.finish("side", title, says)
}
