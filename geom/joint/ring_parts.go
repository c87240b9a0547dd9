package joint

import (
	"math"
	"strconv"

	"arrisbook/geom"
)

// mostShown is how many sides are made at most: more than any ring has that
// can be built.
const mostShown = 100

// ringParts are the sides of a ring, mitred as submitted, each slid home
// against the planes between it and its neighbours.
func ringParts(v ringNumbers, name string) ([]Part, string) {
	var m ringMade
	if trouble := makeRing(v, &m); trouble != "" {
		return nil, trouble
	}
	if v.sides != math.Trunc(v.sides) || v.sides > mostShown {
		return nil, "A ring has a whole number of sides, and not so many."
	}
	mirrored := m.end
	mirrored.N.Y = -mirrored.N.Y
	size := 4 * (v.length + v.width + v.thickness + m.foot.X)
	planes := []geom.Plane{m.side.outside, m.side.inside, m.bottom, m.top, m.end, mirrored}
	board, ok := geom.FromHalfSpaces(planes, size+geom.Norm(m.foot), exact)
	if !ok {
		return nil, "With these numbers a side is cut away altogether."
	}
	board = board.Moved(m.home)
	parts := make([]Part, 0, int(v.sides))
	for i := 0; i < int(v.sides); i++ {
		turn := geom.Motion{Axis: geom.Vec{Z: 1}, Turn: geom.Angle(2*i) * halfTurn(v.sides)}
		parts = append(parts, Part{Name: name + " " + strconv.Itoa(i+1), Pieces: []geom.Solid{board.Carried(turn)}})
	}
	return parts, ""
}
