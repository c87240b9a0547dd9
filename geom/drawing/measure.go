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
var lineSteps = []float64{0, 24, 48, 72, 96, 120}

// measure draws the dimension of a parameter or quantity; nothing where the
// sheet has nothing to say about it.
func (c *canvas) measure(r ruler, id string) {
	t := c.of(id)
	if t.empty() || r.from.to(r.to) == 0 {
		return
	}
	c.withRoom(t, func() { c.choose(c.measured(r, t)) })
}

// mark draws a dimension with words of its own; nothing without words.
func (c *canvas) mark(r ruler, words string) {
	if words != "" {
		c.choose(c.measured(r, tag{text: words}))
	}
}

func (c *canvas) measured(r ruler, t tag) []option {
	out := r.out.unit()
	edge := r.from
	if r.to.sub(r.from).dot(out) > 0 {
		edge = r.to
	}
	var options []option
	add := func(off, cost float64) {
		d := dimension{
			from: r.from, to: r.to, along: r.along, line: edge.add(out.times(off)),
			bareFrom: r.bareFrom, bareTo: r.bareTo,
		}
		options = append(options, c.ways(d, t, out, cost)...)
	}
	for i, step := range lineSteps {
		add(r.off+step, 4*float64(i))
	}
	for i, off := range r.inside {
		add(off, 2+2*float64(i))
	}
	return options
}

// ways lists the ways of writing a tag at a dimension.
func (c *canvas) ways(d dimension, t tag, out pt, cost float64) []option {
	m := d.measure()
	fits := math.Max(textWidth(t.text, sizeText), c.room) <= m.long-2 && !m.outside
	var options []option
	put := func(more float64, d dimension, t tag) {
		options = append(options, option{cost + more, func(c *canvas) { c.dimension(d, t) }})
	}
	ends := [...]side{beyondTo, beyondFrom}
	switch {
	case t.ball == nil && fits:
		put(0, d, t)
	case t.ball == nil:
		loose := d
		loose.loose = true
		put(1.5, loose, t)
		for i, s := range ends {
			aside := d
			aside.text = s
			put(1+0.1*float64(i), aside, t)
		}
	case t.text == "" && m.long >= ballOnLine:
		put(0, d, t)
	}
	if t.ball != nil {
		options = append(options, c.ballWays(d, t, fits, cost)...)
	}
	mid := m.a.mid(m.b)
	bare := d
	bare.bare = true
	for _, o := range c.labelled(mid, out, t, cost+9) {
		options = append(options, option{o.cost, func(c *canvas) {
			c.dimension(bare, tag{})
			o.draw(c)
		}})
	}
	return options
}

// ballWays puts a balloon past either end of the line, its text over the line
// or beside the balloon.
func (c *canvas) ballWays(d dimension, t tag, fits bool, cost float64) []option {
	var options []option
	for i, s := range [...]side{beyondTo, beyondFrom} {
		for _, reach := range [...]float64{0, 38, 50, 64, 80} {
			b := d
			b.ball, b.reach, b.off = s, reach, true
			more := cost + 2 + reach/12 + 0.2*float64(i)
			if t.text == "" || fits {
				options = append(options, option{more, func(c *canvas) { c.dimension(b, t) }})
			}
			if t.text == "" {
				continue
			}
			for _, a := range [...]anchor{start, end} {
				options = append(options, option{more + 2, func(c *canvas) { c.beside(c.dimension(b, tag{ball: t.ball}), t, a) }})
			}
		}
	}
	return options
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
	var options []option
	for i, r := range [...]float64{o.r, o.r + 14, o.r + 30, 0.75 * o.r, o.r + 50, 0.5 * o.r, o.r + 74, 0.3 * o.r, o.r + 102} {
		options = append(options, c.spreadWays(o, r, t, 3*float64(i))...)
	}
	c.withRoom(t, func() { c.choose(options) })
}

func (c *canvas) spreadWays(o opening, r float64, t tag, cost float64) []option {
	arc := func(c *canvas) pt {
		for _, side := range [...]struct{ dir, long float64 }{{o.a, o.sideA}, {o.b, o.sideB}} {
			if r+4 > side.long {
				c.line(narrow, onCircle(o.corner, side.long+extGap, side.dir), onCircle(o.corner, r+6, side.dir))
			}
		}
		return c.angle(angleArc{corner: o.corner, r: r, a: o.a, b: o.b})
	}
	mid := (o.a + o.b) / 2
	var options []option
	if t.ball == nil {
		w := math.Max(textWidth(t.text, sizeText), c.sheet.roomForText(t.text)) / 2
		for i, at := range [...]float64{9, -9} { // beyond the arc, or inside it
			u := heading(mid)
			far := r + at + math.Copysign(math.Abs(u.x)*w+math.Abs(u.y)*6, at)
			if far < 0 {
				continue
			}
			p := o.corner.add(u.times(far)).add(pt{0, 5})
			options = append(options, option{cost + float64(i), func(c *canvas) {
				arc(c)
				c.write(p, middle, t.text)
			}})
		}
	}
	leave := onCircle(o.corner, r, mid)
	for _, l := range c.labelled(leave, heading(mid), t, cost+2) {
		options = append(options, option{l.cost, func(c *canvas) {
			arc(c)
			l.draw(c)
		}})
	}
	return options
}
