package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// partsDovetail are the two boards. Tails are sawn from the marks on the end
// at bevel_from_end. Where that leaves too much wood they are shown overlapping
// the pins by what would have to go. Both boards are shown to half a width from
// the corner.
func partsDovetail(p, q Values) ([]Part, string) {
	m, trouble := makeDovetail(p, q)
	if trouble != "" {
		return nil, trouble
	}
	tails, trouble := m.tailBoardPieces()
	if trouble != "" {
		return nil, trouble
	}
	pins, ok := m.pinBoardPieces()
	if !ok {
		return nil, "On this blank the pins are cut away altogether."
	}
	return []Part{{Name: "tail board", Pieces: tails}, {Name: "pin board", Pieces: pins}}, ""
}

// tailBoardPieces are the body behind the baseline and one piece a tail.
func (m *dovetailMade) tailBoardPieces() ([]geom.Solid, string) {
	const gone = "With these numbers one of the tails is cut away altogether."
	shown := m.width/2 + m.pinBoard
	whole, ok := geom.Box(geom.Vec{X: m.baseline.D - shown, Z: -m.tailBoard}, geom.Vec{X: m.tips.D, Y: m.width})
	if !ok {
		return nil, gone
	}
	cuts := [][]geom.Plane{{m.baseline}}
	before := m.nearEdge.Foot(geom.Vec{})
	for k := range m.tails {
		start := m.startMark(k)
		ends, count := m.endMarks(k, start)
		end := ends[count-1]
		near, okNear := side(start, m.bevelled(1))
		far, okFar := side(end, m.bevelled(-1))
		if !okNear || !okFar {
			return nil, gone
		}
		if geom.Dot(m.across, r3.Sub(start, before)) <= 0 || m.farEdge.Dist(end) >= 0 {
			return nil, "With these numbers two tails run into each other, or one over the edge."
		}
		before = end
		cuts = append(cuts, []geom.Plane{m.baseline.Flip(), near, far.Flip()})
	}
	out, ok := pieces(whole, cuts...)
	if !ok {
		return nil, gone
	}
	return out, ""
}

// bevelled is the way the bevel runs from a mark on the end toward the
// baseline.
func (m *dovetailMade) bevelled(turn float64) geom.Vec {
	sin, cos := m.numbers.bevel.SinCos()
	return geom.Vec{X: -sin, Y: turn * cos}
}

// pinBoardPieces are the body above the tail board, the lap where there is
// one, and one piece a pin.
func (m *dovetailMade) pinBoardPieces() ([]geom.Solid, bool) {
	shown := m.width/2 + m.tailBoard
	whole, ok := geom.Box(geom.Vec{Z: -m.tailBoard}, geom.Vec{X: m.pinBoard, Y: m.width, Z: shown})
	if !ok {
		return nil, false
	}
	cuts := [][]geom.Plane{{m.face.Flip()}}
	if m.lapped {
		cuts = append(cuts, []geom.Plane{m.face, m.floor.Flip()})
	}
	last := m.nearEdge
	for k := range m.tails {
		near, okNear := side(m.row.start(k), m.near())
		far, okFar := side(m.row.end(k), m.far())
		if !okNear || !okFar {
			return nil, false
		}
		cuts = append(cuts, []geom.Plane{m.face, m.floor, last, near.Flip()})
		last = far
	}
	cuts = append(cuts, []geom.Plane{m.face, m.floor, last})
	return pieces(whole, cuts...)
}
