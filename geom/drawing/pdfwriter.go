package drawing

import (
	"math"
	"slices"
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"arrisbook/geom/drawing/fonts"
)

// pdfWriter puts marks on the current page of a document. Coordinates go out
// with two decimals of a point, a 250th of a millimetre.
type pdfWriter struct {
	f    *fpdf.Fpdf
	pen  layer
	held bool // pen is set on this page
	thin bool // a template: lines that a knife can find
}

// widths are the line types' widths in millimetres (ISO 128-20: 0.5 and half
// of it), and on a template, where a line is a place and not an edge, the next
// smaller pair.
var widths = map[bool]map[layer]float64{
	false: {narrow: 0.25, phantom: 0.25, hidden: 0.25, centre: 0.25, visible: 0.5},
	true:  {narrow: 0.18, phantom: 0.18, hidden: 0.18, centre: 0.18, visible: 0.25},
}

// dashes are the line types' dashes and gaps in millimetres, as on screen.
var dashes = map[layer][]float64{
	hidden:  {1.75, 1},
	centre:  {4, 0.75, 0.5, 0.75},
	phantom: {3.5, 0.75, 0.5, 0.75, 0.5, 0.75},
}

func (w *pdfWriter) items(items []item) {
	for _, i := range items {
		switch m := i.(type) {
		case stroke:
			w.take(m.kind)
			w.path(m.steps)
			w.f.DrawPath("D")
		case solid:
			w.path(outlineOf(m))
			w.f.DrawPath("F")
		case ring:
			w.ring(m)
		case text:
			w.text(m)
		case disc:
			w.disc(m)
		case window:
			w.window(m)
		}
	}
}

// take picks up the pen of a line type, unless it is in hand already.
func (w *pdfWriter) take(l layer) {
	if w.held && w.pen == l {
		return
	}
	if !w.held {
		w.f.SetDrawColor(0, 0, 0)
		w.f.SetFillColor(0, 0, 0)
		w.f.SetLineJoinStyle("round")
	}
	cap := "butt" // dashes end where they should
	if dashes[l] == nil {
		cap = "round"
	}
	w.f.SetLineCapStyle(cap)
	w.f.SetLineWidth(widths[w.thin][l])
	w.f.SetDashPattern(dashes[l], 0)
	w.pen, w.held = l, true
}

func (w *pdfWriter) path(steps []step) {
	var at, first pt
	for _, s := range steps {
		switch s.op {
		case 'M':
			w.f.MoveTo(s.p.x/unitsPerMM, s.p.y/unitsPerMM)
			first = s.p
		case 'L':
			w.f.LineTo(s.p.x/unitsPerMM, s.p.y/unitsPerMM)
		case 'A':
			w.arc(at, s)
		case 'Z':
			w.f.ClosePath()
			at = first
			continue
		}
		at = s.p
	}
}

// arc is an arc of at most half a turn, in pieces of at most 30 degrees: a
// cubic then keeps to the circle within a millionth of its radius.
func (w *pdfWriter) arc(from pt, s step) {
	chord := s.p.sub(from)
	half := math.Min(chord.length()/2, s.r)
	if half == 0 {
		return
	}
	side := chord.unit().right()
	if !s.clockwise {
		side = side.times(-1)
	}
	middle := from.mid(s.p).add(side.times(math.Sqrt(float64(s.r*s.r) - float64(half*half))))
	turn := 2 * math.Asin(half/s.r)
	if !s.clockwise {
		turn = -turn
	}
	n := math.Max(1, math.Ceil(math.Abs(turn)/(math.Pi/6)))
	w.cubics(middle, from.sub(middle), turn/n, int(n))
}

// cubics carries on from middle + arm by n arcs, each through angle turn,
// positive clockwise as seen.
func (w *pdfWriter) cubics(middle, arm pt, turn float64, n int) {
	k := 4.0 / 3 * math.Tan(turn/4)
	for range n {
		next := arm.turned(turn)
		a, b := arm.add(arm.right().times(k)), next.sub(next.right().times(k))
		a, b, arm = middle.add(a), middle.add(b), next
		end := middle.add(next)
		w.f.CurveBezierCubicTo(a.x/unitsPerMM, a.y/unitsPerMM, b.x/unitsPerMM, b.y/unitsPerMM, end.x/unitsPerMM, end.y/unitsPerMM)
	}
}

// turned is a direction turned by an angle in radians, clockwise as seen.
func (p pt) turned(a float64) pt {
	s, c := math.Sincos(a)
	return pt{float64(p.x*c) - float64(p.y*s), float64(p.x*s) + float64(p.y*c)}
}

func (w *pdfWriter) circle(c pt, r float64, style string) {
	w.f.MoveTo((c.x+r)/unitsPerMM, c.y/unitsPerMM)
	w.cubics(c, pt{r, 0}, math.Pi/6, 12)
	w.f.ClosePath()
	w.f.DrawPath(style)
}

func (w *pdfWriter) ring(r ring) {
	if r.kind == ink {
		w.circle(r.centre, r.r, "F")
		return
	}
	w.take(r.kind)
	w.circle(r.centre, r.r, "D")
}

// text puts words in the embedded lettering; a letter it lacks becomes a
// question mark.
func (w *pdfWriter) text(t text) {
	bold := t.face == strong
	m := fonts.Of(bold)
	words, style := m.Printable(t.words), ""
	if bold {
		style = "B"
	}
	size := t.size / unitsPerMM
	w.f.SetFont(sans, style, size/mmPerPoint)
	x, y := t.at.x/unitsPerMM, t.at.y/unitsPerMM
	shift := map[anchor]float64{middle: 0.5, start: 0, end: 1}[t.anchor] * m.Width(words) * size
	if t.turn == 0 {
		w.f.Text(x-shift, y, words)
		return
	}
	w.f.TransformBegin()
	w.f.TransformRotate(-t.turn, x, y)
	w.f.Text(x-shift, y, words)
	w.f.TransformEnd()
}

// disc writes a balloon: white inside, a second ring where it is the next
// thing to do.
func (w *pdfWriter) disc(d disc) {
	k := d.scale()
	w.take(visible)
	w.f.SetFillColor(255, 255, 255)
	if d.Next {
		w.circle(d.at, k*ringRadius, "DF")
	}
	w.circle(d.at, k*ballRadius, "DF")
	w.f.SetFillColor(0, 0, 0)
	w.text(text{
		at: d.at.add(pt{0, 0.355 * k * sizeNumber}), size: k * sizeNumber,
		face: strong, words: strconv.Itoa(d.Number),
	})
}

// window is part of a template seen through a rectangle of the page.
type window struct {
	lo, hi pt // the rectangle
	marks  []item
}

func (window) layer() layer  { return visible }
func (w window) reach() []pt { return []pt{w.lo, w.hi} }
func (w window) moved(by pt) item {
	return window{w.lo.add(by), w.hi.add(by), rescaled(w.marks, by, 1)}
}

// window writes what shows through, and leaves out what is nowhere near.
func (w *pdfWriter) window(v window) {
	w.f.ClipRect(v.lo.x/unitsPerMM, v.lo.y/unitsPerMM, (v.hi.x-v.lo.x)/unitsPerMM, (v.hi.y-v.lo.y)/unitsPerMM, false)
	inner := pdfWriter{f: w.f, thin: true}
	for _, i := range v.marks {
		if shows(i, v) {
			inner.items([]item{i})
		}
	}
	w.f.ClipEnd()
	w.held = false // the clip has its own pens
}

// shows says whether a mark's rectangle meets the window. An arc's may be
// larger than its ends tell, so it always counts.
func shows(i item, v window) bool {
	if s, ok := i.(stroke); ok && slices.ContainsFunc(s.steps, func(s step) bool { return s.op == 'A' }) {
		return true
	}
	c := canvas{items: []item{i}}
	lo, hi := c.extent()
	const pen = 1 // half a line's width and more
	return lo.x < v.hi.x+pen && hi.x > v.lo.x-pen && lo.y < v.hi.y+pen && hi.y > v.lo.y-pen
}
