package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// Places of the leg's fit pictures.
const legFoot = 40.0 // half of the foot, as it is drawn: larger than any gap

func (g leg) fitScale() float64 { return legFoot / (seatLeg / 2) }

func legFit(l joint.Layout, d fitDrawing) []View {
	g := newLeg(l)
	var views []View
	if a, told := d.faces["foot_error"]; told {
		views = append(views, g.footFit(d, a))
	}
	if a, told := d.faces["height_error"]; told {
		views = append(views, g.heightFit(d, a))
	}
	return views
}

// footFit is the floor from above: where the foot should stand, and how far
// off it would. The way it is off is nearly the number, and no family's
// consequences tell it: the foot is somewhere on a ring.
func (g leg) footFit(d fitDrawing, a fitFace) View {
	c := &canvas{}
	o := pt{}
	c.put(ring{visible, o, legFoot})
	c.line(centre, pt{-legFoot - 8, 0}, pt{legFoot + 8, 0})
	c.line(centre, pt{0, -legFoot - 8}, pt{0, legFoot + 8})
	sight := heading(g.sight)
	c.line(narrow, sight.times(-legFoot-10), sight.times(-120))
	c.nameOut(sight.times(-70), pt{-1, -1}, "from the hole")
	c.mapError(a, o)
	v := c.view("fit-foot", "A", "the foot on the floor, from above. "+d.note)
	v.Title = "How far from its place the foot would stand, seen from above"
	v.Desc = d.tells
	return v
}

// mapError draws the ring on which a point lies that is off by a size.
func (c *canvas) mapError(a fitFace, o pt) {
	c.put(ring{ink, o, 3})
	u := heading(-pi / 5)
	if a.most >= 1 {
		c.put(ring{phantom, o, a.most})
		c.arrow(u.times(a.most), u)
		c.line(narrow, o, u.times(a.most))
	}
	if words := a.off(); words != "" {
		c.nameOut(u.times(math.Max(a.most/2, 4)), pt{1, 1}, words)
	}
}

// heightFit is the foot from the side: where the floor should be, and where it
// would be.
func (g leg) heightFit(d fitDrawing, a fitFace) View {
	c := &canvas{}
	lean := heading(-pi/2 + g.resultant)
	half := legFoot / math.Cos(g.resultant)
	top := pt{}.sub(lean.times(120))
	c.line(visible, top.sub(pt{half, 0}), pt{-half, 0}, pt{half, 0}, top.add(pt{half, 0}))
	c.breakLine(top.sub(pt{half, 0}), top.add(pt{half, 0}))
	c.line(narrow, pt{-126, 0}, pt{126, 0})
	c.axis(top, pt{})
	c.levelError(d, a, -116, 116)
	v := c.view("fit-height", "B", "the foot from the side, along the floor. "+d.note)
	v.Title = "How high the seat would stand on this leg"
	v.Desc = d.tells
	return v
}

// levelError draws the level that something should have and the one it would
// have, between two stations; by bands it is drawn to either side.
func (c *canvas) levelError(d fitDrawing, a fitFace, from, to float64) {
	if a.most == 0 {
		if words := a.off(); words != "" {
			c.nameOut(pt{to - 12, 0}, pt{1, -1}, words)
		}
		return
	}
	levels := []float64{-a.signed()}
	if d.band {
		levels = []float64{-a.most, a.most}
	}
	for _, y := range levels {
		c.line(phantom, pt{from, y}, pt{to, y})
	}
	c.mark(ruler{from: pt{to, 0}, to: pt{to, levels[0]}, along: pt{0, -1}, out: pt{1, 0}, off: 16}, a.mostSays)
}

// legTemplate is the seat's underside about one hole: the hole's centre, the
// rake direction and the sightline with the bevel that goes along it.
func legTemplate(l joint.Layout) []Flat {
	g := newLeg(l)
	f := newFlat()
	const arm, across = 100.0, 30.0
	sin, cos := math.Sincos(g.sight)
	f.put(ring{visible, f.at(0, 0), seatLeg / 4 * fullSize})
	f.line(centre, f.at(-across, 0), f.at(arm, 0))
	f.line(centre, f.at(0, -across), f.at(0, arm))
	f.line(visible, f.at(-across*cos, -across*sin), f.at(arm*cos, arm*sin))
	f.along(f.at(0.62*arm, 0), f.at(arm, 0), "rake direction")
	f.along(f.at(0, 0.62*arm), f.at(0, arm), "outward")
	f.along(f.at(0.5*arm*cos, 0.5*arm*sin), f.at(arm*cos, arm*sin), "sightline")
	hole := f.finish("hole", "The hole’s place",
		"The crossing lies on the hole’s centre on the underside of the seat, the rake direction along the seat’s; the sightline is where the bevel stands.")
	return []Flat{hole, g.bevelFlat()}
}

// bevelFlat is the bevel for boring, on the seat's underside.
func (g leg) bevelFlat() Flat {
	const arm, across = 100.0, 30.0
	f := newFlat()
	sin, cos := math.Sincos(g.resultant)
	f.line(visible, f.at(-across, 0), f.at(arm, 0))
	f.line(visible, f.at(0, 0), f.at(0.9*arm*sin, -0.9*arm*cos))
	f.line(narrow, f.at(0, 0), f.at(0, -0.9*arm))
	f.along(f.at(0.3*arm, 0), f.at(arm, 0), "underside of the seat")
	return f.finish("bevel", "The bevel for boring",
		"Set the bevel’s stock to the level line and its blade to the slanting one, and stand it on the seat along the sightline. The upright line is square to the seat.")
}
