package drawing

import "arrisbook/geom/joint"

func tenonFit(l joint.Layout, d fitDrawing) []View {
	return []View{newTenon(l).endsFit(d)}
}

// Places of the fit picture, in units: a leg from its face to its break, half
// a rail's thickness, and where the rail's two ends break off and the back
// shoulder stands.
const (
	fitLeg      = 44.0
	fitHalfRail = 44.0
	fitFrontEnd = 84.0
	fitBackEnd  = 110.0
	fitBack     = 190.0
)

// endsFit are the two ends of the rail from above, the outer face uppermost:
// at the left the front shoulder against its leg, at the right whether the
// rail is as long as the legs leave room for.
func (g tenon) endsFit(d fitDrawing) View {
	c := &canvas{}
	gap, long := d.face("shoulder_gap"), d.face("length_error")
	lean := fitHalfRail * g.shift / g.rail // of a shoulder, from its middle to a face
	outer, inner := gap.most, gap.most
	switch gap.mostAt {
	case "front-inner":
		outer = 0
	case "front-outer":
		inner = 0
	}
	// The rail lies level on the paper, so the faces of the legs slant.
	legOut, legIn := pt{-lean, -fitHalfRail}, pt{lean, fitHalfRail}
	c.fitLegAt(legOut, legIn, -fitLeg)
	railOut, railIn := legOut.add(pt{outer, 0}), legIn.add(pt{inner, 0})
	c.railEnd(railOut, railIn, fitFrontEnd)
	c.sayShoulder(gap, [2]pt{legOut, railOut}, [2]pt{legIn, railIn})
	c.note(pt{20, fitHalfRail + 72}, middle, "front shoulder")

	backOut, backIn := pt{fitBack - lean, -fitHalfRail}, pt{fitBack + lean, fitHalfRail}
	off := pt{-long.signed(), 0}
	if off.x < 0 {
		c.hatch([]pt{backOut, backIn, backIn.add(off), backOut.add(off)})
	}
	c.railEnd(backOut, backIn, fitBackEnd)
	c.fitLegAt(backOut.add(off), backIn.add(off), fitLeg-min(0, off.x))
	c.sayLength(long, backIn, backIn.add(off))
	c.note(pt{fitBack, fitHalfRail + 72}, middle, "length at the back")
	v := c.view("fit-ends", "B", "the front and the back end of the rail, seen from above. "+d.note)
	v.Title = "How the rail would stand between its legs, seen from above"
	v.Desc = d.tells
	return v
}

// fitLegAt is a leg whose face runs from above one point to below another, to
// its break.
func (c *canvas) fitLegAt(out, in pt, wide float64) {
	over := in.sub(out).times(0.14)
	top, foot := out.sub(over), in.add(over)
	farTop, farFoot := top.add(pt{wide, 0}), foot.add(pt{wide, 0})
	c.line(visible, farTop, top, foot, farFoot)
	c.breakLine(farTop, farFoot)
	c.note(top.mid(foot).add(pt{wide * 0.6, 5}), middle, "leg")
}

// railEnd is a rail's end from its shoulder to its break.
func (c *canvas) railEnd(out, in pt, breakX float64) {
	farOut, farIn := pt{breakX, out.y}, pt{breakX, in.y}
	c.line(visible, farOut, out, in, farIn)
	c.breakLine(farOut, farIn)
}

// sayShoulder says what is left at either face between the leg and the
// shoulder: from the leg to the rail, on the outer face and on the inner.
func (c *canvas) sayShoulder(a fitFace, outer, inner [2]pt) {
	const above, below = -26.0, 26.0
	switch {
	case a.mostSays == "":
	case a.most == 0:
		c.gapAcross(outer[0], outer[1], above, "touches")
	case a.mostAt == "front-inner":
		c.gapAcross(inner[0], inner[1], below, a.mostSays)
		c.gapAcross(outer[0], outer[1], above, a.leastSays)
	default:
		c.gapAcross(outer[0], outer[1], above, a.mostSays)
		c.gapAcross(inner[0], inner[1], below, a.leastSays)
	}
}

// sayLength says how far the back shoulder stands off its leg, or would have
// to go into it.
func (c *canvas) sayLength(a fitFace, rail, leg pt) {
	words := a.mostSays
	switch {
	case words == "":
		return
	case a.most == 0:
		words = "touches"
	case a.negative:
		words += ", too short"
	default:
		words += ", too long"
		rail, leg = leg, rail
	}
	c.gapAcross(rail, leg, 26, words)
}
