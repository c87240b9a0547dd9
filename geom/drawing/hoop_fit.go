package drawing

import (
	"math"
	"strings"

	"arrisbook/geom"
)

// hoopFitScale is what a millimetre of a corner's fit picture is on paper.
func hoopFitScale(thickness float64) float64 { return math.Min(60/thickness, 8) }

// fitViews are a corner as the bevels make it, and the last joint of a ring
// whose other joints are pulled tight.
func (k hoopCorner) fitViews(d fitDrawing) []View {
	corner := k.fitCorner(d.face("gap"), "fit-corner", "A", "a corner, cut square to its line. "+d.note)
	corner.Title = "How the sides would meet at a corner, cut square to its line"
	corner.Desc = d.tells
	last := d.face("closing_gap")
	last.leastAt, last.mostAt = "", ""
	if gap := d.face("gap"); gap.mostAt != "" && last.most > 0 {
		last.least, last.leastSays, last.leastAt, last.mostAt = 0, gap.leastSays, gap.leastAt, gap.mostAt
	}
	v := k.fitCorner(last, "fit-last", "B", "the last joint, if all the others are pulled tight. "+d.note)
	v.Title = "How the last joint would stand if all the others are pulled tight"
	v.Desc = d.tells
	return []View{corner, v}
}

// fitCorner draws two boards, each turned away from the other by half of what
// stands apart.
func (k hoopCorner) fitCorner(a fitFace, id, letter, caption string) View {
	c := &canvas{}
	st := stage{k.camera, scale{k: hoopFitScale(k.thickness)}}
	outer, inner := st.on(k.outer), st.on(k.inner)
	apartOut, apartIn := a.at("outside"), a.at("inside")
	for _, b := range [...]struct{ dir, n geom.Vec }{{k.first, k.firstN}, {k.next, k.nextN}} {
		u, n := st.runs(b.dir), st.runs(b.n).times(-k.thickness*st.k)
		o, i := outer.add(pt{math.Copysign(apartOut/2, u.x), 0}), inner.add(pt{math.Copysign(apartIn/2, u.x), 0})
		end := outer.add(u.times(118))
		o, i = o.onLine(outer, u), i.onLine(inner, u)
		c.hatch([]pt{o, end, end.add(n), i})
		c.line(visible, end, o, i, end.add(n))
		c.breakLine(end, end.add(n))
	}
	c.fitWords(a, outer, inner)
	return c.view(id, letter, caption)
}

// fitWords says how far the joint stands apart, above it and below it.
func (c *canvas) fitWords(a fitFace, outer, inner pt) {
	say := func(p pt, wide float64, up float64, words string) {
		if words == "" {
			return
		}
		if wide < 1 {
			c.put(ring{ink, p, 3.5})
			c.nameOut(p.add(pt{0, 5 * up}), pt{0, up}, words)
			return
		}
		half := pt{wide / 2, 0}
		c.mark(ruler{from: p.sub(half), to: p.add(half), along: pt{1, 0}, out: pt{0, up}, off: 24}, words)
	}
	if a.leastAt == "" || a.mostAt == "" {
		say(outer, a.most, -1, a.mostSays)
		return
	}
	if strings.Contains(a.mostAt, "outside") {
		say(outer, a.most, -1, a.mostSays)
		say(inner, a.least, 1, a.leastSays)
		return
	}
	say(inner, a.most, 1, a.mostSays)
	say(outer, a.least, -1, a.leastSays)
}
