package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// mitreMade is the corner with both boards cut as submitted and held at the
// wanted corner, inner corner to inner corner.
type mitreMade struct {
	frame      mitreFrame
	cutA, cutB geom.Plane // normals point out of each board's own wood
	// lengthA and lengthB are the lengths of the two cuts.
	lengthA, lengthB float64
	// apart points from board b to board a, square to the mitre line, and
	// outerApart is how far the cuts lie apart along it at the outer end of
	// what they share; negative where they would go through one another there.
	apart      geom.Vec
	outerApart float64
}

// makeMitre cuts both boards at their own mitres from the inner corner.
func makeMitre(p, q Values, m *mitreMade) (trouble string) {
	g := mitreGivensOf(p)
	var ok bool
	if m.frame, ok = g.frame(); !ok {
		return "On these boards there is no corner to close."
	}
	a, b := geom.Deg(q["mitre_a"]), geom.Deg(q["mitre_b"])
	if a <= 0 || b <= 0 || a >= 2*geom.Right || b >= 2*geom.Right {
		return "With this mitre a board is not cut across at all."
	}
	sinA, cosA := a.SinCos()
	sinB, cosB := (g.corner - b).SinCos()
	m.cutA = geom.Plane{N: geom.Vec{X: -sinA, Y: cosA}}
	m.cutB = geom.Plane{N: geom.Vec{X: sinB, Y: -cosB}}
	toeA, okA := geom.Corner(m.cutA, m.frame.outerA, m.frame.face)
	toeB, okB := geom.Corner(m.cutB, m.frame.outerB, m.frame.face)
	if !okA || !okB {
		return "With this mitre a board is not cut across at all."
	}
	m.lengthA, m.lengthB = geom.Distance(m.frame.inner, toeA), geom.Distance(m.frame.inner, toeB)
	return m.hold(toeA, toeB)
}

// hold measures how far the cuts lie apart. Both begin at the inner corner; as
// both are straight they lie farthest apart at the other end of what they
// share, where the shorter one ends.
func (m *mitreMade) hold(toeA, toeB geom.Vec) (trouble string) {
	outward, ok := geom.Unit(r3.Scale(-1, m.frame.inward()))
	if !ok {
		return "On these boards there is no corner to close."
	}
	shared := min(geom.Dot(outward, toeA), geom.Dot(outward, toeB))
	if shared <= 0 {
		return "With these mitres the two cuts do not lie along one another."
	}
	end := geom.Plane{N: outward, D: shared}
	endA, okA := geom.Corner(m.cutA, end, m.frame.face)
	endB, okB := geom.Corner(m.cutB, end, m.frame.face)
	if !okA || !okB {
		return "With these mitres the two cuts do not lie along one another."
	}
	m.apart = geom.Cross(m.frame.face.N, outward)
	m.outerApart = geom.Dot(m.apart, r3.Sub(endA, endB))
	return ""
}

// fitUnequalMitre sets the corner as made, the step, and the gap of the boards
// held at the wanted corner and pushed together square to the mitre line: they
// touch at one end and stand off at the other.
func fitUnequalMitre(p, q Values, out []Made) string {
	var m mitreMade
	if trouble := makeMitre(p, q, &m); trouble != "" {
		return trouble
	}
	out[0] = number(q["mitre_a"] + q["mitre_b"])
	out[1] = number(m.lengthA - m.lengthB)
	out[2] = number(math.Abs(m.outerApart))
	out[3] = number(sideOf(m.outerApart))
	return ""
}

// placesUnequalMitre says at which corner the two cuts stand off.
func placesUnequalMitre(p, q Values) map[string]Place {
	var m mitreMade
	if makeMitre(p, q, &m) != "" {
		return map[string]Place{}
	}
	switch {
	case m.outerApart > sameGap:
		return map[string]Place{"gap": {Least: "inner", Most: "outer"}}
	case m.outerApart < -sameGap:
		return map[string]Place{"gap": {Least: "outer", Most: "inner"}}
	}
	return map[string]Place{"gap": {}}
}

// sideOf tells by sign which side of a joint stands off: 1 where what opens on
// the outer side is positive, -1 where it is negative and the inner side
// opens, 0 where it is nothing but rounding.
func sideOf(opening float64) float64 {
	switch {
	case opening > gapNoise:
		return 1
	case opening < -gapNoise:
		return -1
	}
	return 0
}

// mitreThick is how thick the boards are shown: no number depends on it.
const mitreThick = 20

// partsUnequalMitre are the two boards as cut, held at the wanted corner and
// pushed together until they touch, each half of the way.
func partsUnequalMitre(p, q Values) ([]Part, string) {
	var m mitreMade
	if trouble := makeMitre(p, q, &m); trouble != "" {
		return nil, trouble
	}
	f, g := m.frame, mitreGivensOf(p)
	long := 2*(g.a+g.b) + geom.Distance(f.inner, f.outer) + max(m.lengthA, m.lengthB)
	back := r3.Scale(max(0, -m.outerApart)/2, m.apart)
	var parts []Part
	for _, b := range [2]struct {
		name              string
		along             geom.Vec
		inner, outer, cut geom.Plane
		move              geom.Vec
	}{
		{"board a", f.alongA, f.innerA, f.outerA, m.cutA, back},
		{"board b", f.alongB, f.innerB, f.outerB, m.cutB, r3.Scale(-1, back)},
	} {
		bottom := geom.Plane{N: geom.Vec{Z: -1}, D: mitreThick}
		end := geom.Plane{N: b.along, D: long}
		piece, ok := geom.FromHalfSpaces([]geom.Plane{f.face, bottom, b.inner, b.outer, b.cut, end}, 4*long+mitreThick, exact)
		if !ok {
			return nil, "With these numbers one of the boards is cut away altogether."
		}
		parts = append(parts, Part{Name: b.name, Pieces: []geom.Solid{piece.Moved(b.move)}})
	}
	return parts, ""
}
