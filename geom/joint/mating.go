package joint

import "arrisbook/geom"

// exact is the distance below which a corner counts as lying on a plane: some
// hundred times the rounding at workshop sizes.
const exact = 1e-11

// mating is a face of the part that moves and the face of the fixed part that
// it should come to lie on. The wall's normal points into the fixed part.
type mating struct {
	face geom.Polygon
	wall geom.Plane
}

// contact is what keeps the face from going through a wall, its own or another
// one: the farthest corner may move as far as there is room.
func (m mating) contact(wall geom.Plane) (geom.Contact, bool) {
	_, farthest, ok := m.face.Reach(wall)
	return geom.Contact{N: wall.N, Room: -farthest}, ok
}

// gap is the smallest and the largest distance from the face, moved, to its
// wall, square to the wall; negative where they interfere.
func (m mating) gap(move geom.Vec) Made {
	nearest, farthest, ok := m.face.Reach(m.wall)
	if !ok {
		return Made{}
	}
	slid := geom.Dot(m.wall.N, move)
	return Made{Value: Spread{Min: -(farthest + slid), Max: -(nearest + slid)}, Has: true}
}

// number is a consequence that has one value.
func number(x float64) Made { return Made{Value: Spread{Min: x, Max: x}, Has: true} }

// facet is what of a plane lies in all the half-spaces, found within half of
// the centre. The two buffers are used in turn; the result is in one of them.
func facet(p geom.Plane, centre geom.Vec, half float64, in []geom.Plane, buffer *[2]geom.Polygon) geom.Polygon {
	g := p.Patch(buffer[0][:0], centre, half)
	for i, h := range in {
		next := 1 - i&1
		buffer[next] = g.Clip(buffer[next][:0], h, exact)
		g = buffer[next]
	}
	return g
}
