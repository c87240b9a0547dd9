package drawing

import "math"

// canvas collects the marks of one view.
type canvas struct {
	items []item
	sheet Sheet
	given []string  // parameter ids whose texts were drawn, in order
	asked []Balloon // balloons drawn, in order
	tasks []task    // what still looks for its place
	site  site      // what stands already, for whoever looks for room
	room  float64   // least width that lettering is given

	pooled bool // steps of strokes come from pool, which somebody empties
	pool   []step
}

// steps is room for so many steps of a stroke.
func (c *canvas) steps(n int) []step {
	if !c.pooled {
		return make([]step, 0, n)
	}
	from := len(c.pool)
	c.pool = append(c.pool, make([]step, n)...)
	return c.pool[from : from : from+n]
}

func (c *canvas) put(i item) {
	if t, ok := i.(text); ok && c.room > 0 {
		t.room = c.room
		i = t
	}
	c.items = append(c.items, i)
}

// line draws straight lines through the points.
func (c *canvas) line(kind layer, points ...pt) { c.path(kind, false, points) }

// outline draws a closed outline.
func (c *canvas) outline(kind layer, points ...pt) { c.path(kind, true, points) }

func (c *canvas) path(kind layer, closed bool, points []pt) {
	steps := c.steps(len(points) + 1)
	for i, p := range points {
		op := byte('L')
		if i == 0 {
			op = 'M'
		}
		steps = append(steps, step{op: op, p: p})
	}
	if closed {
		steps = append(steps, step{op: 'Z', p: points[0]})
	}
	c.put(stroke{kind, steps})
}

// arc draws part of a circle from angle a to angle b, in radians
// anticlockwise as seen from the paper's x axis, |b − a| at most half a turn.
func (c *canvas) arc(kind layer, centre pt, r, a, b float64) {
	c.put(stroke{kind, append(c.steps(2),
		step{op: 'M', p: onCircle(centre, r, a)},
		step{op: 'A', p: onCircle(centre, r, b), r: r, clockwise: b < a})})
}

func onCircle(centre pt, r, a float64) pt { return centre.add(heading(a).times(r)) }

// Arrowheads are filled, as long as the lettering's x height and a third as
// wide at the back on either side (ISO 129-1 allows 15 to 30 degrees).
const (
	arrowLong = 9.0
	arrowHalf = 2.8
)

// arrow draws an arrowhead with its tip at p, pointing along u.
func (c *canvas) arrow(p, u pt) {
	back := p.sub(u.times(arrowLong))
	side := u.left().times(arrowHalf)
	c.put(solid{[]pt{p, back.add(side), back.sub(side)}})
}

// write puts plain lettering on a base line that starts, ends or is centred
// at p.
func (c *canvas) write(p pt, a anchor, words string) {
	c.put(text{at: p, anchor: a, size: sizeText, words: words})
}

// note puts smaller lettering: names of surfaces and lines.
func (c *canvas) note(p pt, a anchor, words string) {
	c.put(text{at: p, anchor: a, size: sizeNote, words: words})
}

// balloon puts a numbered balloon at p.
func (c *canvas) balloon(p pt, b Balloon) {
	c.put(disc{Balloon: b, at: p, linked: !c.sheet.Plain})
}

// breakLine ends a piece that goes on: a narrow line with a zigzag, a little
// longer than the piece is wide. The zigzag stands off the middle, where a
// centre line would cross it.
func (c *canvas) breakLine(a, b pt) {
	u := b.sub(a).unit()
	n := u.left()
	z := a.add(b.sub(a).times(0.27))
	c.line(narrow,
		a.sub(u.times(5)),
		z.sub(u.times(6)),
		z.sub(u.times(2)).add(n.times(4.5)),
		z.add(u.times(3)).sub(n.times(4.5)),
		z.add(u.times(7)),
		b.add(u.times(5)))
}

// datum marks the edge that everything is measured from: a filled triangle
// that touches it from outside at p, and its name.
func (c *canvas) datum(p pt, name string) {
	c.put(solid{[]pt{p, p.add(pt{6, 9}), p.add(pt{-6, 9})}})
	c.note(p.add(pt{11, 14}), start, name)
}

// viewArrow says from where another view is seen: a wide shaft that ends at
// p pointing along u, with the view's letter beside its tail.
func (c *canvas) viewArrow(p, u pt, long float64, letter string) {
	tail := p.sub(u.times(long))
	c.line(visible, tail, p.sub(u.times(arrowLong)))
	back := p.sub(u.times(arrowLong + 2))
	side := u.left().times(arrowHalf + 1.2)
	c.put(solid{[]pt{p, back.add(side), back.sub(side)}})
	n := u.left()
	if math.Abs(n.x) > 0.3 && n.x > 0 {
		n = n.times(-1)
	}
	c.put(text{at: tail.add(n.times(13)).add(pt{0, 5}), size: sizeText, words: letter, face: strong})
}

// margin is the paper left around the marks of a view.
const margin = 6.0

// view closes the canvas: marks by layer, in the order they were drawn, moved
// to the middle of the paper's width, which ends a little below the lowest.
func (c *canvas) view(id, letter, caption string) View {
	c.settle()
	lo, hi := c.extent()
	by := pt{(Width - lo.x - hi.x) / 2, margin - lo.y}
	return View{
		ID: id, Letter: letter, Caption: caption,
		W: Width, H: math.Ceil(hi.y - lo.y + 2*margin), items: c.byLayer(by),
	}
}

// byLayer gives the marks by layer, in the order they were drawn, each moved.
func (c *canvas) byLayer(by pt) []item {
	items := make([]item, 0, len(c.items))
	for l := narrow; l <= balloons; l++ {
		for _, i := range c.items {
			if i.layer() == l {
				items = append(items, i.moved(by))
			}
		}
	}
	return items
}

// extent is the rectangle that holds all marks, balloons with their unseen
// discs.
func (c *canvas) extent() (lo, hi pt) {
	lo, hi = pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	for _, i := range c.items {
		for _, p := range i.reach() {
			lo = pt{math.Min(lo.x, p.x), math.Min(lo.y, p.y)}
			hi = pt{math.Max(hi.x, p.x), math.Max(hi.y, p.y)}
		}
	}
	return lo, hi
}
