package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// lap are the givens of a cross lap and piece A's planes; their normals point
// out of the wood.
type lap struct {
	widthA, widthB, thickness     float64
	crossing                      geom.Angle
	face, back, nearEdge, farEdge geom.Plane
	ahead                         geom.Vec
}

func lapOf(p Values) lap {
	g := lap{
		widthA: p["width_a"], widthB: p["width_b"], thickness: p["thickness"],
		crossing: geom.Deg(p["crossing_angle"]),
	}
	g.ahead = geom.Vec{X: 1}
	g.face = geom.Plane{N: geom.Vec{Z: 1}}
	g.back = geom.Plane{N: geom.Vec{Z: -1}, D: g.thickness}
	g.nearEdge = geom.Plane{N: geom.Vec{Y: -1}}
	g.farEdge = geom.Plane{N: geom.Vec{Y: 1}, D: g.widthA}
	return g
}

// sound says that there are two pieces and that they cross.
func (g lap) sound() bool {
	return g.widthA > 0 && g.widthB > 0 && g.thickness > 0 && g.crossing.Sin() > geom.Parallel && g.crossing > 0
}

// direction is where a line runs that leaves piece A's edge at an angle.
func direction(a geom.Angle) geom.Vec {
	sin, cos := a.SinCos()
	return geom.Vec{X: cos, Y: sin}
}

// upright is the plane that stands square on the face along a line from a
// point; its normal points toward +x for a line that crosses the piece.
func upright(from, along geom.Vec) (geom.Plane, bool) {
	return geom.NewPlane(geom.Cross(along, geom.Vec{Z: 1}), from)
}

// layoutAngledLap measures every quantity where piece B's edges cross piece A.
func layoutAngledLap(p Values, set func(string, float64)) []string {
	g := lapOf(p)
	if !g.sound() {
		return nil // what is implausible has been said
	}
	cheek := r3.Scale(0.5, r3.Add(g.face.Foot(geom.Vec{}), g.back.Foot(geom.Vec{})))
	set("depth", -g.face.Dist(cheek))
	first, okFirst := upright(geom.Vec{}, direction(g.crossing))
	second := first.Shift(g.widthB) // B's other edge
	a, okA := geom.Corner(first, g.face, g.nearEdge)
	b, okB := geom.Corner(second, g.face, g.nearEdge)
	across, okAcross := geom.Corner(first, g.face, g.farEdge)
	if !okFirst || !okA || !okB || !okAcross {
		return nil
	}
	line := r3.Sub(across, a)
	if bevel, ok := geom.AngleBetween(line, g.ahead); ok {
		set("shoulder_bevel", bevel.Degrees())
	}
	set("shoulder_spacing", geom.Dot(g.ahead, r3.Sub(b, a)))
	set("shoulder_skew", geom.Dot(g.ahead, line))
	set("shoulder_line", geom.Norm(line))
	if g.crossing > geom.Right {
		return []string{"The crossing angle is the smaller one of the two: it must be 90° or less."}
	}
	return nil
}

// lapMade is piece A's notch as made, and piece B lying in it.
type lapMade struct {
	lap
	depth         float64
	along         geom.Vec   // where the shoulders, and piece B, run
	first, second geom.Plane // the shoulders; their normals point toward +x
	// besideB is piece B's other edge when its first edge lies against the
	// first shoulder.
	besideB geom.Plane
	// rise is how far B's face comes to stand above A's.
	rise float64
}

// makeAngledLap marks piece A's notch with the submitted numbers.
func makeAngledLap(p, q Values) (m lapMade, trouble string) {
	m.lap = lapOf(p)
	bevel, okBevel := q["shoulder_bevel"]
	spacing, okSpacing := q["shoulder_spacing"]
	depth, okDepth := q["depth"]
	switch {
	case !m.sound() || !okBevel || !okSpacing || !okDepth:
		return m, "On this blank there is no notch to cut."
	case bevel <= 0 || bevel >= 180:
		return m, "With this bevel no shoulder line crosses the piece."
	case spacing <= 0:
		return m, "With this spacing there is no notch."
	case depth <= 0:
		return m, "With this depth there is no notch."
	case depth >= m.thickness:
		return m, "With this depth the piece is cut through."
	}
	m.depth, m.along = depth, direction(geom.Deg(bevel))
	var okFirst, okSecond bool
	m.first, okFirst = upright(geom.Vec{}, m.along)
	m.second, okSecond = upright(geom.Along(geom.Vec{}, spacing, m.ahead), m.along)
	if !okFirst || !okSecond {
		return m, "With this bevel no shoulder line crosses the piece."
	}
	m.besideB = m.first.Shift(m.widthB)
	// B keeps half its thickness above its cheek, which lies on A's.
	cheek := geom.Vec{Z: -depth}
	faceB := geom.Along(cheek, m.thickness/2, m.face.N)
	m.rise = m.face.Dist(faceB)
	return m, ""
}

// side is how much wider the notch is than piece B.
func (m lapMade) side() float64 {
	edge := m.besideB.Foot(geom.Vec{})
	return -m.second.Dist(edge)
}

// fitAngledLap sets side_gap, flush_error and angle_made.
func fitAngledLap(p, q Values, out []Made) string {
	m, trouble := makeAngledLap(p, q)
	if trouble != "" {
		return trouble
	}
	out[0] = number(m.side())
	out[1] = number(m.rise)
	if a, ok := geom.AngleBetween(m.along, m.ahead); ok {
		out[2] = number(a.Degrees())
	}
	return ""
}

// partsAngledLap are the two pieces, B in the middle of its play. Where the
// notch is too narrow they are shown overlapping by what is missing.
func partsAngledLap(p, q Values) ([]Part, string) {
	m, trouble := makeAngledLap(p, q)
	if trouble != "" {
		return nil, trouble
	}
	a, okA := m.pieceA(q["shoulder_spacing"])
	b, okB := m.pieceB()
	if !okA || !okB {
		return nil, "With these numbers one of the parts is cut away altogether."
	}
	return []Part{{Name: "piece A", Pieces: a}, {Name: "piece B", Pieces: b}}, ""
}

// pieceA is shown to both widths beyond its notch at both ends.
func (m lapMade) pieceA(spacing float64) ([]geom.Solid, bool) {
	across, ok := geom.Corner(m.first, m.face, m.farEdge)
	if !ok {
		return nil, false
	}
	more := m.widthA + m.widthB
	whole, ok := geom.Box(geom.Vec{X: min(0, across.X) - more, Z: -m.thickness},
		geom.Vec{X: max(0, across.X) + spacing + more, Y: m.widthA})
	if !ok {
		return nil, false
	}
	cheek := m.face.Shift(-m.depth)
	return pieces(whole,
		[]geom.Plane{m.first},
		[]geom.Plane{m.first.Flip(), m.second, cheek},
		[]geom.Plane{m.second.Flip()})
}

// pieceB is shown as far beyond its notch as piece A.
func (m lapMade) pieceB() ([]geom.Solid, bool) {
	play := m.side() / 2
	sin := m.along.Y
	reach := 2*(m.widthA+m.widthB)/sin + m.widthA/sin
	end := geom.Plane{N: m.along, D: reach}
	start := geom.Plane{N: r3.Scale(-1, m.along), D: reach}
	top, under := m.face.Shift(m.rise), m.back.Shift(-m.rise)
	planes := []geom.Plane{top, under, m.first.Shift(play).Flip(), m.besideB.Shift(play), start, end}
	whole, ok := geom.FromHalfSpaces(planes, 4*(reach+m.widthB+m.thickness+m.rise), exact)
	if !ok {
		return nil, false
	}
	cheek := geom.Plane{N: m.face.N, D: m.rise - m.thickness/2}
	return pieces(whole,
		[]geom.Plane{m.nearEdge.Flip()},
		[]geom.Plane{m.nearEdge, m.farEdge, cheek.Flip()},
		[]geom.Plane{m.farEdge.Flip()})
}

// pieces cuts convex pieces out of one solid. ok is false where one of them is
// nothing.
func pieces(whole geom.Solid, cuts ...[]geom.Plane) (out []geom.Solid, ok bool) {
	for _, planes := range cuts {
		piece, ok := whole.ClipAll(planes, exact)
		if !ok {
			return nil, false
		}
		out = append(out, piece)
	}
	return out, true
}
