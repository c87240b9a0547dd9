package geom

import (
	"math"
	"sync"
)

// cutters keeps the memory of one cut for the next.
var cutters = sync.Pool{New: func() any { return new(cutter) }}

// cutter is a solid while it is being cut. Loops are only added, never moved:
// a face that the plane misses costs one look at its mask, and what is no
// longer used is left behind at the end. A corner's place is used again, for
// the sake of the masks, but only from the next cut on.
type cutter struct {
	corners []cutCorner
	gone    []int32   // the corners that this cut takes away
	free    []int32   // those that earlier cuts took away
	faces   []cutFace // all there ever were
	use     []faceRef // those still in use
	loops   []int32
	edges   []cutEdge // that this cut cuts
	first   int32     // a corner of the rim of this cut
	links   int       // of the rim
}

// cutCorner is a corner, how far it lies outside the plane of this cut, and on
// which side that is. One that is cut away lies nowhere: its place is not a
// number.
type cutCorner struct {
	at   Vec
	dist float64
	// next is, for a corner on the plane, the one after it on the rim of the
	// cut; for a corner inside, the first of its edges that was cut; at the
	// end, the corner's number in the result.
	next int32
	side int8
}

// The sides of a plane, as bits.
const (
	inside  = 1
	on      = 2
	outside = 4
)

// none stands for no corner.
const none = -1

// cutFace is a face and where its corners stand in loops.
type cutFace struct {
	plane    Plane
	from, to int32
}

// faceRef is a face's number and a bit for each of its corners: the corner's
// number modulo 64. Two corners may share a bit, so a mask tells for certain
// only that a face does not have any of certain corners.
type faceRef struct {
	mask uint64
	face int32
}

// bit is a corner's place in masks.
func bit(corner int32) uint64 { return 1 << (uint32(corner) & 63) }

// cutEdge is an edge that was cut: its corners inside and outside, the new one
// between, and the next edge that was cut at the same inside corner.
type cutEdge struct{ in, out, corner, next int32 }

// masks are the corners on each side of the plane.
type masks struct{ inside, on, outside uint64 }

// load takes a solid in. ok is false where it has a corner that is no point.
func (k *cutter) load(s Solid) (ok bool) {
	k.corners = sized(k.corners, len(s.verts))
	k.faces = sized(k.faces, len(s.faces))
	k.use = sized(k.use, len(s.faces))
	k.loops = append(k.loops[:0], s.loops...)
	k.free = k.free[:0]
	sum := 0.0
	for i, v := range s.verts {
		k.corners[i].at = v
		sum += v.X + v.Y + v.Z
	}
	for i := range s.faces {
		f := &s.faces[i]
		mask := uint64(0)
		for _, c := range s.loops[f.from:f.to] {
			mask |= bit(c)
		}
		k.faces[i] = cutFace{plane: f.plane, from: f.from, to: f.to}
		k.use[i] = faceRef{mask: mask, face: int32(i)}
	}
	return finite(sum)
}

// sized is the slice with n elements, whatever they hold.
func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, 2*n)
	}
	return s[:n]
}

// cut takes away what lies outside the plane. It is false where nothing is
// left, and where the plane has no usable numbers.
func (k *cutter) cut(p *Plane, tol float64) bool {
	if !Finite(p.N) || !finite(p.D) {
		return false
	}
	m := k.sort(p, tol)
	if m.outside == 0 {
		return true
	}
	if m.inside == 0 {
		return false
	}
	k.edges = k.edges[:0]
	k.first, k.links = none, 0
	k.cutFaces(m)
	k.cap(*p)
	k.forget()
	return true
}

// sort tells on which side every corner lies, and which ones go. Most lie
// inside, so that is asked first; a corner that is gone already is on neither
// side, and costs nothing but the last question.
func (k *cutter) sort(p *Plane, tol float64) (m masks) {
	corners, gone, plane := k.corners, k.gone[:0], *p
	for i := range corners {
		c := &corners[i]
		d := plane.Dist(c.at)
		c.dist = d
		switch {
		case d < -tol:
			c.side = inside
			m.inside |= bit(int32(i))
		case d > tol:
			c.side = outside
			m.outside |= bit(int32(i))
			gone = append(gone, int32(i))
		case c.at.X == c.at.X:
			c.side, c.next = on, none
			m.on |= bit(int32(i))
		}
	}
	k.gone = gone
	return m
}

// forget frees the places of the corners that this cut took away.
func (k *cutter) forget() {
	for _, i := range k.gone {
		k.corners[i].at.X = math.NaN()
	}
	k.free = append(k.free, k.gone...)
}

// finish hands the memory back, and the solid out if anything is left of it.
func (k *cutter) finish(ok bool) (s Solid, _ bool) {
	if ok {
		s, ok = k.result()
	}
	cutters.Put(k)
	return s, ok
}

// result is the solid with only the memory it needs. ok is false where sizes
// were so absurd that a corner came out nowhere.
func (k *cutter) result() (_ Solid, ok bool) {
	size := 0
	for _, r := range k.use {
		f := &k.faces[r.face]
		size += int(f.to - f.from)
	}
	s := newSolid(len(k.corners)-len(k.free), len(k.use), size)
	corners, verts, loops := k.corners, s.verts, s.loops[:0]
	n := 0
	for i := range corners {
		// What is not a number is gone.
		if c := &corners[i]; c.at.X == c.at.X {
			verts[n], c.next = c.at, int32(n)
			n++
		}
	}
	if n != len(verts) {
		return Solid{}, false
	}
	for i, r := range k.use {
		f, out := &k.faces[r.face], &s.faces[i]
		out.plane, out.from = f.plane, int32(len(loops))
		for _, c := range k.loops[f.from:f.to] {
			loops = append(loops, corners[c].next)
		}
		out.to = int32(len(loops))
	}
	return s, true
}

// mediumSolid is room in one piece of memory, which costs less than three
// pieces do. Nearly every solid that is cut more than a little fits.
type mediumSolid struct {
	verts [48]Vec
	faces [28]face
	loops [156]int32
}

// newSolid is a solid with room for so much.
func newSolid(verts, faces, loops int) Solid {
	var m *mediumSolid
	// In a small solid most of the room would be waste.
	if verts < len(m.verts)/3 || verts > len(m.verts) || faces > len(m.faces) || loops > len(m.loops) {
		return Solid{verts: make([]Vec, verts), faces: make([]face, faces), loops: make([]int32, loops)}
	}
	m = new(mediumSolid)
	return Solid{verts: m.verts[:verts:verts], faces: m.faces[:faces:faces], loops: m.loops[:loops:loops]}
}
