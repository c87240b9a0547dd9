package drawing

import "arrisbook/geom/joint"

// Places of the fit pictures: how wide and high piece B's end, or the notch,
// is shown.
const (
	lapFitWide = 96.0
	lapFitHigh = 84.0
)

// fitScale is what a millimetre of the thickness is in the fit pictures.
func (g lap) fitScale() float64 { return lapFitHigh / g.thickness }

func lapFit(l joint.Layout, d fitDrawing) []View {
	return []View{newLap(l).crossFit(d)}
}

// crossFit is a section square to piece B: piece B in piece A's notch.
func (g lap) crossFit(d fitDrawing) View {
	c := &canvas{}
	side, flush := d.face("side_gap"), d.face("flush_error")
	const stub = 74.0
	half := lapFitHigh / 2
	play, rise := side.signed(), flush.signed()
	left, right := 0.0, lapFitWide+play // the shoulders
	foot := half
	cheek := 0.0
	// Piece A: notched from its face, which is at -half.
	c.line(visible, pt{left - stub, -half}, pt{left, -half}, pt{left, cheek}, pt{right, cheek}, pt{right, -half}, pt{lapFitWide + stub, -half})
	c.line(visible, pt{left - stub, foot}, pt{lapFitWide + stub, foot})
	c.breakLine(pt{left - stub, -half}, pt{left - stub, foot})
	c.breakLine(pt{lapFitWide + stub, -half}, pt{lapFitWide + stub, foot})
	// Piece B's upper half, its first edge on the first shoulder.
	top := -half - rise
	b := []pt{{0, top}, {lapFitWide, top}, {lapFitWide, cheek}, {0, cheek}}
	if play < 0 {
		c.hatch([]pt{{right, -half}, {lapFitWide, -half}, {lapFitWide, cheek}, {right, cheek}})
	}
	c.outline(visible, b...)
	c.note(pt{left - stub + 30, foot - 12}, middle, "A")
	c.note(pt{lapFitWide / 2, (top+cheek)/2 + 5}, middle, "B")
	c.saySide(side, right, foot, cheek)
	c.sayFlush(flush, top, -half)
	v := c.view("fit-cross", "", "piece B in piece A’s notch, cut square to piece B. "+d.note)
	v.Title = "How piece B would lie in piece A’s notch, cut square to piece B"
	v.Desc = d.tells
	return v
}

// saySide dimensions the play beside piece B, or what it lacks, below the
// wood.
func (c *canvas) saySide(a fitFace, shoulder, foot, cheek float64) {
	if a.mostSays == "" {
		return
	}
	words := a.mostSays
	switch {
	case a.most == 0:
		words = "touches"
	case a.negative:
		words += ", too narrow"
	}
	from, to := pt{lapFitWide, cheek}, pt{shoulder, cheek}
	if a.negative {
		from, to = to, from
	}
	c.gapAcross(from, to, foot-cheek+28, words)
}

// sayFlush dimensions the step between the faces, at piece B's first edge.
func (c *canvas) sayFlush(a fitFace, top, face float64) {
	if a.mostSays == "" {
		return
	}
	words := a.mostSays
	if a.most == 0 {
		c.line(narrow, pt{-24, face - 3}, pt{-24, face - 20})
		c.write(pt{-24, face - 26}, middle, "flush")
		return
	}
	c.dimension(dimension{from: pt{0, top}, to: pt{0, face}, line: pt{-30, 0}, along: pt{0, 1}, bare: true}, tag{})
	c.write(pt{-34, min(top, face) - 24}, middle, words)
}
