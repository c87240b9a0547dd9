package joint

// hipRafter is the common and the hip rafter of a roof of one pitch over a
// square corner, as theory lengths.
//
// Frame: the origin is the corner of the plates, z up; one plate runs along
// +x, the other along +y, and the building lies between them. Each plate's
// roof plane rises from it toward the other plate's side; the hip is the line
// in which they meet.
var hipRafter = &Family{
	ID:      "hip-rafter",
	Title:   "Hip rafter",
	Summary: "Two roof planes of one pitch meet over a square corner in a hip: its length, its plumb cut and its backing.",
	Parameters: []Parameter{
		{ID: "rise", Name: "Rise", Symbol: "r", Unit: One, Min: 0.01, Max: 1000,
			Means: "How far the roof rises in the run, in the same unit."},
		{ID: "run", Name: "Run", Symbol: "u", Unit: One, Min: 0.01, Max: 1000,
			Means: "The level way that the rise is counted on, usually 12."},
		{ID: "span", Name: "Span", Symbol: "S", Unit: MM, Min: 100, Max: 50000,
			Means: "The width of the whole building, from plate to plate; one rafter goes over half of it."},
	},
	Quantities: []Quantity{
		{ID: "pitch_angle", Name: "Pitch angle", Symbol: "φ", Unit: Deg,
			Means: "The roof's slope.",
			From:  "Between the roof plane and level."},
		{ID: "common_length", Name: "Common length", Symbol: "c", Unit: MM,
			Means: "The theory length of the common rafter.",
			From:  "From the plate to the middle of the ridge, along the slope."},
		{ID: "hip_length", Name: "Hip length", Symbol: "h", Unit: MM,
			Means: "The theory length of the hip rafter.",
			From:  "From the plates' corner to the middle of the ridge, along the hip."},
		{ID: "hip_plumb", Name: "Plumb cut of the hip", Symbol: "κ", Unit: Deg,
			Means: "The bevel's setting for the hip's upright cut.",
			From:  "Between the cut and the hip's length."},
		{ID: "backing_angle", Name: "Backing angle", Symbol: "β", Unit: Deg,
			Means: "How far each half of the hip's top is planed down, to lie in a roof plane.",
			From:  "From square to the hip's side, held square to its length."},
		{ID: "roof_dihedral", Name: "Roof dihedral", Symbol: "δ", Unit: Deg,
			Means: "The angle between the two roof planes.",
			From:  "On the inside, held square to the hip."},
	},
	Consequences: []Consequence{
		{ID: "ridge_error", Name: "ridge", Unit: MM,
			Means: "How much higher than it should a rafter of these lengths and cuts carries the ridge, the common or the hip, whichever is worse; negative where it is lower."},
	},
	House:  Values{"rise": 7, "run": 12, "span": 5200},
	layout: layoutHipRafter,
	fit:    fitHipRafter,
	seen:   seenHipRafter,
	parts:  partsHipRafter,
}
