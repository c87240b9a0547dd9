package geom

// Clip is what of the solid lies in the half-space. Corners within tol of the
// plane count as lying on it. ok is false where nothing is left.
func (s Solid) Clip(p Plane, tol float64) (Solid, bool) {
	return s.ClipAll([]Plane{p}, tol)
}

// Intersect is what two solids share. ok is false where that is nothing.
func (s Solid) Intersect(o Solid, tol float64) (Solid, bool) {
	planes := make([]Plane, len(o.faces))
	for i, f := range o.faces {
		planes[i] = f.plane
	}
	if o.Empty() {
		return Solid{}, false
	}
	return s.ClipAll(planes, tol)
}

// ClipAll clips by one plane after the other. ok is false where nothing is
// left, and where a plane has no usable numbers.
func (s Solid) ClipAll(planes []Plane, tol float64) (Solid, bool) {
	if s.Empty() {
		return Solid{}, false
	}
	var k cutter
	for _, p := range planes {
		if !Finite(p.N) || !finite(p.D) {
			return Solid{}, false
		}
		if s = k.cut(s, p, tol); s.Empty() {
			return Solid{}, false
		}
	}
	return k.release(s), true
}

// cutter holds what cutting needs beside the solid, so that a run of cuts
// takes memory once: two solids that are written alternately, and lists by
// corner number.
type cutter struct {
	buffer [2]Solid
	next   int
	dist   []float64
	moved  []int32 // old corner to new, -1 where it is cut away
	made   []madeCorner
	rim    []int32 // corners that lie on the plane of the cut
}

// madeCorner is the corner where the edge from in to out was cut.
type madeCorner struct{ in, out, corner int32 }

// cut is the part of s in the half-space. The result lies in one of the two
// buffers, or is s itself where the plane misses it.
func (k *cutter) cut(s Solid, p Plane, tol float64) Solid {
	k.dist = k.dist[:0]
	inside, outside := 0, 0
	for _, v := range s.verts {
		d := p.Dist(v)
		switch {
		case d > tol:
			outside++
		case d < -tol:
			inside++
		}
		k.dist = append(k.dist, d)
	}
	if outside == 0 {
		return s
	}
	if inside == 0 {
		return Solid{}
	}
	out := &k.buffer[k.next]
	k.next = 1 - k.next
	k.keepCorners(s, out, tol)
	k.cutFaces(s, out, tol)
	k.cap(out, p)
	return *out
}

// keepCorners copies the corners that stay and numbers them anew.
func (k *cutter) keepCorners(s Solid, out *Solid, tol float64) {
	out.verts, out.faces, out.loops = out.verts[:0], out.faces[:0], out.loops[:0]
	k.moved, k.made, k.rim = k.moved[:0], k.made[:0], k.rim[:0]
	for i, v := range s.verts {
		if k.dist[i] > tol {
			k.moved = append(k.moved, -1)
			continue
		}
		n := int32(len(out.verts))
		if k.dist[i] >= -tol {
			k.rim = append(k.rim, n)
		}
		k.moved = append(k.moved, n)
		out.verts = append(out.verts, v)
	}
}

// cutFaces walks round every face and keeps what stays. Faces that only touch
// the plane from outside go.
func (k *cutter) cutFaces(s Solid, out *Solid, tol float64) {
	for _, f := range s.faces {
		loop := s.loops[f.from:f.to]
		from := int32(len(out.loops))
		stays := false
		a := loop[len(loop)-1]
		for _, b := range loop {
			da, db := k.dist[a], k.dist[b]
			if da < -tol && db > tol {
				out.loops = append(out.loops, k.corner(s, out, a, b))
			} else if da > tol && db < -tol {
				out.loops = append(out.loops, k.corner(s, out, b, a))
			}
			if n := k.moved[b]; n >= 0 {
				out.loops = append(out.loops, n)
				stays = stays || db < -tol
			}
			a = b
		}
		to := int32(len(out.loops))
		if !stays || to-from < 3 {
			out.loops = out.loops[:from]
			continue
		}
		out.faces = append(out.faces, face{plane: f.plane, from: from, to: to})
	}
}

// corner is the number of the corner where an edge is cut: one for both faces
// that share the edge.
func (k *cutter) corner(s Solid, out *Solid, in, outer int32) int32 {
	for _, m := range k.made {
		if m.in == in && m.out == outer {
			return m.corner
		}
	}
	n := int32(len(out.verts))
	out.verts = append(out.verts, crossing(s.verts[in], s.verts[outer], k.dist[in], k.dist[outer]))
	k.made = append(k.made, madeCorner{in, outer, n})
	k.rim = append(k.rim, n)
	return n
}

// cap closes the cut with a face of its own: the rim's corners, sorted
// anticlockwise about their middle. A rim without area adds no face.
func (k *cutter) cap(out *Solid, p Plane) {
	if len(k.rim) < 3 {
		return
	}
	var mid Vec
	for _, n := range k.rim {
		mid = Along(mid, 1/float64(len(k.rim)), out.verts[n])
	}
	u := Along(out.verts[k.rim[0]], -1, mid)
	v := Cross(p.N, u)
	// Insertion sort: a rim has a handful of corners.
	k.dist = k.dist[:0]
	for i, n := range k.rim {
		r := Along(out.verts[n], -1, mid)
		turn := turnOf(Dot(u, r), Dot(v, r))
		k.dist = append(k.dist, turn)
		j := i
		for ; j > 0 && k.dist[j-1] > turn; j-- {
			k.dist[j], k.rim[j] = k.dist[j-1], k.rim[j-1]
		}
		k.dist[j], k.rim[j] = turn, n
	}
	from := int32(len(out.loops))
	out.loops = append(out.loops, k.rim...)
	out.faces = append(out.faces, face{plane: p, from: from, to: int32(len(out.loops))})
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

// release copies the result out of the buffers, so that it keeps only the
// memory it needs.
func (k *cutter) release(s Solid) Solid {
	return Solid{
		verts: append([]Vec(nil), s.verts...),
		faces: append([]face(nil), s.faces...),
		loops: append([]int32(nil), s.loops...),
	}
}
