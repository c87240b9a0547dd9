package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// gapWordsSketch is a gap of each word of the shop between two blocks, all
// enlarged alike.
func gapWordsSketch(c *canvas, _ joint.Values) View {
	const k, block, high, top = 60.0, 18.0, 70.0, 20.0
	cells := []struct {
		gap        float64
		word, upTo string
	}{
		{0.1, "tight", "to 0.10 mm"}, {0.25, "close", "to 0.25 mm"}, {0.5, "open", "to 0.50 mm"}, {0.72, "failed", "beyond"},
	}
	for i, cell := range cells {
		mid := 44 + float64(i)*88
		for _, side := range []float64{-1, 1} {
			x := mid + side*cell.gap*k/2
			a, b := pt{x, top}, pt{x + side*block, top + high}
			c.bar(visible, a, b)
			c.hatchEvery(6, rectangle(a, b))
		}
		c.put(text{at: pt{mid, top + high + 24}, size: sizeText, words: cell.word, face: strong})
		c.note(pt{mid, top + high + 42}, middle, cell.upTo)
	}
	view := c.view("", "", "gaps drawn sixty times as wide as they are")
	view.Title = "The words for a gap"
	view.Desc = "Four pairs of blocks. Tight is a gap up to 0.10 millimetres, close up to 0.25, open up to 0.50, failed is more."
	return view
}

// contactSketch is the V of a tongue six times, with the places that touch.
func contactSketch(c *canvas, _ joint.Values) View {
	const long, half = 62.0, 26.0
	names := []string{"tip only", "mouth only", "one cheek", "back arrises", "back of shoulders", "all over"}
	for i, name := range names {
		o := pt{24 + float64(i%3)*118, 54 + math.Floor(float64(i)/3)*116}
		tip, near, far := o.add(pt{long, 0}), o.add(pt{0, half}), o.add(pt{0, -half})
		c.line(visible, o.add(pt{0, -half - 14}), far, tip, near, o.add(pt{0, half + 14}))
		for _, s := range c.contact(i, o, tip, near, far) {
			c.rub(s[0], s[1])
		}
		c.note(o.add(pt{long/2 - 8, half + 32}), middle, name)
	}
	view := c.view("", "", "black where the wood touched")
	view.Title = "Six patterns of contact on a tongue"
	view.Desc = "The V of a tongue six times. Black marks lie at the tip only, at the mouth only, along one cheek, along the back arrises of both cheeks, along the back of the shoulders, and all over."
	return view
}

// contact lists the stretches that touched in one of the six patterns.
func (c *canvas) contact(i int, o, tip, near, far pt) [][2]pt {
	part := func(a, b pt, from, to float64) [2]pt {
		d := b.sub(a)
		return [2]pt{a.add(d.times(from)), a.add(d.times(to))}
	}
	shoulder := func(p pt, way float64) [2]pt { return [2]pt{p, p.add(pt{0, 12 * way})} }
	switch i {
	case 0:
		return [][2]pt{part(near, tip, 0.72, 0.98), part(far, tip, 0.72, 0.98)}
	case 1:
		return [][2]pt{part(near, tip, 0.02, 0.25), part(far, tip, 0.02, 0.25)}
	case 2:
		return [][2]pt{part(near, tip, 0.05, 0.95)}
	case 3:
		in := pt{-7, 0}
		return [][2]pt{part(near.add(in), tip.add(in), 0.12, 0.9), part(far.add(in), tip.add(in), 0.12, 0.9)}
	case 4:
		return [][2]pt{shoulder(near.add(pt{-6, 0}), 1), shoulder(far.add(pt{-6, 0}), -1)}
	}
	return [][2]pt{part(near, tip, 0.02, 0.98), part(far, tip, 0.02, 0.98), shoulder(near, 1), shoulder(far, -1)}
}

// rub blackens a stretch.
func (c *canvas) rub(a, b pt) {
	n := b.sub(a).unit().left().times(2.6)
	c.put(solid{[]pt{a.add(n), b.add(n), b.sub(n), a.sub(n)}})
}

// travelSketch is one wall of a socket and the tongue's cheek before it: the
// gap square to the wall, the travel along the centre line. The gap is drawn
// larger than it is.
func travelSketch(c *canvas, v joint.Values) View {
	half := v["half_angle"] * radian
	const gap = 30.0
	travel := gap / math.Sin(half)
	tip := pt{320, 190}
	wall := heading(pi - half)
	mouth := tip.add(wall.times(230))
	c.line(visible, mouth, tip)
	cheekTip := tip.add(pt{-travel, 0})
	cheek := cheekTip.add(wall.times(190))
	c.line(visible, cheek, cheekTip)
	c.line(centre, pt{20, tip.y}, tip.add(pt{18, 0}))
	c.dimension(dimension{from: cheekTip, to: tip, line: pt{0, tip.y + 32}, along: pt{1, 0}}, c.of("travel"))
	a := cheekTip.add(wall.times(96))
	square := wall.right()
	b := meet(a, square, tip, wall)
	c.line(narrow, a, b)
	c.arrow(b, b.sub(a).unit())
	c.arrow(a, a.sub(b).unit())
	at := b.add(b.sub(a).unit().times(26))
	c.line(narrow, b, at)
	c.write(at.add(pt{4, 2}), start, c.of("gap").text)
	leave := c.angle(angleArc{corner: cheekTip, r: 78, a: pi - half, b: pi})
	c.write(leave.add(pt{-8, 5}), end, c.of("half_angle").text)
	c.note(cheek.add(pt{-8, 14}), end, "cheek")
	c.note(mouth.add(pt{8, -4}), start, "wall")
	view := c.view("", "", "the gap is drawn larger than it is")
	view.Title = "A gap square to the wall, and the travel along the centre line"
	view.Desc = "The cheek of a tongue lies parallel to the wall of its socket. The gap is measured square to the wall. To fill it the tongue moves along the centre line, which is a longer way."
	return view
}

// endGrainSketch is a log's end with a flat-sawn and a quarter-sawn board in
// it.
func endGrainSketch(c *canvas, _ joint.Values) View {
	o := pt{176, 190}
	for _, r := range []float64{30, 56, 82, 108, 134, 160} {
		c.arc(narrow, o, r, 0, pi/2)
		c.arc(narrow, o, r, pi/2, pi)
	}
	flat := rectangle(pt{126, 74}, pt{226, 96})
	quarter := rectangle(pt{36, 166}, pt{136, 188})
	c.outline(visible, flat...)
	c.outline(visible, quarter...)
	c.put(ring{ink, o, 2.5})
	c.callout(pt{200, 74}, pt{250, 36}, words("flat-sawn"), start)
	c.callout(pt{80, 188}, pt{96, 218}, words("quarter-sawn"), start)
	view := c.view("", "", "the end of a log, its middle at the foot")
	view.Title = "A flat-sawn and a quarter-sawn board in the log"
	view.Desc = "Half of a log’s end with its year rings. The width of the flat-sawn board runs along the rings, that of the quarter-sawn board square to them."
	return view
}
