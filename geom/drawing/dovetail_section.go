package drawing

// sectionPlaces are the corners of a section through one tail: x to the pin
// board's outer face, y down, the corner where the two inner faces meet at the
// origin.
type sectionPlaces struct {
	k          float64
	tailFoot   float64 // the tail board's outer face
	outer, tip float64 // the pin board's outer face, and where the tail ends
	left, top  float64 // the breaks
}

// sectionPlaces places the section where at most k units are a millimetre.
func (g dovetail) sectionPlaces(scaled func(float64) float64) sectionPlaces {
	k := scaled(fitTo(g.tailBoard, 84, g.pinBoard, 84))
	return sectionPlaces{
		k: k, tailFoot: g.tailBoard * k, outer: g.pinBoard * k, tip: g.length * k,
		left: -124, top: -84,
	}
}

// sectionView is view A: the joined corner cut through one tail.
func (g dovetail) sectionView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	p := g.sectionPlaces(s.scaled)
	g.sectionWood(c, p)
	g.sectionSizes(c, p)
	v := c.view("section", "A", s.said("the joined corner, cut through one tail", p.k))
	v.Title = "The joined corner, cut through one tail"
	v.Desc = "The tail board lies, its reference face up; the pin board stands on it, its inner face toward the corner. The tail reaches through the pin board."
	if g.lapped {
		v.Desc = "The tail board lies, its reference face up; the pin board stands on it, its inner face toward the corner. The tail stops at the lap, which hides it from the front."
	}
	return sheetView{c, v}
}

func (g dovetail) sectionWood(c *canvas, p sectionPlaces) {
	c.line(visible, pt{p.left, 0}, pt{p.tip, 0}, pt{p.tip, p.tailFoot}, pt{p.left, p.tailFoot})
	c.breakLine(pt{p.left, 0}, pt{p.left, p.tailFoot})
	if g.lapped {
		c.line(visible, pt{0, 0}, pt{0, p.top})
		c.line(visible, pt{p.outer, p.top}, pt{p.outer, p.tailFoot}, pt{p.tip, p.tailFoot})
	} else {
		c.line(visible, pt{0, p.top}, pt{0, 0})
		c.line(visible, pt{p.outer, 0}, pt{p.outer, p.top})
	}
	c.breakLine(pt{0, p.top}, pt{p.outer, p.top})
	c.note(pt{p.left + 10, p.tailFoot/2 + 5}, start, "tail board")
	c.note(pt{p.outer + 10, p.top/2 + 5}, start, "pin board")
	c.note(pt{p.left + 6, -9}, start, "reference face")
}

func (g dovetail) sectionSizes(c *canvas, p sectionPlaces) {
	along := pt{1, 0}
	c.sized(dimension{from: pt{p.left, 0}, to: pt{p.left, p.tailFoot}, line: pt{p.left - 22, 0}, along: pt{0, 1}}, "tail_thickness")
	c.sized(dimension{from: pt{0, p.top}, to: pt{p.outer, p.top}, line: pt{0, p.top - 30}, along: along}, "pin_thickness")
	row := p.tailFoot + 32
	if g.lapped {
		c.sized(dimension{from: pt{p.tip, p.tailFoot}, to: pt{p.outer, p.tailFoot}, line: pt{0, p.tailFoot + 24}, along: along}, "lap")
		row += 22
	}
	c.sized(dimension{from: pt{0, p.tailFoot}, to: pt{p.tip, p.tailFoot}, line: pt{0, row}, along: along, ball: beyondFrom, text: beyondFrom}, "tail_baseline")
}
