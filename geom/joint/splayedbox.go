package joint

import "arrisbook/geom"

// splayedBox is a box or ring whose equal sides lean outward, mitred at the
// corners or, where it has four, butted. Its frame is the ring's.
var splayedBox = &Family{
	ID:      "splayed-box",
	Title:   "Splayed box",
	Summary: "The sides of a box lean outward; their ends slant on the face and bevel across the edge.",
	Parameters: []Parameter{
		{ID: "sides", Name: "Number of sides", Symbol: "n", Unit: One, Min: 3, Max: 24, Whole: true,
			Means: "How many equal sides the box has."},
		{ID: "tilt", Name: "Tilt", Symbol: "t", Unit: Deg, Min: 0, Max: 85,
			Means: "How far each side leans outward from vertical."},
		{ID: "thickness", Name: "Thickness", Symbol: "T", Unit: MM, Min: 1, Max: 100, Measured: true,
			Means: "The sides' thickness, square to the face."},
		{ID: "height", Name: "Height", Symbol: "H", Unit: MM, Min: 5, Max: 1000,
			Means: "The box's height, plumb."},
	},
	Quantities: []Quantity{
		{ID: "slant_height", Name: "Slant height", Symbol: "h", Unit: MM,
			Means: "The width the boards are ripped to.",
			From:  "From the bottom edge to the top edge, square to them, on the face."},
		{ID: "face_angle", Name: "Face angle", Symbol: "φ", Unit: Deg,
			Means: "How far an end slants on the face of a side.",
			From:  "From square to the bottom edge, on the face."},
		{ID: "mitre_bevel", Name: "Mitre bevel", Symbol: "μ", Unit: Deg,
			Means: "How far an end's edge leans, so that two of them meet in a mitre.",
			From:  "From square to the face, held square to the slanting end line."},
		{ID: "corner_angle", Name: "Corner angle", Symbol: "γ", Unit: Deg,
			Means: "The angle between two sides.",
			From:  "Between the two inside faces, held square to the line where they meet."},
		{ID: "butt_bevel", Name: "Butt bevel", Symbol: "ν", Unit: Deg,
			Means: "How far an end's edge leans, so that it meets the inside face of the next side; four sides only.",
			From:  "From square to the face, held square to the slanting end line; the inside is the longer one."},
	},
	Consequences: ringConsequences("The tilt at which sides with this face angle close to a ring."),
	House:        Values{"sides": 4, "tilt": 26, "thickness": 12, "height": 110},
	layout:       layoutSplayedBox,
	fit:          func(p, q Values, out []Made) string { return fitRing(boxNumbers(p, q), out) },
	parts:        func(p, q Values) ([]Part, string) { return ringParts(boxNumbers(p, q), "side") },
	places:       func(p, q Values) map[string]Place { return ringPlaces(boxNumbers(p, q)) },
}

// ringConsequences are what a ring's numbers make.
func ringConsequences(tilt string) []Consequence {
	return []Consequence{
		{ID: "tilt_made", Name: "tilt made", Unit: Deg, Means: tilt},
		{ID: "gap", Name: "corner", Unit: MM, Gap: true,
			Means: "How far each corner stands apart at the face where it does not touch, all corners alike."},
		{ID: "gap_side", Name: "side that stands off", Unit: One,
			Means: "1 where the corners stand off on the outside, -1 on the inside, 0 where they touch all through."},
		{ID: "closing_gap", Name: "last joint", Unit: MM, Gap: true,
			Means: "How far the last joint stands apart across its thickness if all the others are pulled tight: the errors of all ends add up in it."},
	}
}

// layoutSplayedBox measures one side, its corner, and the side's edges.
func layoutSplayedBox(p Values, set func(string, float64)) []string {
	sides, height := p["sides"], p["height"]
	s, ok := sideOfRing(sides, geom.Deg(p["tilt"]), p["thickness"], height)
	if !ok {
		return nil // a size is out of range, and that is said already
	}
	s.measureEnds(sides, set, "face_angle", "mitre_bevel")
	next := geom.Motion{Axis: geom.Vec{Z: 1}, Turn: 2 * halfTurn(sides)}
	// What the inside faces bound is the hollow of the box: its normals are
	// theirs the other way round.
	if a, ok := geom.Dihedral(s.inside.Flip(), next.Plane(s.inside.Flip())); ok {
		set("corner_angle", a.Degrees())
	}
	if sides == 4 {
		if a, ok := geom.FromSquare(s.inside, next.Plane(s.inside).Flip()); ok {
			set("butt_bevel", a.Degrees())
		}
	}
	bottom, top := geom.Plane{N: geom.Vec{Z: 1}}, geom.Plane{N: geom.Vec{Z: 1}, D: height}
	low, okLow := s.outside.Meet(bottom)
	high, okHigh := s.outside.Meet(top)
	if okLow && okHigh && height > 0 {
		set("slant_height", low.Dist(high.At))
	}
	return nil
}

// measureEnds sets the slant and the bevel of a side's ends.
func (s ringSide) measureEnds(sides float64, set func(string, float64), slant, bevel string) {
	if a, ok := s.endSlant(s.between); ok {
		set(slant, a.Degrees())
	}
	if a, ok := geom.FromSquare(s.outside, s.between); ok {
		set(bevel, a.Degrees())
	}
}

// boxNumbers are the numbers of a box's ring. How long its sides are is nobody's
// given: no gap depends on it, and they are shown twice as long as wide.
func boxNumbers(p, q Values) ringNumbers {
	butt, has := q["butt_bevel"]
	tilt := geom.Deg(p["tilt"])
	return ringNumbers{
		sides: p["sides"], thickness: p["thickness"],
		slant: geom.Deg(q["face_angle"]), bevel: geom.Deg(q["mitre_bevel"]),
		butt: geom.Deg(butt), butted: has && p["sides"] == 4,
		width: 2 * q["slant_height"], length: q["slant_height"], level: tilt,
	}
}
