package geom

// The rim is the outline of a cut. Every face that is cut leaves one edge on
// the plane, from the corner where its own outline leaves the solid to the
// corner where it comes back; the cut's face has the same edge the other way
// round. Linked, these edges are the outline in order, and nothing has to be
// sorted.

// link puts one corner of the rim after another.
func (k *cutter) link(from, to int32) {
	k.corners[from].next = to
	k.first = from
	k.links++
}

// cap closes the cut with a face of its own. A rim without area adds no face.
func (k *cutter) cap(p Plane) {
	from := int32(len(k.loops))
	mask, ok := k.walk()
	if !ok {
		k.loops = k.loops[:from]
		mask = k.walkSorted(p)
	}
	to := int32(len(k.loops))
	if to-from < 3 {
		k.loops = k.loops[:from]
		return
	}
	k.use = append(k.use, faceRef{mask: mask, face: int32(len(k.faces))})
	k.faces = append(k.faces, cutFace{plane: p, from: from, to: to})
}

// walk goes round the rim along its links. ok is false where they do not make
// one ring of all of them: corners that lie on the plane only by tolerance can
// link one corner twice, or leave an end.
func (k *cutter) walk() (mask uint64, ok bool) {
	loops, c := k.loops, k.first
	for n := 1; n <= k.links; n++ {
		loops = append(loops, c)
		mask |= bit(c)
		switch c = k.corners[c].next; c {
		case none:
			return 0, false
		case k.first:
			k.loops = loops
			return mask, n == k.links && n >= 3
		}
	}
	return 0, false
}

// walkSorted takes the corners on the plane in the order of their direction
// from their middle, anticlockwise.
func (k *cutter) walkSorted(p Plane) (mask uint64) {
	from := len(k.loops)
	var mid Vec
	for i := range k.corners {
		if k.corners[i].side == on {
			k.loops = append(k.loops, int32(i))
			mask |= bit(int32(i))
			mid = Along(mid, 1, k.corners[i].at)
		}
	}
	ring := k.loops[from:]
	if len(ring) < 3 {
		return 0
	}
	mid = Along(Vec{}, 1/float64(len(ring)), mid)
	u := Along(k.corners[ring[0]].at, -1, mid)
	v := Cross(p.N, u)
	// Insertion sort, for a rim has a handful of corners. Their distances from
	// the plane are no longer needed and make room for their turns.
	for i, n := range ring {
		r := Along(k.corners[n].at, -1, mid)
		turn := turnOf(Dot(u, r), Dot(v, r))
		k.corners[n].dist = turn
		j := i
		for ; j > 0 && k.corners[ring[j-1]].dist > turn; j-- {
			ring[j] = ring[j-1]
		}
		ring[j] = n
	}
	return mask
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
