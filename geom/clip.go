package geom

import "sync"

// cutters keeps the memory of one cut for the next.
var cutters = sync.Pool{New: func() any { return new(cutter) }}

// Clip is what of the solid lies in the half-space. Corners within tol of the
// plane count as lying on it. ok is false where nothing is left.
func (s Solid) Clip(p Plane, tol float64) (Solid, bool) {
	return s.ClipAll([]Plane{p}, tol)
}

// Intersect is what two solids share. ok is false where that is nothing.
func (s Solid) Intersect(o Solid, tol float64) (Solid, bool) {
	if o.Empty() {
		return Solid{}, false
	}
	var store [32]Plane
	planes := store[:0]
	for _, f := range o.faces {
		planes = append(planes, f.plane)
	}
	return s.ClipAll(planes, tol)
}

// ClipAll clips by one plane after the other. ok is false where nothing is
// left, and where a plane has no usable numbers.
func (s Solid) ClipAll(planes []Plane, tol float64) (Solid, bool) {
	if s.Empty() {
		return Solid{}, false
	}
	k := cutters.Get().(*cutter)
	defer cutters.Put(k)
	k.load(s)
	for _, p := range planes {
		if !Finite(p.N) || !finite(p.D) || !k.cut(p, tol) {
			return Solid{}, false
		}
	}
	return k.result(), true
}

// cutter is a solid while it is being cut. Corners and loops are only added,
// never moved: a face that the plane misses costs one look at its corners.
// What is no longer used is left behind at the end.
type cutter struct {
	verts []Vec
	dist  []float64 // of every corner from the plane of this cut
	side  []int8    // inside, on or outside it
	live  []int32   // the corners still in use
	faces []face
	loops []int32
	made  []madeCorner
	rim   []int32 // corners on the plane of this cut
}

// The sides of a plane, as bits.
const (
	inside  = 1
	on      = 2
	outside = 4
)

// madeCorner is the corner where the edge from in to out was cut.
type madeCorner struct{ in, out, corner int32 }

func (k *cutter) load(s Solid) {
	k.verts = append(k.verts[:0], s.verts...)
	k.faces = append(k.faces[:0], s.faces...)
	k.loops = append(k.loops[:0], s.loops...)
	k.dist, k.side, k.live = k.dist[:0], k.side[:0], k.live[:0]
	for i := range k.verts {
		k.dist = append(k.dist, 0)
		k.side = append(k.side, on)
		k.live = append(k.live, int32(i))
	}
}

// cut takes away what lies outside the plane. It is false where nothing is
// left.
func (k *cutter) cut(p Plane, tol float64) bool {
	var seen int8
	verts, dist, sides := k.verts, k.dist, k.side
	for _, i := range k.live {
		d := p.Dist(verts[i])
		side := int8(on)
		if d > tol {
			side = outside
		} else if d < -tol {
			side = inside
		}
		dist[i], sides[i] = d, side
		seen |= side
	}
	if seen&outside == 0 {
		return true
	}
	if seen&inside == 0 {
		return false
	}
	k.dropCorners()
	k.cutFaces()
	k.cap(p)
	return true
}

// dropCorners keeps the corners that stay in use and begins the rim with those
// on the plane.
func (k *cutter) dropCorners() {
	k.made, k.rim = k.made[:0], k.rim[:0]
	stay := k.live[:0]
	for _, i := range k.live {
		if k.side[i] == outside {
			continue
		}
		stay = append(stay, i)
		if k.side[i] == on {
			k.rim = append(k.rim, i)
		}
	}
	k.live = stay
}

// cutFaces keeps the faces inside, drops those outside and those that only
// touch the plane, and cuts the others.
func (k *cutter) cutFaces() {
	n, side := 0, k.side
	for i := range k.faces {
		f := &k.faces[i]
		var seen int8
		for _, i := range k.loops[f.from:f.to] {
			seen |= side[i]
		}
		if seen&inside == 0 {
			continue
		}
		if seen&outside != 0 {
			f.from, f.to = k.cutLoop(f.from, f.to)
		}
		if f.to-f.from < 3 {
			continue
		}
		if n != i {
			k.faces[n] = *f
		}
		n++
	}
	k.faces = k.faces[:n]
}

// cutLoop writes what stays of a loop behind all the others.
func (k *cutter) cutLoop(from, to int32) (newFrom, newTo int32) {
	newFrom = int32(len(k.loops))
	a := k.loops[to-1]
	for n := from; n < to; n++ {
		b := k.loops[n]
		switch k.side[a] | k.side[b] {
		case inside | outside:
			k.loops = append(k.loops, k.corner(a, b))
			if k.side[b] == inside {
				k.loops = append(k.loops, b)
			}
		case on | outside:
			if k.side[b] == on {
				k.loops = append(k.loops, b)
			}
		case outside:
		default:
			k.loops = append(k.loops, b)
		}
		a = b
	}
	return newFrom, int32(len(k.loops))
}

// corner is the number of the corner where an edge is cut: one for both faces
// that share the edge.
func (k *cutter) corner(a, b int32) int32 {
	if k.side[a] == outside {
		a, b = b, a
	}
	for _, m := range k.made {
		if m.in == a && m.out == b {
			return m.corner
		}
	}
	n := int32(len(k.verts))
	k.verts = append(k.verts, crossing(k.verts[a], k.verts[b], k.dist[a], k.dist[b]))
	k.dist, k.side = append(k.dist, 0), append(k.side, on)
	k.live, k.rim = append(k.live, n), append(k.rim, n)
	k.made = append(k.made, madeCorner{a, b, n})
	return n
}

// cap closes the cut with a face of its own: the rim's corners, sorted
// anticlockwise about their middle. A rim without area adds no face.
func (k *cutter) cap(p Plane) {
	if len(k.rim) < 3 {
		return
	}
	var mid Vec
	share := 1 / float64(len(k.rim))
	for _, n := range k.rim {
		mid = Along(mid, share, k.verts[n])
	}
	u := Along(k.verts[k.rim[0]], -1, mid)
	v := Cross(p.N, u)
	// Insertion sort, for a rim has a handful of corners. Their distances from
	// the plane are no longer needed and make room for their turns.
	for i, n := range k.rim {
		r := Along(k.verts[n], -1, mid)
		turn := turnOf(Dot(u, r), Dot(v, r))
		k.dist[n] = turn
		j := i
		for ; j > 0 && k.dist[k.rim[j-1]] > turn; j-- {
			k.rim[j] = k.rim[j-1]
		}
		k.rim[j] = n
	}
	from := int32(len(k.loops))
	k.loops = append(k.loops, k.rim...)
	k.faces = append(k.faces, face{plane: p, from: from, to: int32(len(k.loops))})
}

// turnOf grows with the angle of (x, y) from 0 to 4 over a full turn, as the
// angle itself would, without an arctangent.
func turnOf(x, y float64) float64 {
	ax, ay := x, y
	if ax < 0 {
		ax = -ax
	}
	if ay < 0 {
		ay = -ay
	}
	if ax+ay == 0 {
		return 0
	}
	t := ay / (ax + ay)
	switch {
	case y < 0 && x >= 0:
		return 4 - t
	case y < 0:
		return 2 + t
	case x < 0:
		return 2 - t
	}
	return t
}

// result is the solid with only the memory it needs.
func (k *cutter) result() Solid {
	s := Solid{
		verts: make([]Vec, len(k.live)),
		faces: make([]face, len(k.faces)),
	}
	// side is no longer needed; dist makes room for the new numbers.
	for n, i := range k.live {
		s.verts[n] = k.verts[i]
		k.dist[i] = float64(n)
	}
	size := 0
	for _, f := range k.faces {
		size += int(f.to - f.from)
	}
	s.loops = make([]int32, 0, size)
	for n, f := range k.faces {
		from := int32(len(s.loops))
		for _, i := range k.loops[f.from:f.to] {
			s.loops = append(s.loops, int32(k.dist[i]))
		}
		s.faces[n] = face{plane: f.plane, from: from, to: int32(len(s.loops))}
	}
	return s
}
