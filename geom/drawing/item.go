package drawing

// item is one mark of a display list. Marks are kept by layer, so that lines
// of one kind can be put out together and what must cover others comes last.
type item interface {
	layer() layer
	// reach lists points that a rectangle around the mark must hold.
	reach() []pt
	// moved is the same mark elsewhere.
	moved(by pt) item
}

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
	room   float64 // width it takes at least, whatever its words
}

func (text) layer() layer { return lettering }

// face is the style of a text.
type face int

const (
	upright face = iota
	strong       // the word or letter that counts
)

// disc is a balloon in its place.
type disc struct {
	Balloon
	at     pt
	linked bool
	times  float64 // its size; 0 is 1
}

// scale is how many times its usual size a balloon is drawn.
func (d disc) scale() float64 {
	if d.times == 0 {
		return 1
	}
	return d.times
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

func (s stroke) reach() []pt {
	ps := make([]pt, len(s.steps))
	for i, st := range s.steps {
		ps[i] = st.p
	}
	return ps
}

func (s stroke) moved(by pt) item {
	steps := make([]step, len(s.steps))
	for i, st := range s.steps {
		st.p = st.p.add(by)
		steps[i] = st
	}
	return stroke{s.kind, steps}
}

func (r ring) reach() []pt      { return square(r.centre, r.r) }
func (r ring) moved(by pt) item { r.centre = r.centre.add(by); return r }

func (s solid) reach() []pt { return s.corners }

func (s solid) moved(by pt) item {
	corners := make([]pt, len(s.corners))
	for i, p := range s.corners {
		corners[i] = p.add(by)
	}
	return solid{corners}
}

func (t text) reach() []pt      { b := t.box(); return b[:] }
func (t text) moved(by pt) item { t.at = t.at.add(by); return t }

func (d disc) reach() []pt      { return square(d.at, hitRadius*d.scale()) }
func (d disc) moved(by pt) item { d.at = d.at.add(by); return d }

// square is two corners of the square about a circle.
func square(centre pt, r float64) []pt {
	return []pt{centre.sub(pt{r, r}), centre.add(pt{r, r})}
}

// box is a text's rectangle, four corners in order.
func (t text) box() [4]pt {
	w := max(textWidth(t.words, t.size), t.room)
	x0 := [...]float64{middle: -w / 2, start: 0, end: -w}[t.anchor]
	u := heading(-t.turn * radian)
	up := u.left()
	lo, hi := -descent(t.words)*t.size, 0.76*t.size
	corner := func(x, y float64) pt { return t.at.add(u.times(x)).add(up.times(y)) }
	return [4]pt{corner(x0, lo), corner(x0+w, lo), corner(x0+w, hi), corner(x0, hi)}
}
