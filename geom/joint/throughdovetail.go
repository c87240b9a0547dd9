package joint

// throughDovetail is the corner of two boards whose tails come right through
// the pin board. What it shares with the lapped dovetail, its frame and its
// consequences, stands with [dovetail].
var throughDovetail = &Family{
	ID:      "through-dovetail",
	Title:   "Through dovetails",
	Summary: "Tails on one board reach through between the pins of the other.",
	Parameters: []Parameter{
		{ID: "width", Name: "Width", Symbol: "W", Unit: MM, Min: 10, Max: 2000, Measured: true,
			Means: "The width of both boards, square from the reference edge."},
		{ID: "tails", Name: "Number of tails", Symbol: "n", Unit: One, Min: 1, Max: 60, Whole: true,
			Means: "How many tails stand side by side."},
		{ID: "pin", Name: "Pin", Symbol: "p", Unit: MM, Min: 0.5, Max: 300,
			Means: "A pin's narrow width, at the tail board's end."},
		{ID: "half_pin", Name: "Half-pin", Symbol: "h", Unit: MM, Min: 0.5, Max: 300,
			Means: "The narrow width of the pin at each edge, at the tail board's end."},
		{ID: "slope", Name: "Slope", Symbol: "s", Unit: One, Min: 2, Max: 30,
			Means: "How many along for one across, on the side of a tail."},
		{ID: "tail_thickness", Name: "Tail board's thickness", Symbol: "T₁", Unit: MM, Min: 1, Max: 200, Measured: true,
			Means: "The thickness of the board that carries the tails."},
		{ID: "pin_thickness", Name: "Pin board's thickness", Symbol: "T₂", Unit: MM, Min: 1, Max: 200, Measured: true,
			Means: "The thickness of the board that carries the pins."},
	},
	Quantities: dovetailQuantities(
		"How long the tails are: they reach through the pin board.",
		"From the tail board's end, on its faces and edges."),
	Consequences: dovetailConsequences(false),
	House: Values{
		"width": 160, "tails": 3, "pin": 6, "half_pin": 8, "slope": 6, "tail_thickness": 14, "pin_thickness": 18,
	},
	layout: layoutDovetail,
	fit:    fitDovetail,
	parts:  partsDovetail,
}
