package drawing

import "arrisbook/geom/joint"

// Places of the fit picture of the scarf, in units of paper.
const (
	scarfShown = 204.0 // from the start of the cut to the head's tip, along the head
	scarfNeck  = 56.0
)

// scarfHead is how far along the head its tip is looked at, in millimetres.
const scarfHead = 180.0

func (g scarf) fitScale() float64 { return scarfShown / scarfHead }

func scarfFit(l joint.Layout, d fitDrawing) []View { return []View{newScarf(l).tipFit(d)} }

// tipFit is the head from the side: as it should stand, and as it would. Where
// the fit is told by bands the head is drawn to either side, for the side is
// nearly the number.
func (g scarf) tipFit(d fitDrawing) View {
	c := &canvas{}
	a, k := d.face("tip_error"), g.fitScale()
	neckTop, neckFoot := pt{-scarfNeck, 0}, pt{-scarfNeck, g.thickness * k}
	along := heading(-g.tilt)
	right := along.times(scarfShown)
	leave := meet(neckFoot, pt{1, 0}, pt{}, along)
	c.line(visible, neckTop, pt{}, leave, neckFoot)
	c.breakLine(neckTop, neckFoot)
	c.name(pt{-scarfNeck / 2, g.thickness*k/2 + 5}, "neck")

	nut := meet(along.left().times(g.head*k), along, pt{}, pt{1, 0})
	made := right.sub(pt{0, a.signed()})
	switch {
	case a.most < 0.5:
		c.scarfHeadAt(visible, right, nut, g.head*k)
	case d.band:
		c.scarfHeadAt(visible, right, nut, g.head*k)
		c.scarfHeadAt(phantom, right.sub(pt{0, a.most}), nut, g.head*k)
		c.scarfHeadAt(phantom, right.add(pt{0, a.most}), nut, g.head*k)
	default:
		c.scarfHeadAt(visible, made, nut, g.head*k)
		c.scarfHeadAt(phantom, right, nut, g.head*k)
	}
	if words := a.off(); a.most == 0 && words != "" {
		c.put(ring{ink, right, 3.5})
		c.nameOut(right.add(pt{6, 4}), pt{1, 1}, words)
	} else {
		c.mark(ruler{from: right, to: made, along: pt{0, -1}, out: pt{1, 0}, off: 14}, a.mostSays)
	}
	v := c.view("fit-tip", "", "the head’s tip, seen on the reference edge. "+d.note)
	v.Title = "How high the head’s tip would stand, seen on the reference edge"
	v.Desc = d.tells
	return v
}

// scarfHeadAt draws the head piece from the start of the cut to a tip; the nut
// line stays where it is.
func (c *canvas) scarfHeadAt(kind layer, tip, nut pt, high float64) {
	c.line(kind, pt{}, nut, tip.add(tip.unit().left().times(high)), tip, pt{})
}
