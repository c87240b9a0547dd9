package drawing

import "math"

// angleArc is an angular dimension: an arc with arrowheads about the angle's
// corner, from direction a to direction b in radians, anticlockwise as seen.
type angleArc struct {
	corner pt
	r      float64
	a, b   float64
	// tailA and tailB are how far, in units along the arc, it runs on past
	// either end where its arrows come from outside.
	tailA, tailB float64
}

// arcRoom is the shortest arc that takes its arrowheads inside.
const arcRoom = 24.0

// angle draws an angular dimension and gives the point where a leader leaves
// it: the middle of the arc, or the far end of the longer tail.
func (c *canvas) angle(d angleArc) pt {
	if d.b < d.a {
		d.a, d.b = d.b, d.a
		d.tailA, d.tailB = d.tailB, d.tailA
	}
	mid := onCircle(d.corner, d.r, (d.a+d.b)/2)
	if d.r*(d.b-d.a) >= arcRoom {
		c.arc(narrow, d.corner, d.r, d.a, d.b)
		c.arcHead(d, d.a, -1)
		c.arcHead(d, d.b, 1)
		return mid
	}
	ta, tb := math.Max(arrowTail, d.tailA), math.Max(arrowTail, d.tailB)
	c.arc(narrow, d.corner, d.r, d.a-ta/d.r, d.b+tb/d.r)
	c.arcHead(d, d.a, 1)
	c.arcHead(d, d.b, -1)
	switch {
	case ta > tb:
		return onCircle(d.corner, d.r, d.a-ta/d.r)
	case tb > ta:
		return onCircle(d.corner, d.r, d.b+tb/d.r)
	}
	return mid
}

// arcHead draws an arrowhead whose tip is on the arc at angle t and whose
// back lies on the arc too; sense 1 points anticlockwise.
func (c *canvas) arcHead(d angleArc, t, sense float64) {
	tip := onCircle(d.corner, d.r, t)
	back := onCircle(d.corner, d.r, t-sense*arrowLong/d.r)
	c.arrow(tip, tip.sub(back).unit())
}

// callout joins what a tag says to where its leader leaves: the balloon, its
// answer beside it, or a text alone, which starts there or ends there.
func (c *canvas) callout(leave, at pt, t tag, a anchor) {
	if t.ball != nil {
		c.line(narrow, leave, at)
		c.balloon(at, *t.ball)
		c.beside(at, t, a)
		return
	}
	off := pt{4, 5}
	if a == end {
		off.x = -off.x
	}
	c.line(narrow, leave, at)
	c.write(at.add(off), a, t.text)
}

// arcRadius is the radius at which an angle's arc has room for its arrowheads,
// within a side of the angle.
func arcRadius(angle, side float64) float64 {
	return math.Min(math.Max(0.6*side, (arcRoom+1)/angle), 0.86*side)
}
