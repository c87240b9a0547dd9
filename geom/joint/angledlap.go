package joint

// angledLap is the cross lap of two pieces of equal thickness at an angle.
// Piece A is notched from its face, piece B from its back.
//
// Frame: piece A's face is z = 0, its reference edge is y = 0, it runs along
// +x, and the origin is where the first shoulder line meets the reference edge.
// Piece B crosses along (cos γ, sin γ, 0), its first edge on that line.
//
// Piece A is made from the submitted bevel, spacing and depth; piece B is as
// designed and notched for the angle that comes out. Skew and shoulder line
// are checks that no saw follows: no consequence depends on them. side_gap is
// how much wider the notch is than piece B, square to the shoulders: all of it
// on one side when B lies against the other. flush_error is how far B's face
// stands above A's, negative where it lies below. angle_made is the angle at
// which the shoulders hold B. The fit word is taken from side_gap and
// flush_error.
var angledLap = &Family{
	ID:      "angled-lap",
	Title:   "Cross lap at an angle",
	Summary: "Two pieces cross at an angle, each notched to half its thickness, so that their faces come flush.",
	Parameters: []Parameter{
		{ID: "width_a", Name: "Width of piece A", Symbol: "a", Unit: MM, Min: 1, Max: 1000, Measured: true,
			Means: "The width of the piece that is notched from its face."},
		{ID: "width_b", Name: "Width of piece B", Symbol: "b", Unit: MM, Min: 1, Max: 1000, Measured: true,
			Means: "The width of the piece that lies in the notch."},
		{ID: "thickness", Name: "Thickness", Symbol: "T", Unit: MM, Min: 1, Max: 300, Measured: true,
			Means: "The thickness of both pieces."},
		{ID: "crossing_angle", Name: "Crossing angle", Symbol: "γ", Unit: Deg, Min: 5, Max: 175,
			Means: "The smaller angle between the edges of the two pieces, or 90°."},
	},
	Quantities: []Quantity{
		{ID: "depth", Name: "Depth of the notch", Symbol: "d", Unit: MM,
			Means: "The gauge's setting for both notches.",
			From:  "From the reference face down to the cheek."},
		{ID: "shoulder_bevel", Name: "Shoulder bevel", Symbol: "β", Unit: Deg,
			Means: "The bevel's setting for both shoulder lines.",
			From:  "Between a shoulder line and piece A's edge, on the face."},
		{ID: "shoulder_spacing", Name: "Shoulder spacing", Symbol: "s", Unit: MM,
			Means: "The distance of the two shoulder lines on the edge.",
			From:  "From the first shoulder line to the second, along piece A's reference edge."},
		{ID: "shoulder_skew", Name: "Shoulder skew", Symbol: "k", Unit: MM,
			Means: "How far a shoulder line travels along piece A while it crosses.",
			From:  "From where it leaves the reference edge to where it meets the far edge, along the piece."},
		{ID: "shoulder_line", Name: "Shoulder line", Symbol: "l", Unit: MM,
			Means: "The length of a shoulder line, a check on the bevel.",
			From:  "From the reference edge to the far edge, along the line."},
	},
	Consequences: []Consequence{
		{ID: "side_gap", Name: "side gap", Unit: MM, Gap: true,
			Means: "How much wider piece A's notch is than piece B, square to the shoulders; negative where piece B will not enter."},
		{ID: "flush_error", Name: "flush error", Unit: MM, Gap: true,
			Means: "How far piece B's face stands above piece A's; negative where it lies below."},
		{ID: "angle_made", Name: "crossing angle made", Unit: Deg,
			Means: "The angle at which the shoulders hold piece B across piece A."},
	},
	House: Values{
		"width_a": 62, "width_b": 48, "thickness": 26, "crossing_angle": 60,
	},
	layout: layoutAngledLap,
	fit:    fitAngledLap,
	parts:  partsAngledLap,
}
