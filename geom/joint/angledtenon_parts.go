package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// The frame's heights are not among the givens. The rail is shown two legs
// high, the legs to half a leg above it and a leg below; the tenons run in line
// with the rail, are a third of a leg lower at both edges and reach two thirds
// into the leg.
type heights struct{ top, tenonTop, tenonFoot, railFoot, legTop, legFoot geom.Plane }

func (g seat) heights() heights {
	above := func(z float64) geom.Plane { return geom.Plane{N: g.up, D: z} }
	below := func(z float64) geom.Plane { return geom.Plane{N: r3.Scale(-1, g.up), D: -z} }
	return heights{
		top: above(0), tenonTop: above(-g.leg / 3), legTop: above(g.leg / 2),
		tenonFoot: below(-g.leg * 5 / 3), railFoot: below(-2 * g.leg), legFoot: below(-3 * g.leg),
	}
}

// reach is how much of the leg the tenon fills.
const reach = 2.0 / 3

// partsAngledTenon are the rail, its shoulders sawn by shoulder_bevel, and the
// two legs, pushed against it.
func partsAngledTenon(p, q Values) ([]Part, string) {
	m, trouble := makeRail(p, q)
	if trouble != "" {
		return nil, trouble
	}
	const gone = "With these numbers one of the parts is cut away altogether."
	off, okOff := m.open(m.byBevel)
	legFront, _ := m.faces()
	at, okAt := m.rail.line.Pierce(legFront)
	back, okBack := m.backLeg()
	if !okOff || !okAt || !okBack {
		return nil, gone
	}
	// A shoulder that slants too much or too little touches at one face, so its
	// middle stands off by half of what is open at the other.
	stands := math.Abs(off) / 2
	at = geom.Along(at, stands, m.rail.line.Dir)
	back = geom.Along(back, 2*stands, m.rail.line.Dir)
	front, _ := m.middles()
	slot := m.slot(q["tenon_thickness"])
	rail, okRail := m.railPieces(at, front, back, slot)
	first, okFirst := m.legPieces(front, slot, m.ahead)
	second, okSecond := m.legPieces(back, slot, r3.Scale(-1, m.ahead))
	if !okRail || !okFirst || !okSecond {
		return nil, gone
	}
	return []Part{{Name: "rail", Pieces: rail}, {Name: "front leg", Pieces: first}, {Name: "back leg", Pieces: second}}, ""
}

// slot are the cheeks of the tenons, and of the mortises that are chopped to
// take them; their normals point out of the tenon.
func (m railMade) slot(thickness float64) [2]geom.Plane {
	rest := (m.seat.rail - thickness) / 2
	return [2]geom.Plane{m.rail.outer.Shift(-rest), m.rail.inner.Shift(-rest)}
}

// railPieces are the body between the shoulders and a tenon at either end.
func (m railMade) railPieces(at, front, back geom.Vec, slot [2]geom.Plane) ([]geom.Solid, bool) {
	first, okFirst := m.shoulder(at, m.byBevel)
	second, okSecond := m.shoulder(geom.Along(at, m.length, m.rail.line.Dir), m.byBevel)
	if !okFirst || !okSecond {
		return nil, false
	}
	h := m.heights()
	into := float64((reach - 0.5) * m.leg)
	frontEnd := geom.Plane{N: r3.Scale(-1, m.ahead), D: -geom.Dot(m.ahead, front) + into}
	backEnd := geom.Plane{N: m.ahead, D: geom.Dot(m.ahead, back) + into}
	bound := 4 * (m.length + m.front + m.depth + m.leg)
	var out []geom.Solid
	for _, planes := range [][]geom.Plane{
		{h.top, h.railFoot, m.rail.outer, m.rail.inner, first.Flip(), second},
		{h.tenonTop, h.tenonFoot, slot[0], slot[1], frontEnd, first},
		{h.tenonTop, h.tenonFoot, slot[0], slot[1], backEnd, second.Flip()},
	} {
		piece, ok := geom.FromHalfSpaces(planes, bound, exact)
		if !ok {
			return nil, false
		}
		out = append(out, piece)
	}
	return out, true
}

// legPieces are a leg less its mortise. toward is the way from the leg to the
// rail.
func (m railMade) legPieces(middle geom.Vec, slot [2]geom.Plane, toward geom.Vec) ([]geom.Solid, bool) {
	h := m.heights()
	half := geom.Vec{X: m.leg / 2, Y: m.leg / 2}
	lo, hi := r3.Sub(middle, half), r3.Add(middle, half)
	lo.Z, hi.Z = -h.legFoot.D, h.legTop.D
	whole, ok := geom.Box(lo, hi)
	if !ok {
		return nil, false
	}
	floor := geom.Plane{N: toward, D: geom.Dot(toward, middle) + float64((0.5-reach)*m.leg)}
	return pieces(whole,
		[]geom.Plane{h.tenonTop.Flip()},
		[]geom.Plane{h.tenonFoot.Flip()},
		[]geom.Plane{h.tenonTop, h.tenonFoot, floor},
		[]geom.Plane{h.tenonTop, h.tenonFoot, floor.Flip(), slot[0].Flip()},
		[]geom.Plane{h.tenonTop, h.tenonFoot, floor.Flip(), slot[1].Flip()})
}
