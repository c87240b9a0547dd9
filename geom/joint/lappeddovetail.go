package joint

// lappedDovetail is the corner of two boards whose tails stop short inside the
// pin board, so that the joint does not show from the front. What it shares
// with the through dovetail, its frame and its consequences, stands with
// [dovetail].
var lappedDovetail = &Family{
	ID:      "lapped-dovetail",
	Title:   "Lapped dovetails",
	Summary: "Tails on one board fill sockets in the other that stop short of its front.",
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
		{ID: "lap", Name: "Lap", Symbol: "l", Unit: MM, Min: 0.5, Max: 100,
			Means: "Wood left uncut on the pin board, so that the joint does not show from the front."},
	},
	Quantities: dovetailQuantities(
		"How long the tails are: they stop at the lap.",
		"From the tail board's end; on the pin board's end, from its inner face."),
	Consequences: dovetailConsequences(true),
	House: Values{
		"width": 130, "tails": 3, "pin": 6, "half_pin": 7, "slope": 7, "tail_thickness": 11, "pin_thickness": 20, "lap": 5,
	},
	layout: layoutDovetail,
	fit:    fitDovetail,
	parts:  partsDovetail,
}
