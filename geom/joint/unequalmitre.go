package joint

// unequalMitre is a corner of two boards of different width. Both are cut to
// one line, from the inner corner to the outer corner, and the wider board
// takes the larger share of the corner.
//
// Frame: the boards lie flat, faces up at z = 0. The origin is the inner
// corner. Board a's inner edge, its reference edge, runs along +x with its wood
// on the -y side; board b's inner edge leaves the origin at the corner angle,
// anticlockwise, with its wood on the left. What lies between the two inner
// edges is the inside of the frame.
var unequalMitre = &Family{
	ID:      "unequal-mitre",
	Title:   "Mitre of two widths",
	Summary: "Two boards of different width meet on one mitre line, from the inner corner to the outer corner.",
	Parameters: []Parameter{
		{ID: "width_a", Name: "Width of a", Symbol: "A", Unit: MM, Min: 1, Max: 500, Measured: true,
			Means: "Board a's width, square from its inner edge."},
		{ID: "width_b", Name: "Width of b", Symbol: "B", Unit: MM, Min: 1, Max: 500, Measured: true,
			Means: "Board b's width, square from its inner edge."},
		{ID: "corner_angle", Name: "Corner angle", Symbol: "γ", Unit: Deg, Min: 10, Max: 170,
			Means: "The angle between the two inner edges, on the inside."},
	},
	Quantities: []Quantity{
		{ID: "mitre_a", Name: "Mitre of a", Symbol: "α", Unit: Deg,
			Means: "Board a's share of the corner, and the bevel's setting for its cut.",
			From:  "Between the mitre line and board a's inner edge, on the face."},
		{ID: "mitre_b", Name: "Mitre of b", Symbol: "β", Unit: Deg,
			Means: "Board b's share of the corner, and the bevel's setting for its cut.",
			From:  "Between the mitre line and board b's inner edge, on the face."},
		{ID: "mitre_length", Name: "Mitre length", Symbol: "m", Unit: MM,
			Means: "The length of the cut, the same on both boards: a check on both.",
			From:  "From the inner corner to the outer corner, on the face."},
	},
	Consequences: []Consequence{
		{ID: "corner_made", Name: "corner made", Unit: Deg,
			Means: "The corner that the two cuts make when they are held face to face."},
		{ID: "length_step", Name: "outer corner", Unit: MM, Gap: true,
			Means: "How much longer board a's cut is than board b's, which leaves a step; negative where it is shorter."},
		{ID: "gap", Name: "mitre", Unit: MM, Gap: true,
			Means: "How far the two cuts stand apart where they do not touch, the boards held at the wanted corner, square to the mitre line."},
		{ID: "gap_side", Name: "side that stands off", Unit: One,
			Means: "1 where the cuts stand off at the outer corner, -1 at the inner corner, 0 where they touch all over."},
	},
	House:  Values{"width_a": 70, "width_b": 45, "corner_angle": 98},
	layout: layoutUnequalMitre,
	fit:    fitUnequalMitre,
	parts:  partsUnequalMitre,
	places: placesUnequalMitre,
}
