package drawing

import (
	"math"
	"slices"
)

// tag is what a dimension says: a text, a balloon, or after release both.
type tag struct {
	text string
	ball *Balloon
}

func (t tag) empty() bool { return t.text == "" && t.ball == nil }

// of finds what there is to say about a parameter or quantity: the given text,
// the asked balloon, and the answer where the key is released.
func (c *canvas) of(id string) tag {
	if s, ok := c.sheet.Given[id]; ok && s != "" {
		if !slices.Contains(c.given, id) {
			c.given = append(c.given, id)
		}
		return tag{text: s}
	}
	for _, b := range c.sheet.Asked {
		if b.Quantity == id {
			c.asked = append(c.asked, b)
			return tag{text: c.sheet.Answers[id], ball: &b}
		}
	}
	return tag{}
}

// side is an end of a dimension line.
type side int

const (
	beyondTo   side = iota // past the end that `to` is projected on
	beyondFrom             // past the other
)

// dimension is a linear dimension after ISO 129-1: a narrow line between
// arrowheads, extension lines that start a little off the outline, text over
// the line, readable from the bottom or from the right.
type dimension struct {
	from, to pt // what is measured
	line     pt // any point of the dimension line
	along    pt // direction measured; zero: from `from` to `to`
	// bareFrom and bareTo leave an extension line out where the outline
	// itself or another extension line does its work.
	bareFrom, bareTo bool
	text             side // where a text goes that finds no room over the line
	ball             side // where a balloon goes that cannot stand on the line
	off              bool // the balloon never stands on the line
	bare             bool // drawn without anything to say: words stand elsewhere
	loose            bool // a text longer than the line still stands over it: nothing is beside it
	reach            float64
	leader           *pt // where the balloon goes by a leader, if it goes by one
	// share is where along the line the balloon stands, 0 to 1: on a long line
	// it then stands beside an answer. 0: in the middle, beside nothing.
	share float64
}

const (
	extGap     = 3.0 // between outline and extension line
	extOver    = 4.0 // extension line beyond the dimension line
	textOver   = 5.0 // base line over the dimension line
	arrowRoom  = 24.0
	arrowTail  = 17.0 // of an arrow that points in from outside
	ballOnLine = 58.0 // a double ring between two arrowheads
	ballStub   = 29.0 // from an arrow's tip to a balloon's centre
)

// dimension draws d with its tag, and says where the tag's balloon went. An
// empty tag draws nothing.
func (c *canvas) dimension(d dimension, t tag) (ball pt) {
	if t.empty() && !d.bare {
		return pt{}
	}
	m := d.measure()
	c.extension(d.from, m.a, d.bareFrom)
	c.extension(d.to, m.b, d.bareTo)
	first, last := c.heads(m)
	first, last = c.dimText(d, m, t, first, last)
	if t.ball != nil {
		ball, first, last = c.dimBall(d, m, t, first, last)
	}
	c.line(narrow, m.a.add(m.u.times(first)), m.a.add(m.u.times(last)))
	return ball
}

// measured is a dimension line: its two arrow tips, its direction and length.
type measured struct {
	a, b, u pt
	long    float64
	outside bool // the arrows point in from outside
}

func (d dimension) measure() measured {
	u := d.along
	if u == (pt{}) {
		u = d.to.sub(d.from).unit()
	}
	if d.to.sub(d.from).dot(u) < 0 {
		u = u.times(-1)
	}
	a, b := d.from.onLine(d.line, u), d.to.onLine(d.line, u)
	long := a.to(b)
	return measured{a, b, u, long, long < arrowRoom}
}

func (c *canvas) extension(p, q pt, bare bool) {
	if bare || p.to(q) < extGap {
		return
	}
	u := q.sub(p).unit()
	c.line(narrow, p.add(u.times(extGap)), q.add(u.times(extOver)))
}

// heads draws the arrowheads and says from where to where the dimension line
// runs, measured from a along u.
func (c *canvas) heads(m measured) (first, last float64) {
	if m.outside {
		c.arrow(m.a, m.u)
		c.arrow(m.b, m.u.times(-1))
		return -arrowTail, m.long + arrowTail
	}
	c.arrow(m.a, m.u.times(-1))
	c.arrow(m.b, m.u)
	return 0, m.long
}

// dimText writes the text over the line, or past one end where the line is
// too short, and says how far the line then runs.
func (c *canvas) dimText(d dimension, m measured, t tag, first, last float64) (float64, float64) {
	if t.text == "" {
		return first, last
	}
	w := math.Max(textWidth(t.text, sizeText), c.room)
	at := m.long / 2
	if !d.loose && (m.outside || w > m.long-2) {
		const clear = 8
		if d.text == beyondFrom {
			at = -clear - w/2
			first = math.Min(first, -clear-w)
		} else {
			at = m.long + clear + w/2
			last = math.Max(last, m.long+clear+w)
		}
	}
	c.overLine(m.a.add(m.u.times(at)), m.u, t.text)
	return first, last
}

// overLine writes words over a line through p along u.
func (c *canvas) overLine(p, u pt, words string) {
	turn := readable(u)
	up := heading(-turn * radian).left()
	over := textOver
	if descent(words) > 0.1 {
		over += 2 // a tail of a letter clears the arrowheads too
	}
	c.put(text{at: p.add(up.times(over)), turn: turn, size: sizeText, words: words})
}

// readable is how far a text along u is turned, in degrees clockwise, so that
// it reads from the bottom or from the right.
func readable(u pt) float64 {
	turn := math.Atan2(u.y, u.x) / radian
	switch {
	case turn >= 90-1e-6:
		return turn - 180
	case turn < -90-1e-6:
		return turn + 180
	}
	return turn
}

// dimBall puts the balloon on the line where it is long enough and free of
// text, else past one end or where the leader goes. It says where the balloon
// is and how far the line then runs.
func (c *canvas) dimBall(d dimension, m measured, t tag, first, last float64) (ball pt, from, to float64) {
	on := func(at float64) pt { return m.a.add(m.u.times(at)) }
	stub := math.Max(ballStub, d.reach)
	switch {
	case d.leader != nil:
		ball = *d.leader
		c.line(narrow, on(m.long/2), ball)
	case d.share > 0 && d.sharesWith(m, t):
		ball = on(d.share * m.long)
	case t.text == "" && m.long >= ballOnLine && !d.off:
		ball = on(m.long / 2)
	case d.ball == beyondFrom:
		first = math.Min(first-ringRadius-3, -stub)
		ball = on(first)
	default:
		last = math.Max(last+ringRadius+3, m.long+stub)
		ball = on(last)
	}
	c.balloon(ball, *t.ball)
	return ball, first, last
}

// sharesWith says that the line has room for the text in its middle and, clear
// of the arrowheads, for the balloon at its share.
func (d dimension) sharesWith(m measured, t tag) bool {
	if math.Min(d.share, 1-d.share)*m.long < arrowLong+ringRadius+2 {
		return false
	}
	return t.text == "" || math.Abs(d.share-0.5)*m.long >= textWidth(t.text, sizeText)/2+ringRadius+4
}

// dimensionAside draws a dimension too short for a text: its answer stands
// beside the balloon, and a text without one at the end of the line carried
// on.
func (c *canvas) dimensionAside(d dimension, t tag, a anchor) {
	if t.ball != nil {
		c.beside(c.dimension(d, tag{ball: t.ball}), t, a)
		return
	}
	if t.text == "" {
		return
	}
	d.bare = true
	c.dimension(d, tag{})
	m := d.measure()
	tail := m.b.add(m.u.times(math.Max(ballStub, d.reach) - ballRadius))
	if d.leader != nil {
		c.callout(m.a.mid(m.b), *d.leader, t, a)
		return
	}
	c.callout(m.b, tail, t, a)
}

// beside writes a tag's text beside its balloon, starting to the right of it
// or ending to the left.
func (c *canvas) beside(ball pt, t tag, a anchor) {
	if t.text == "" || t.ball == nil {
		return
	}
	off := pt{ringRadius + 4, 5}
	if a == end {
		off.x = -off.x
	}
	c.write(ball.add(off), a, t.text)
}
