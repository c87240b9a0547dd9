package drawing

import "math"

// site is what stands on a canvas already, as a search for room wants it:
// straight pieces of line, the boxes of lettering, and balloons.
type site struct {
	marks  int // of the canvas, how many are taken in
	lines  []bar
	boxes  []box4
	discs  []pt
	lo, hi pt
}

// bar is a straight piece of a mark.
type bar struct {
	a, b   pt
	lo, hi pt
	kind   layer
}

// box4 is the box of a text and the upright rectangle around it.
type box4 struct {
	corners [4]pt
	lo, hi  pt
}

func newBar(a, b pt, kind layer) bar {
	return bar{a, b, pt{min(a.x, b.x), min(a.y, b.y)}, pt{max(a.x, b.x), max(a.y, b.y)}, kind}
}

func newBox(corners [4]pt) box4 {
	b := box4{corners: corners, lo: corners[0], hi: corners[0]}
	for _, p := range corners[1:] {
		b.lo = pt{math.Min(b.lo.x, p.x), math.Min(b.lo.y, p.y)}
		b.hi = pt{math.Max(b.hi.x, p.x), math.Max(b.hi.y, p.y)}
	}
	return b
}

// take adds marks to what stands.
func (s *site) take(items []item) {
	if s.marks == 0 {
		s.clear()
	}
	for _, i := range items {
		switch i := i.(type) {
		case text:
			b := newBox(i.box())
			s.boxes = append(s.boxes, b)
			s.widen(b.lo, b.hi)
		case disc:
			s.discs = append(s.discs, i.at)
			s.widen(i.at.sub(pt{hitRadius, hitRadius}), i.at.add(pt{hitRadius, hitRadius}))
		case ring:
			s.circle(i)
		case stroke:
			s.outline(i.steps, i.kind)
		case solid:
			for k, p := range i.corners {
				s.bar(p, i.corners[(k+1)%len(i.corners)], ink)
			}
		}
	}
	s.marks += len(items)
}

// widen makes the rectangle around everything hold another one.
func (s *site) widen(lo, hi pt) {
	s.lo = pt{min(s.lo.x, lo.x), min(s.lo.y, lo.y)}
	s.hi = pt{max(s.hi.x, hi.x), max(s.hi.y, hi.y)}
}

func (s *site) bar(a, b pt, kind layer) {
	l := newBar(a, b, kind)
	s.lines = append(s.lines, l)
	s.widen(l.lo, l.hi)
}

// clear empties the site and keeps its memory.
func (s *site) clear() {
	*s = site{lines: s.lines[:0], boxes: s.boxes[:0], discs: s.discs[:0]}
	s.lo, s.hi = pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
}

func (s *site) circle(r ring) {
	last := onCircle(r.centre, r.r, 0)
	for k := 1; k <= 12; k++ {
		p := onCircle(r.centre, r.r, float64(k)*pi/6)
		s.bar(last, p, r.kind)
		last = p
	}
}

func (s *site) outline(steps []step, kind layer) {
	var at, first pt
	for _, st := range steps {
		switch st.op {
		case 'M':
			first = st.p
		case 'L':
			s.bar(at, st.p, kind)
		case 'A':
			s.bend(at, st, kind)
		case 'Z':
			s.bar(at, first, kind)
			continue
		}
		at = st.p
	}
}

// bend takes an arc in as chords, one for every fifteen degrees.
func (s *site) bend(from pt, st step, kind layer) {
	mid, half := from.mid(st.p), from.to(st.p)/2
	if half == 0 {
		return
	}
	across := st.p.sub(from).unit().left()
	if st.clockwise {
		across = across.times(-1)
	}
	c := mid.add(across.times(math.Sqrt(math.Max(0, st.r*st.r-half*half))))
	a := math.Atan2(c.y-from.y, from.x-c.x)
	turn := math.Remainder(math.Atan2(c.y-st.p.y, st.p.x-c.x)-a, 2*pi)
	last, n := from, max(2, math.Ceil(math.Abs(turn)*12/pi))
	for k := 1.0; k <= n; k++ {
		p := onCircle(c, st.r, a+turn*k/n)
		s.bar(last, p, kind)
		last = p
	}
}

// What a way of drawing something costs beside what stands there already. A
// clash is lettering on a line and the like, which no drawing may have.
const (
	clash        = 1000.0
	crossOutline = 3.0
	crossNarrow  = 1.5
	throughBall  = 40.0
	taller       = 0.06 // a unit of paper
)

// cost is what marks cost on the site; it stops counting at limit. fresh is
// memory for the marks.
func (s *site) cost(fresh *site, items []item, limit float64) float64 {
	fresh.clear()
	fresh.take(items)
	sum := s.paper(fresh)
	if sum >= limit {
		return sum
	}
	for i := range fresh.boxes {
		sum += s.boxCost(&fresh.boxes[i]) + fresh.boxOnLines(&fresh.boxes[i])
		if sum >= limit {
			return sum
		}
	}
	for i := range fresh.lines {
		sum += s.lineCost(&fresh.lines[i])
		if sum >= limit {
			return sum
		}
	}
	for _, d := range fresh.discs {
		sum += s.discCost(d) + fresh.discOnHeads(d)
	}
	return sum
}

// paper is what the marks' reach costs: the paper's width must hold
// everything, and height is the reader's scrolling.
func (s *site) paper(fresh *site) float64 {
	wide := math.Max(s.hi.x, fresh.hi.x) - math.Min(s.lo.x, fresh.lo.x)
	sum := taller * (math.Max(0, s.lo.y-fresh.lo.y) + math.Max(0, fresh.hi.y-s.hi.y))
	if wide > Width-2*margin {
		sum += clash + wide
	}
	return sum
}

func apart(alo, ahi, blo, bhi pt, by float64) bool {
	return alo.x > bhi.x+by || blo.x > ahi.x+by || alo.y > bhi.y+by || blo.y > ahi.y+by
}

func (s *site) boxCost(b *box4) float64 {
	sum := s.boxOnLines(b)
	for i := range s.boxes {
		if o := &s.boxes[i]; !apart(o.lo, o.hi, b.lo, b.hi, 3) && boxesTouch(o.corners, b.corners) {
			sum += clash
		}
	}
	for _, d := range s.discs {
		if distanceToBox(b.corners, d) < ringRadius+1 {
			sum += clash
		}
	}
	return sum
}

func (s *site) boxOnLines(b *box4) float64 {
	sum := 0.0
	for i := range s.lines {
		if l := &s.lines[i]; !apart(l.lo, l.hi, b.lo, b.hi, 1) && meets(l, b) {
			sum += clash
		}
	}
	return sum
}

func (s *site) lineCost(l *bar) float64 {
	sum := 0.0
	for i := range s.boxes {
		if b := &s.boxes[i]; !apart(l.lo, l.hi, b.lo, b.hi, 1) && meets(l, b) {
			sum += clash
		}
	}
	for _, d := range s.discs {
		if distanceToBar(d, l.a, l.b) < ballRadius+2 {
			sum += throughBall
			if l.kind == visible || l.kind == ink || l.kind == phantom {
				sum += clash
			}
		}
	}
	if l.kind == ink {
		return sum
	}
	for i := range s.lines {
		o := &s.lines[i]
		if apart(l.lo, l.hi, o.lo, o.hi, 0) || !crosses(l.a, l.b, o.a, o.b) {
			continue
		}
		if o.kind == visible {
			sum += crossOutline
		} else {
			sum += crossNarrow
		}
	}
	return sum
}

// discOnHeads is what a balloon costs on the arrowheads of its own dimension.
func (s *site) discOnHeads(d pt) float64 {
	sum := 0.0
	for i := range s.lines {
		if l := &s.lines[i]; l.kind == ink && distanceToBar(d, l.a, l.b) < ballRadius+3 {
			sum += clash
		}
	}
	return sum
}

func (s *site) discCost(d pt) float64 {
	sum := 0.0
	for _, o := range s.discs {
		if d.to(o) < 2*hitRadius+1 {
			sum += clash
		}
	}
	for i := range s.boxes {
		if distanceToBox(s.boxes[i].corners, d) < ringRadius+2 {
			sum += clash
		}
	}
	r := pt{ringRadius, ringRadius}
	for i := range s.lines {
		l := &s.lines[i]
		if apart(l.lo, l.hi, d.sub(r), d.add(r), 2) {
			continue
		}
		switch near := distanceToBar(d, l.a, l.b); {
		case near < ballRadius+3 && (l.kind == visible || l.kind == ink || l.kind == phantom):
			sum += clash
		case near < ballRadius+1:
			sum += throughBall
		}
	}
	return sum
}
