package drawing

import "math"

// item is one mark of a display list. Marks are kept by layer, so that lines
// of one kind can be put out together and what must cover others comes last.
type item interface{ layer() layer }

// layer orders the marks and names the line types of ISO 128.
type layer int

const (
	narrow  layer = iota // dimensions, leaders, hatching, breaks
	phantom              // long-dash double-dot: wood that goes
	hidden               // dashed
	centre               // long-dash dot
	visible              // wide continuous
	ink                  // filled: arrowheads
	lettering
	balloons
)

// stroke is an open or closed line.
type stroke struct {
	kind  layer
	steps []step
}

func (s stroke) layer() layer { return s.kind }

// step moves the pen: to p without drawing, straight, or along an arc.
type step struct {
	op byte // 'M', 'L', 'A' or 'Z'
	p  pt
	// r and clockwise belong to an arc, which is never more than half a turn.
	r         float64
	clockwise bool
}

// ring is a circle.
type ring struct {
	kind   layer // visible, narrow or ink
	centre pt
	r      float64
}

func (r ring) layer() layer { return r.kind }

// solid is a filled outline.
type solid struct{ corners []pt }

func (solid) layer() layer { return ink }

// anchor says which end of a text its point is.
type anchor int

const (
	middle anchor = iota
	start
	end
)

// text is one line of lettering.
type text struct {
	at     pt // on the base line
	anchor anchor
	turn   float64 // degrees, clockwise as seen
	size   float64
	face   face
	words  string
}

func (text) layer() layer { return lettering }

// face is the style of a text.
type face int

const (
	upright face = iota
	italic       // symbols of formulas
	strong       // the word that counts
)

// disc is a balloon in its place.
type disc struct {
	Balloon
	at     pt
	linked bool
}

func (disc) layer() layer { return balloons }

// Sizes of lettering and balloons. The unseen disc that takes a finger is 48
// CSS pixels across, the least a target may have.
const (
	sizeText   = 14
	sizeNote   = 13
	sizeNumber = 15
	ballRadius = 13
	ringRadius = 18
	hitRadius  = 24
)

// box is a text's rectangle, four corners in order.
func (t text) box() [4]pt {
	w := textWidth(t.words, t.size)
	x0 := map[anchor]float64{middle: -w / 2, start: 0, end: -w}[t.anchor]
	u := heading(-t.turn * radian)
	up := u.left()
	lo, hi := -descent(t.words)*t.size, 0.76*t.size
	corner := func(x, y float64) pt { return t.at.add(u.times(x)).add(up.times(y)) }
	return [4]pt{corner(x0, lo), corner(x0+w, lo), corner(x0+w, hi), corner(x0, hi)}
}

// lowest is how far down the paper a mark reaches.
func lowest(i item) float64 {
	y := 0.0
	reach := func(v float64) { y = math.Max(y, v) }
	switch i := i.(type) {
	case stroke:
		for _, s := range i.steps {
			reach(s.p.y)
		}
	case solid:
		for _, p := range i.corners {
			reach(p.y)
		}
	case ring:
		reach(i.centre.y + i.r)
	case disc:
		reach(i.at.y + hitRadius)
	case text:
		for _, p := range i.box() {
			reach(p.y)
		}
	}
	return y
}
