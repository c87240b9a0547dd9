package drawing

import "arrisbook/geom/joint"

func mitreFit(l joint.Layout, d fitDrawing) []View {
	return []View{newMitre(l).heldFit(d)}
}

// heldFit are the two boards held at the wanted corner: where the cuts touch
// and where they stand off, and the step at the outer corner.
func (g mitre) heldFit(d fitDrawing) View {
	c := &canvas{}
	gap, step := d.face("gap"), d.face("length_step")
	p := g.places(g.most())
	toA := p.outer.unit().left() // square to the mitre line, toward board a
	if toA.x < 0 {
		toA = toA.times(-1)
	}
	atInner, atOuter := 0.0, gap.most
	if gap.mostAt == "inner" {
		atInner, atOuter = gap.most, 0
	}
	innerA, innerB := p.inner.add(toA.times(atInner/2)), p.inner.sub(toA.times(atInner/2))
	outerA, outerB := p.outer.add(toA.times(atOuter/2)), p.outer.sub(toA.times(atOuter/2))
	// The longer cut runs on past the other one's outer edge.
	away := p.outer.unit()
	if s := step.signed(); s > 0 {
		outerA = outerA.add(away.times(s))
	} else {
		outerB = outerB.sub(away.times(s))
	}
	endA := func(q pt) pt { return pt{p.innerA.x, q.y} }
	endB := func(q pt) pt { return q.add(p.alongB.times(p.innerB.sub(q).dot(p.alongB))) }
	c.line(visible, endA(innerA), innerA, outerA, endA(outerA))
	c.breakLine(endA(innerA), endA(outerA))
	c.line(visible, endB(innerB), innerB, outerB, endB(outerB))
	c.breakLine(endB(innerB), endB(outerB))
	c.name(p.innerA.mid(p.outerA).add(pt{-34, 5}), "a")
	c.name(p.innerB.mid(p.outerB).sub(p.alongB.times(30)).add(pt{0, 5}), "b")
	c.sayMitre(gap, innerA, innerB, outerA, outerB, p)
	c.sayStep(step, outerA, outerB)

	v := c.view("fit-corner", "A", "the boards held at the wanted corner, seen on their faces. "+d.note)
	v.Title = "How the two cuts would lie together, seen on the faces"
	v.Desc = d.tells
	return v
}

// sayMitre dimensions the gap where it is most and marks where the cuts touch.
func (c *canvas) sayMitre(gap fitFace, innerA, innerB, outerA, outerB pt, p mitrePlaces) {
	away := p.outer.unit()
	switch {
	case gap.mostSays == "":
	case gap.most == 0:
		m := innerA.mid(outerA)
		c.put(ring{ink, m, 3.5})
		c.label(m, pt{1, 0}, "touches")
	case gap.mostAt == "inner":
		c.mark(ruler{from: innerB, to: innerA, out: away.times(-1), off: 30}, gap.mostSays)
		c.touch(outerA.mid(outerB), away, gap)
	default:
		c.mark(ruler{from: outerB.onLine(p.outer, away.left()), to: outerA.onLine(p.outer, away.left()), out: away, off: 30}, gap.mostSays)
		c.touch(innerA.mid(innerB), away.times(-1), gap)
	}
}

// touch marks where the wood touches.
func (c *canvas) touch(p, out pt, a fitFace) {
	if a.least == 0 && a.leastSays != "" {
		c.put(ring{ink, p, 3.5})
		c.label(p, out, a.leastSays)
	}
}

// label ties words to a point by a leader, best in a direction.
func (c *canvas) label(p, prefer pt, words string) {
	c.tied(p, prefer, tag{text: words})
}

// sayStep points at the step of the outer corner.
func (c *canvas) sayStep(step fitFace, outerA, outerB pt) {
	if step.mostSays == "" || step.most == 0 {
		return
	}
	at, longer := outerA, "a"
	if step.negative {
		at, longer = outerB, "b"
	}
	c.label(at, pt{-1, 1}, longer+" longer: "+step.mostSays)
}
