package grading

// throughDovetail teaches through dovetails.
var throughDovetail = lesson{
	family: "through-dovetail",
	forms: append([]form{
		{id: "tail_baseline", formula: "pin_thickness"},
	}, dovetailForms...),
	possible: append([]string{
		"tail_baseline > 0",
	}, dovetailPossible...),
}

// dovetailForms are what through and lapped dovetails have in common: all that
// does not ask how far the tails reach.
var dovetailForms = []form{
	{id: "pin_baseline", formula: "tail_thickness"},
	{id: "slope_angle", formula: "atan(1/slope)"},
	{id: "bevel_from_end", formula: "90 - slope_angle"},
	{id: "tail_width", formula: "(width - 2*half_pin - (tails - 1)*pin)/tails"},
	{id: "first_tail_start", formula: "half_pin", across: "width"},
	{id: "second_tail_start", formula: "half_pin + tail_width + pin", follow: "first_tail_start + tail_width + pin", when: []string{"tails >= 2"}, across: "width"},
	{id: "last_tail_end", formula: "width - half_pin", across: "width"},
	{id: "pin_wide", formula: "pin + 2*tail_baseline/slope"},
	{id: "tail_at_baseline", formula: "tail_width - 2*tail_baseline/slope"},
}

var dovetailPossible = []string{
	"pin_baseline > 0", "slope_angle > 0", "slope_angle < 45", "tail_width > 0",
	"first_tail_start > 0", "last_tail_end < width", "pin_wide >= 4",
	"tail_at_baseline >= 1.5*pin",
}
