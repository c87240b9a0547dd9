package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// touch is how near, in millimetres, points and faces count as the same: a
// thousand times what cutting solids leaves, far below what a line is wide.
const touch = 1e-6

// beside is how far to either side of a line, in millimetres of the picture,
// it is asked what lies before it: a line right behind the seam of two pieces
// is behind wood on both sides, one right behind an outline on one side only.
// deep is how far a face that is not seen edge on must lie before a line to
// hide it: that line's own neighbours, a little to the side, lie before it by
// their slope.
const (
	beside = 10 * touch
	deep   = 10 * beside
)

// span is a part of a line, from and to as shares of its length.
type span struct{ from, to float64 }

// edge is one line of a projected picture, in the picture's millimetres.
type edge struct {
	a, b   pt
	hidden bool
}

// project draws what a camera sees of parts: every arris, in pieces that are
// visible or hidden. Hidden lines are exact for convex pieces. The seams
// between pieces of one part are no arrises and are left out; those between
// parts are joint lines and are drawn. A hidden line behind a visible one is
// left out, and no line is there twice.
func project(parts []joint.Part, cam camera) []edge {
	w := newWood(parts, cam)
	var es []edge
	for i := range w.pieces {
		for _, e := range w.pieces[i].arrises {
			es = w.project(es, i, e)
		}
	}
	return merged(es)
}

// wood is all convex pieces of all parts, ready to be looked at.
type wood struct {
	cam    camera
	pieces []piece
}

// piece is one convex piece: its half-spaces, its arrises and the box that
// holds its picture.
type piece struct {
	part    int
	planes  []geom.Plane
	tilts   []float64 // of each plane toward the reader
	arrises []geom.Edge
	lo, hi  pt
	near    float64 // depth of the point nearest to the reader
	min     geom.Vec
	max     geom.Vec
}

func newWood(parts []joint.Part, cam camera) *wood {
	w := &wood{cam: cam}
	for n, part := range parts {
		for _, s := range part.Pieces {
			if !s.Empty() {
				w.pieces = append(w.pieces, newPiece(n, s, cam))
			}
		}
	}
	return w
}

func newPiece(part int, s geom.Solid, cam camera) piece {
	p := piece{part: part, arrises: s.Edges()}
	for _, f := range s.Faces() {
		p.planes = append(p.planes, f.Plane)
		p.tilts = append(p.tilts, geom.Dot(f.Plane.N, cam.toward))
	}
	for i, v := range s.Vertices() {
		q, d := cam.seen(v), cam.depth(v)
		if i == 0 {
			p.lo, p.hi, p.near, p.min, p.max = q, q, d, v, v
			continue
		}
		p.lo, p.hi = pt{min(p.lo.x, q.x), min(p.lo.y, q.y)}, pt{max(p.hi.x, q.x), max(p.hi.y, q.y)}
		p.near = max(p.near, d)
		p.min = geom.Vec{X: min(p.min.X, v.X), Y: min(p.min.Y, v.Y), Z: min(p.min.Z, v.Z)}
		p.max = geom.Vec{X: max(p.max.X, v.X), Y: max(p.max.Y, v.Y), Z: max(p.max.Z, v.Z)}
	}
	return p
}

// project adds what is seen of one arris of a piece, and dashed what is not.
func (w *wood) project(es []edge, n int, e geom.Edge) []edge {
	a, b := w.cam.seen(e.A), w.cam.seen(e.B)
	if a.to(b) < touch {
		return es // looked at along its length: a point
	}
	at := func(t float64) pt { return a.add(b.sub(a).times(t)) }
	real := w.real(n, e)
	covered := []span{{0, 1}}
	if w.faces(e) {
		covered = w.covered(n, e)
	}
	for _, s := range without(real, covered) {
		es = append(es, edge{a: at(s.from), b: at(s.to)})
	}
	for _, s := range shared(real, covered) {
		es = append(es, edge{a: at(s.from), b: at(s.to), hidden: true})
	}
	return es
}

// faces says that one of the arris's two faces looks toward the reader: the
// piece does not hide it from itself.
func (w *wood) faces(e geom.Edge) bool {
	return geom.Dot(e.Left, w.cam.toward) > geom.Parallel || geom.Dot(e.Right, w.cam.toward) > geom.Parallel
}

// covered is what other pieces hide of an arris, on both of its sides.
func (w *wood) covered(n int, e geom.Edge) []span {
	u := w.cam.seen(e.B).sub(w.cam.seen(e.A)).unit().times(beside)
	side := geom.Along(geom.Along(geom.Vec{}, -u.y, w.cam.right), u.x, w.cam.up)
	left := w.behind(n, r3.Add(e.A, side), r3.Add(e.B, side))
	if len(left) == 0 {
		return nil
	}
	return shared(left, w.behind(n, r3.Sub(e.A, side), r3.Sub(e.B, side)))
}

// behind is what pieces other than one hide of a line.
func (w *wood) behind(n int, from, to geom.Vec) []span {
	a, b := w.cam.seen(from), w.cam.seen(to)
	lo, hi := pt{min(a.x, b.x), min(a.y, b.y)}, pt{max(a.x, b.x), max(a.y, b.y)}
	back := min(w.cam.depth(from), w.cam.depth(to))
	var out []span
	for i := range w.pieces {
		p := &w.pieces[i]
		if i == n || p.near < back+deep || p.hi.x < lo.x || p.lo.x > hi.x || p.hi.y < lo.y || p.lo.y > hi.y {
			continue
		}
		if s, ok := p.hides(from, to, w.cam.toward); ok {
			out = append(out, s)
		}
	}
	return tidied(out)
}

// hides is the part of the line from a to b that lies behind the piece. A
// point a + t(b−a) is behind it where going some way s > 0 toward the reader
// comes into the wood; each of the piece's half-spaces n·p ≤ d is a straight
// border in the plane of t and s, so that what they leave of the strip
// 0 ≤ t ≤ 1, s ≥ 0 is a convex polygon, and its extent in t is the answer. A
// line that only touches the wood is not behind it.
func (p *piece) hides(a, b, toward geom.Vec) (span, bool) {
	along := r3.Sub(b, a)
	far := p.near - min(geom.Dot(a, toward), geom.Dot(b, toward)) + 1
	var store [2][32]pt
	g := append(store[0][:0], pt{0, deep}, pt{1, deep}, pt{1, far}, pt{0, far})
	spare := store[1][:0]
	for i, plane := range p.planes {
		// n·along t + n·toward s ≤ −dist(a), kept clear of the face itself.
		clear := deep
		if math.Abs(p.tilts[i]) < touch {
			clear = touch // seen edge on
		}
		border := halfPlane{geom.Dot(plane.N, along), p.tilts[i], -plane.Dist(a) - clear}
		spare = border.clip(spare[:0], g)
		g, spare = spare, g
		if len(g) == 0 {
			return span{}, false
		}
	}
	s := span{g[0].x, g[0].x}
	for _, q := range g[1:] {
		s = span{min(s.from, q.x), max(s.to, q.x)}
	}
	return s, s.to-s.from > geom.Parallel
}

// halfPlane is the side x·a + y·b ≤ c of a line.
type halfPlane struct{ a, b, c float64 }

func (h halfPlane) over(p pt) float64 { return float64(h.a*p.x) + float64(h.b*p.y) - h.c }

// clip appends to dst what of a convex polygon lies in the half-plane.
func (h halfPlane) clip(dst, g []pt) []pt {
	last := g[len(g)-1]
	before := h.over(last)
	for _, q := range g {
		here := h.over(q)
		if (before < 0) != (here < 0) && before != here {
			t := before / (before - here)
			dst = append(dst, last.add(q.sub(last).times(t)))
		}
		if here < 0 {
			dst = append(dst, q)
		}
		last, before = q, here
	}
	return dst
}
