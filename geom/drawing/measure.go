package drawing

import "math"

// ruler is a linear dimension that looks for its own place: its line stands
// off what it measures in a direction, at the nearest distance that leaves
// everything readable.
type ruler struct {
	from, to pt
	along    pt // direction measured; zero: from `from` to `to`
	out      pt // direction in which the line stands off
	off      float64
	// inside lists further distances worth trying before going farther out,
	// negative ones on the other side.
	inside           []float64
	bareFrom, bareTo bool
}

// lineSteps is how far apart dimension lines stand (ISO 129-1 asks for room,
// not for a figure): a text and its air.
var lineSteps = [...]float64{0, 24, 48, 72, 96, 120}

// measure draws the dimension of a parameter or quantity; nothing where the
// sheet has nothing to say about it.
func (c *canvas) measure(r ruler, id string) {
	t := c.of(id)
	if t.empty() || r.from.to(r.to) == 0 {
		return
	}
	c.later(c.roomOf(t), func(s *search) { s.measure(r, t) })
}

// mark draws a dimension with words of its own; nothing without words.
func (c *canvas) mark(r ruler, words string) {
	if words != "" && r.from.to(r.to) > 0 {
		c.later(0, func(s *search) { s.measure(r, tag{text: words}) })
	}
}

func (s *search) measure(r ruler, t tag) {
	out := r.out.unit()
	edge := r.from
	if r.to.sub(r.from).dot(out) > 0 {
		edge = r.to
	}
	each := func(way func(d dimension, cost float64)) {
		at := func(off, cost float64) {
			if s.worth(cost) {
				way(dimension{
					from: r.from, to: r.to, along: r.along, line: edge.add(out.times(off)),
					bareFrom: r.bareFrom, bareTo: r.bareTo,
				}, cost)
			}
		}
		for i, step := range lineSteps {
			at(r.off+step, 4*float64(i))
		}
		for i, off := range r.inside {
			at(off, 2+2*float64(i))
		}
	}
	each(func(d dimension, cost float64) { s.onLine(d, t, cost) })
	each(func(d dimension, cost float64) {
		m := d.measure()
		d.bare = true
		s.tie(m.a.mid(m.b), out, t, cost+9, func(c *canvas) { c.dimension(d, tag{}) })
	})
}

// onLine offers a tag on its dimension line or past one of its ends.
func (s *search) onLine(d dimension, t tag, cost float64) {
	m := d.measure()
	fits := math.Max(textWidth(t.text, sizeText), s.trial.room) <= m.long-2 && !m.outside
	put := func(more float64, d dimension) {
		s.try(cost+more, func(c *canvas) { c.dimension(d, t) })
	}
	switch {
	case t.ball != nil && t.text == "" && m.long >= ballOnLine:
		put(0, d)
	case t.ball != nil:
	case fits:
		put(0, d)
	default:
		loose := d
		loose.loose = true
		put(1.5, loose)
		d.text = beyondTo
		put(1, d)
		d.text = beyondFrom
		put(1.1, d)
	}
	if t.ball != nil {
		s.ballBeyond(d, t, fits, cost)
	}
}

// ballBeyond offers a balloon past either end of the line, its text over the
// line or beside the balloon.
func (s *search) ballBeyond(d dimension, t tag, fits bool, cost float64) {
	for i, past := range [...]side{beyondTo, beyondFrom} {
		for _, reach := range [...]float64{0, 38, 50, 64, 80} {
			b := d
			b.ball, b.reach, b.off = past, reach, true
			more := cost + 2 + reach/12 + 0.2*float64(i)
			if !s.worth(more) {
				break
			}
			if t.text == "" || fits {
				s.try(more, func(c *canvas) { c.dimension(b, t) })
			}
			if t.text != "" {
				s.try(more+2, func(c *canvas) { c.beside(c.dimension(b, tag{ball: t.ball}), t, start) })
				s.try(more+2, func(c *canvas) { c.beside(c.dimension(b, tag{ball: t.ball}), t, end) })
			}
		}
	}
}

// opening is an angle that looks for its own place: between directions a and
// b in radians, anticlockwise as seen, its sides so long from the corner.
type opening struct {
	corner       pt
	a, b         float64
	sideA, sideB float64
	r            float64 // the first radius to try
}

// spread draws the angular dimension of a parameter or quantity; nothing
// where the sheet has nothing to say about it.
func (c *canvas) spread(o opening, id string) {
	t := c.of(id)
	if t.empty() || o.a == o.b {
		return
	}
	if o.b < o.a {
		o.a, o.b, o.sideA, o.sideB = o.b, o.a, o.sideB, o.sideA
	}
	c.later(c.roomOf(t), func(s *search) {
		radii := [...]float64{o.r, o.r + 14, o.r + 30, 0.75 * o.r, o.r + 50, 0.5 * o.r, o.r + 74, 0.3 * o.r, o.r + 102}
		for i, r := range radii {
			s.inArc(o, r, t, 3*float64(i))
		}
		for i, r := range radii {
			leave := onCircle(o.corner, r, (o.a+o.b)/2)
			s.tie(leave, heading((o.a+o.b)/2), t, 3*float64(i)+2, func(c *canvas) { c.opened(o, r) })
		}
	})
}

// inArc offers a text alone right beyond an arc or inside it.
func (s *search) inArc(o opening, r float64, t tag, cost float64) {
	if t.ball != nil {
		return
	}
	w := math.Max(textWidth(t.text, sizeText), s.trial.room) / 2
	u := heading((o.a + o.b) / 2)
	for i, at := range [...]float64{9, -9} {
		far := r + at + math.Copysign(math.Abs(u.x)*w+math.Abs(u.y)*6, at)
		if far < 0 || !s.worth(cost+float64(i)) {
			continue
		}
		p := o.corner.add(u.times(far)).add(pt{0, 5})
		s.try(cost+float64(i), func(c *canvas) {
			c.opened(o, r)
			c.write(p, middle, t.text)
		})
	}
}

// opened draws an angle's arc at a radius, with the sides carried on to it.
func (c *canvas) opened(o opening, r float64) {
	for _, side := range [...]struct{ dir, long float64 }{{o.a, o.sideA}, {o.b, o.sideB}} {
		if r+4 > side.long {
			c.line(narrow, onCircle(o.corner, side.long+extGap, side.dir), onCircle(o.corner, r+6, side.dir))
		}
	}
	c.angle(angleArc{corner: o.corner, r: r, a: o.a, b: o.b})
}
