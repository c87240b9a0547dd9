package geom

// cutFaces keeps the faces inside, drops those outside and those that only
// touch the plane, and cuts the others.
func (k *cutter) cutFaces(m masks) {
	n, use, beyond := 0, k.use, m.on|m.outside
	for _, r := range use {
		if r.mask&beyond != 0 {
			if r.mask&m.inside == 0 {
				continue
			}
			var ok bool
			if r.mask, ok = k.cutFace(r, m); !ok {
				continue
			}
		}
		use[n] = r
		n++
	}
	k.use = use[:n]
}

// cutFace cuts one face and hands back its new mask. ok is false where nothing
// of the face is left.
func (k *cutter) cutFace(r faceRef, m masks) (mask uint64, ok bool) {
	f := &k.faces[r.face]
	seen, mask := int8(inside), r.mask
	if mask&m.outside != 0 {
		seen, mask = k.cutLoop(f)
	}
	if seen&outside == 0 {
		// If there was an outside bit, it was another corner's.
		k.touch(k.loops[f.from:f.to])
	}
	return mask, seen&inside != 0 && f.to-f.from >= 3
}

// touch notes the edges of a face inside that lie on the plane: what was
// beyond them is cut away, and they become edges of the cut.
func (k *cutter) touch(loop []int32) {
	a := loop[len(loop)-1]
	for _, b := range loop {
		if k.corners[a].side == on && k.corners[b].side == on {
			k.link(b, a)
		}
		a = b
	}
}

// cutLoop writes what stays of a face's loop behind all the others. It hands
// back the sides that occur and the new mask.
func (k *cutter) cutLoop(f *cutFace) (seen int8, mask uint64) {
	// New corners may move k.corners, but these do not change while cutting.
	loops, corners := k.loops, k.corners
	old := loops[f.from:f.to]
	f.from = int32(len(loops))
	leave, enter := int32(none), int32(none)
	a := old[len(old)-1]
	before := corners[a].side
	seen = before
	for _, b := range old {
		here := corners[b].side
		if here != before {
			seen |= here
			switch {
			case before|here == inside|outside:
				c := k.corner(a, b, here == outside)
				loops = append(loops, c)
				mask |= bit(c)
				if here == inside {
					enter = c
				} else {
					leave = c
				}
			case here == outside:
				leave = a
			case before == outside:
				enter = b
			}
			before = here
		}
		if here != outside {
			loops = append(loops, b)
			mask |= bit(b)
		}
		a = b
	}
	k.loops, f.to = loops, int32(len(loops))
	if leave != none && enter != none {
		k.link(enter, leave)
	}
	return seen, mask
}

// corner is the number of the corner where the edge between two corners is
// cut: one for both faces that share the edge.
func (k *cutter) corner(a, b int32, outward bool) int32 {
	if !outward {
		a, b = b, a
	}
	in, out := &k.corners[a], &k.corners[b]
	// What an earlier cut left in next is no edge of this corner now.
	first := in.next
	if uint32(first) >= uint32(len(k.edges)) || k.edges[first].in != a {
		first = none
	}
	for e := first; e != none; e = k.edges[e].next {
		if k.edges[e].out == b {
			return k.edges[e].corner
		}
	}
	at := crossing(in.at, out.at, in.dist, out.dist)
	n := k.place()
	k.edges = append(k.edges, cutEdge{in: a, out: b, corner: n, next: first})
	k.corners[a].next = int32(len(k.edges) - 1)
	c := &k.corners[n]
	c.at, c.side, c.next = at, on, none
	return n
}

// place finds a place for a new corner.
func (k *cutter) place() int32 {
	if last := len(k.free) - 1; last >= 0 {
		n := k.free[last]
		k.free = k.free[:last]
		return n
	}
	k.corners = append(k.corners, cutCorner{})
	return int32(len(k.corners) - 1)
}
