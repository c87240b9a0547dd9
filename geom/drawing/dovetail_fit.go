package drawing

import "arrisbook/geom/joint"

// Places of the fit pictures: the two flanks stand this far from the middle
// between them, and every piece is shown this far to its break.
const (
	flankApart = 92.0
	flankWood  = 62.0
	flankHigh  = 96.0
)

// fitScale is what a millimetre of a tail's length is in the fit pictures.
func (g dovetail) fitScale() float64 { return flankHigh / g.length }

func dovetailFit(l joint.Layout, d fitDrawing) []View {
	g := newDovetail(l)
	views := []View{g.flanksFit(d)}
	if _, ok := d.faces["proud"]; ok || g.lapped {
		views = append(views, g.endFit(d))
	}
	return views
}

// flanksFit are two flanks of tails between their pins: on the left the one
// with the widest gap, on the right the one that would go deepest into its
// pin.
func (g dovetail) flanksFit(d fitDrawing) View {
	c := &canvas{}
	gap, deep := d.face("gap"), d.face("interference")
	lean := flankHigh / g.length * g.offset()
	// The left flank: the pin is on its left, the tail on its right.
	pinTop, pinFoot := pt{-flankApart, 0}, pt{-flankApart + lean, flankHigh}
	tailTop, tailFoot := pinTop.add(pt{gap.most, 0}), pinFoot.add(pt{gap.most, 0})
	c.pieceBeside(pinTop, pinFoot, -flankWood, "pin")
	c.pieceBeside(tailTop, tailFoot, flankWood, "tail")
	c.sayGap(pinTop, tailTop, gap, "no gap")
	// The right flank: the tail is on its left.
	pinTop, pinFoot = pt{flankApart, 0}, pt{flankApart - lean, flankHigh}
	tailTop, tailFoot = pinTop.add(pt{deep.most, 0}), pinFoot.add(pt{deep.most, 0})
	c.pieceBeside(tailTop, tailFoot, -flankWood-deep.most, "tail")
	if deep.most < 1 {
		c.pieceBeside(pinTop, pinFoot, flankWood, "pin")
	} else {
		c.hatch([]pt{pinTop, tailTop, tailFoot, pinFoot})
		c.line(hidden, pinTop, pinFoot)
		c.pieceBeside(tailTop, tailFoot, flankWood-deep.most, "pin")
	}
	c.sayGap(pinTop, tailTop, deep, "no overlap")
	c.note(pt{-flankApart, flankHigh + 24}, middle, "the widest gap")
	c.note(pt{flankApart - lean, flankHigh + 24}, middle, "the deepest overlap")

	v := c.view("fit-flanks", "E", "flanks of tails between pins, seen on the tail board’s face. "+d.note)
	v.Title = "How the tails would lie between the pins, seen on the tail board’s face"
	v.Desc = d.tells
	return v
}

// pieceBeside is a piece of wood beside an upright line, to its break: width
// to the right, or to the left where it is negative.
func (c *canvas) pieceBeside(top, foot pt, width float64, name string) {
	away := pt{width, 0}
	farTop := pt{top.x + width, top.y}
	farFoot := pt{farTop.x, foot.y}
	c.line(visible, farTop, top, foot, farFoot)
	c.breakLine(farTop, farFoot)
	if name != "" {
		c.note(top.mid(foot).add(away.times(0.58)).add(pt{0, 5}), middle, name)
	}
}

// sayGap dimensions a face over the wood, or says that nothing is left there.
func (c *canvas) sayGap(from, to pt, a fitFace, none string) {
	switch {
	case a.mostSays == "": // true proportion: no words
	case a.most == 0:
		c.gapAcross(from, from, -22, none)
	default:
		c.gapAcross(from, to, -22, a.mostSays)
	}
}

// endFit is a section through one tail of a lapped joint: whether the tails'
// ends stand off the lap, or keep the shoulders off.
func (g dovetail) endFit(d fitDrawing) View {
	c := &canvas{}
	a := d.face("proud")
	p := g.sectionPlaces(Sheet{}.scaled)
	back, short := 0.0, 0.0
	if a.negative {
		short = a.most
	} else {
		back = a.most
	}
	shoulder, tip := -back, p.tip-short
	c.line(visible, pt{p.left, 0}, pt{tip, 0}, pt{tip, p.tailFoot}, pt{p.left, p.tailFoot})
	c.breakLine(pt{p.left, 0}, pt{p.left, p.tailFoot})
	c.line(hidden, pt{shoulder, 0}, pt{shoulder, p.tailFoot})
	c.line(visible, pt{0, p.top}, pt{0, 0}, pt{p.tip, 0}, pt{p.tip, p.tailFoot}, pt{p.outer, p.tailFoot}, pt{p.outer, p.top})
	c.breakLine(pt{0, p.top}, pt{p.outer, p.top})
	c.note(pt{p.left + 10, p.tailFoot/2 + 5}, start, "tail")
	c.note(pt{p.outer / 2, p.top/2 + 5}, middle, "pin board")
	c.sayAtEnd(p, back, short, a)
	v := c.view("fit-end", "A", "a tail’s end before the lap, in section. "+d.note)
	v.Title = "How the tails’ ends would meet the lap, in section"
	v.Desc = d.tells
	return v
}

// sayAtEnd dimensions what stands off below the section: the shoulder where
// the tails are too long, the lap where they are too short.
func (c *canvas) sayAtEnd(p sectionPlaces, back, short float64, a fitFace) {
	if a.mostSays == "" {
		return
	}
	from, to := pt{p.tip - short, p.tailFoot}, pt{p.tip, p.tailFoot}
	if back > 0 {
		from, to = pt{-back, p.tailFoot}, pt{0, p.tailFoot}
	}
	words := a.mostSays
	if a.most == 0 {
		words = "at the lap"
	}
	c.gapAcross(from, to, 26, words)
}
