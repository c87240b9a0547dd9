package joint

// angledTenon is the side rail of a tapered seat frame. Its legs stand square
// to the front; the rail's centre line runs from the middle of the front leg to
// the middle of the back leg, and its two shoulders are parallel to the front.
//
// Frame: the tops are z = 0, x = 0 is the outside of the front, +x leads to the
// back, y = 0 is the middle of the seat and +y leads to this rail. The rail's
// outer face is its reference face.
//
// The rail as made runs at the submitted splay_angle, in which its mortises are
// chopped. Its shoulders slant by shoulder_bevel, or by shoulder_shift: whoever
// saws follows one of them, so shoulder_gap is the larger of what the two leave
// open at one face of the rail, measured along the rail, when the other face
// touches the leg. length_error is how much longer the rail is from shoulder
// to shoulder than it should be, width_error how much wider the back of the
// seat comes out with two such rails. The fit word is taken from shoulder_gap
// and length_error, by the limits of a gap: with legs that stand where they
// should, a rail that is too short stands off by that much. A seat that comes
// out wider opens nothing, so width_error does not count.
var angledTenon = &Family{
	ID:      "angled-tenon",
	Title:   "Angled tenons of a tapered seat frame",
	Summary: "A side rail runs slanting from leg to leg, between legs that stand square to the front.",
	Parameters: []Parameter{
		{ID: "front_width", Name: "Front width", Symbol: "F", Unit: MM, Min: 20, Max: 3000,
			Means: "The width of the frame at the front, outside the legs."},
		{ID: "back_width", Name: "Back width", Symbol: "B", Unit: MM, Min: 20, Max: 3000,
			Means: "The width of the frame at the back, outside the legs."},
		{ID: "depth", Name: "Depth", Symbol: "D", Unit: MM, Min: 20, Max: 3000,
			Means: "The depth of the frame from front to back, outside the legs."},
		{ID: "leg", Name: "Leg", Symbol: "l", Unit: MM, Min: 5, Max: 300, Measured: true,
			Means: "The thickness of the square legs."},
		{ID: "rail_thickness", Name: "Rail thickness", Symbol: "T", Unit: MM, Min: 2, Max: 200, Measured: true,
			Means: "The thickness of the side rail, from its outer to its inner face."},
	},
	Quantities: []Quantity{
		{ID: "splay_angle", Name: "Splay angle", Symbol: "φ", Unit: Deg,
			Means: "How far the side rail leans in from front to back.",
			From:  "Between the rail and a line square to the front, seen from above."},
		{ID: "shoulder_bevel", Name: "Shoulder bevel", Symbol: "β", Unit: Deg,
			Means: "The bevel's setting for the shoulder lines on the rail's top and bottom.",
			From:  "Between a shoulder line and the rail's long edge, on its top."},
		{ID: "shoulder_length", Name: "Shoulder length", Symbol: "s", Unit: MM,
			Means: "The length of the rail without its tenons.",
			From:  "From shoulder to shoulder, along the rail's centre line."},
		{ID: "shoulder_shift", Name: "Shoulder shift", Symbol: "k", Unit: MM,
			Means: "How far a shoulder line lies along the rail from its partner on the other face.",
			From:  "From the outer face's shoulder line to the inner face's, along the rail."},
		{ID: "tenon_thickness", Name: "Tenon thickness", Symbol: "t", Unit: MM,
			Means: "A third of the rail.",
			From:  "From cheek to cheek, square to the rail's faces."},
	},
	Consequences: []Consequence{
		{ID: "shoulder_gap", Name: "shoulder gap", Unit: MM, Gap: true,
			Means: "How far a shoulder stands off its leg at one face of the rail when it touches at the other, along the rail."},
		{ID: "length_error", Name: "length error", Unit: MM, Gap: true,
			Means: "How much too long the rail is from shoulder to shoulder; negative where it is too short."},
		{ID: "width_error", Name: "width error at the back", Unit: MM,
			Means: "How much too wide the back of the seat comes out with two such rails; negative where it is too narrow."},
	},
	House: Values{
		"front_width": 460, "back_width": 360, "depth": 400, "leg": 40, "rail_thickness": 24,
	},
	layout: layoutAngledTenon,
	fit:    fitAngledTenon,
	parts:  partsAngledTenon,
	places: placesAngledTenon,
}
