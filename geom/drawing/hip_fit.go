package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// hipFitScale is what a millimetre is in the fit picture of the ridge.
const hipFitScale = 1.0

func hipFit(l joint.Layout, d fitDrawing) []View { return []View{newHip(l).ridgeFit(d)} }

// ridgeFit is a rafter's head at the ridge: the level that the ridge should
// have, and the one that the rafter would give it.
func (g hip) ridgeFit(d fitDrawing) View {
	c := &canvas{}
	a, told := d.faces["ridge_error"]
	u := heading(g.pitch)
	foot := u.times(-150)
	under := pt{0, 46}
	c.line(visible, foot, pt{}, under, foot.add(pt{0, 46}))
	c.breakLine(foot, foot.add(pt{0, 46}))
	c.line(narrow, pt{8, 0}, pt{70, 0})
	c.name(foot.mid(under).add(pt{0, 8}), "rafter")
	if told {
		c.levelError(d, a, 8, 70)
	}
	v := c.view("fit-ridge", "A", "the head of the worse rafter, seen from the side. "+d.note)
	v.Title = "How high the ridge would come to lie, seen from the side"
	v.Desc = d.tells
	return v
}

// hipTemplate are the hip's two bevels and its backing: a rafter is too long
// to be drawn full size, and its cuts are not.
func hipTemplate(l joint.Layout) []Flat {
	g := newHip(l)
	f := newFlat()
	const long, deep, width = 160.0, 90.0, 50.0
	tan := math.Tan(g.plumb)
	f.line(hidden, f.at(0, 0), f.at(-long, 0))
	f.line(visible, f.at(0, 0), f.at(-deep/tan, -deep))
	f.line(narrow, f.at(-deep/tan, -deep), f.at(-long, -deep))
	f.along(f.at(-long, 0), f.at(-0.4*long, 0), "the hip’s top, along its length")
	f.along(f.at(-deep/tan, -deep), f.at(0, 0), "plumb cut")
	low := width / 2 * math.Tan(g.backing)
	o := -deep - 40.0
	f.outline(narrow, f.at(-long, o), f.at(-long+width, o), f.at(-long+width, o-60), f.at(-long, o-60))
	f.line(visible, f.at(-long, o-low), f.at(-long+width/2, o), f.at(-long+width, o-low))
	f.waste([]pt{f.at(-long, o), f.at(-long+width/2, o), f.at(-long, o-low)}, []pt{f.at(-long+width/2, o), f.at(-long+width, o), f.at(-long+width, o-low)})
	f.note(f.at(-long+width+4, o-8), start, "backing, on an end 50 mm wide")
	return []Flat{f.finish("cuts", "The hip’s plumb cut and its backing",
		"The dashed line lies on the arris of the hip’s top; the full line is the upright cut on its side. The lower figure is the end of a hip 50 mm wide: take its angle, not its width.")}
}
