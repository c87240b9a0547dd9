package joint

import "arrisbook/geom"

// partsHeadVJoint are neck and head as made, the neck where it came to rest.
func partsHeadVJoint(p, q Values) ([]Part, string) {
	var m vMade
	if trouble := makeVJoint(p, q, &m); trouble != "" {
		return nil, trouble
	}
	neck, okNeck := m.neck()
	head, okHead := m.head()
	if !okNeck || !okHead {
		return nil, "With these numbers one of the parts is cut away altogether."
	}
	return []Part{{Name: "neck", Pieces: neck}, {Name: "head", Pieces: head}}, ""
}

// neck is the body behind the shoulders and the tongue before them. It is
// shown to one and a half widths behind its shoulder line.
func (m *vMade) neck() ([]geom.Solid, bool) {
	g, t := m.givens, m.tongue
	long := m.numbers.faceLength + g.thickness + g.width
	blank, ok := geom.Box(geom.Vec{X: -1.5*g.width - max(0, m.numbers.backShift), Y: -g.width / 2, Z: -g.thickness}, geom.Vec{X: long, Y: g.width / 2})
	if !ok {
		return nil, false
	}
	body, okBody := blank.Clip(t.shoulder, exact)
	tongue, okTongue := blank.ClipAll([]geom.Plane{t.shoulder.Flip(), t.cheekNear, t.cheekFar}, exact)
	if !okBody || !okTongue {
		return nil, false
	}
	return []geom.Solid{body.Moved(m.seat.Move), tongue.Moved(m.seat.Move)}, true
}

// head is the slab less the V: in two pieces, near and far of the line in
// which the walls meet. It is shown to a width beyond the V, as thick as the
// blank.
func (m *vMade) head() ([]geom.Solid, bool) {
	f, s, g := m.frame, m.socket, m.givens
	apex, ok := geom.Corner(s.wallNear, s.wallFar, f.headFace)
	if !ok {
		return nil, false
	}
	end := geom.Plane{N: f.along, D: max(g.length, geom.Dot(f.along, apex)) + g.width}
	middle, ok := geom.NewPlane(f.across, apex)
	if !ok {
		return nil, false
	}
	slab := []geom.Plane{f.headFace, f.headBack, f.headEnd.Flip(), end, f.nearEdge, f.farEdge}
	var out []geom.Solid
	for _, side := range [2][2]geom.Plane{{middle, s.wallNear.Flip()}, {middle.Flip(), s.wallFar.Flip()}} {
		planes := append(append([]geom.Plane(nil), slab...), side[:]...)
		if piece, ok := geom.FromHalfSpaces(planes, 4*(end.D+g.width+g.thickness), exact); ok {
			out = append(out, piece)
		}
	}
	return out, len(out) > 0
}
