package geom

import "gonum.org/v1/gonum/spatial/r3"

// Solid is a convex piece of wood. The zero Solid is nothing at all. A Solid
// is a value: nothing that is made from it changes it.
type Solid struct {
	verts []Vec
	faces []face
	// loops holds the corner numbers of all faces, one face after the other.
	loops []int32
}

// face is one flat side: its plane, and where its corners stand in loops.
type face struct {
	plane    Plane
	from, to int32
}

// Face is one flat side of a solid.
type Face struct {
	Plane   Plane
	Corners Polygon // anticlockwise seen from outside
}

// Box is the block between two opposite corners. ok is false where it has no
// thickness in some direction.
func Box(lo, hi Vec) (s Solid, ok bool) {
	d := r3.Sub(hi, lo)
	if !Finite(d) || !(d.X > 0 && d.Y > 0 && d.Z > 0) {
		return Solid{}, false
	}
	s.verts = make([]Vec, 8)
	for i := range s.verts {
		v := lo
		if i&1 != 0 {
			v.X = hi.X
		}
		if i&2 != 0 {
			v.Y = hi.Y
		}
		if i&4 != 0 {
			v.Z = hi.Z
		}
		s.verts[i] = v
	}
	s.loops = []int32{
		0, 4, 6, 2, 1, 3, 7, 5, // -x, +x
		0, 1, 5, 4, 2, 6, 7, 3, // -y, +y
		0, 2, 3, 1, 4, 5, 7, 6, // -z, +z
	}
	s.faces = []face{
		{Plane{Vec{X: -1}, -lo.X}, 0, 4}, {Plane{Vec{X: 1}, hi.X}, 4, 8},
		{Plane{Vec{Y: -1}, -lo.Y}, 8, 12}, {Plane{Vec{Y: 1}, hi.Y}, 12, 16},
		{Plane{Vec{Z: -1}, -lo.Z}, 16, 20}, {Plane{Vec{Z: 1}, hi.Z}, 20, 24},
	}
	return s, true
}

// FromHalfSpaces is what lies in all the half-spaces. ok is false where that
// is nothing, or reaches farther than bound from the origin along an axis.
func FromHalfSpaces(planes []Plane, bound, tol float64) (Solid, bool) {
	s, ok := Box(Vec{X: -bound, Y: -bound, Z: -bound}, Vec{X: bound, Y: bound, Z: bound})
	if !ok {
		return Solid{}, false
	}
	s, ok = s.ClipAll(planes, tol)
	for _, v := range s.verts {
		if max(v.X, v.Y, v.Z) >= bound || min(v.X, v.Y, v.Z) <= -bound {
			return Solid{}, false
		}
	}
	return s, ok
}

// Empty says that there is no wood.
func (s Solid) Empty() bool { return len(s.faces) == 0 }

// Faces lists the sides.
func (s Solid) Faces() []Face {
	out := make([]Face, len(s.faces))
	for i, f := range s.faces {
		out[i] = Face{Plane: f.plane, Corners: s.corners(f)}
	}
	return out
}

func (s Solid) corners(f face) Polygon {
	g := make(Polygon, 0, f.to-f.from)
	for _, v := range s.loops[f.from:f.to] {
		g = append(g, s.verts[v])
	}
	return g
}

// Vertices lists the corners, each once.
func (s Solid) Vertices() []Vec { return append([]Vec(nil), s.verts...) }

// Edge is one arris and the outward normals of the two faces that meet there.
type Edge struct {
	A, B        Vec
	Left, Right Vec // of the faces left and right of A to B, seen from outside
}

// Edges lists the arrises, each once.
func (s Solid) Edges() []Edge {
	var out []Edge
	type key struct{ a, b int32 }
	left := map[key]int{}
	for _, f := range s.faces {
		loop := s.loops[f.from:f.to]
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if k, seen := left[key{b, a}]; seen {
				out[k].Right = f.plane.N
				continue
			}
			left[key{a, b}] = len(out)
			out = append(out, Edge{A: s.verts[a], B: s.verts[b], Left: f.plane.N})
		}
	}
	return out
}

// Contains says whether v lies in the solid or within tol of it.
func (s Solid) Contains(v Vec, tol float64) bool {
	for _, f := range s.faces {
		if f.plane.Dist(v) > tol {
			return false
		}
	}
	return len(s.faces) > 0
}

// Volume is the wood in the solid: the sum of the pyramids that its faces
// span with one of its corners.
func (s Solid) Volume() float64 {
	if s.Empty() {
		return 0
	}
	apex, sum := s.verts[0], 0.0
	for i := range s.faces {
		f := &s.faces[i]
		loop := s.loops[f.from:f.to]
		a := s.verts[loop[0]]
		b := r3.Sub(s.verts[loop[1]], a)
		var twice Vec // the face's area, along its normal
		for _, n := range loop[2:] {
			c := r3.Sub(s.verts[n], a)
			twice = r3.Add(twice, Cross(b, c))
			b = c
		}
		sum += Dot(r3.Sub(a, apex), twice)
	}
	return sum / 6
}

// Area is the surface of the solid.
func (s Solid) Area() float64 {
	sum := 0.0
	for _, f := range s.faces {
		sum += s.corners(f).Area()
	}
	return sum
}
