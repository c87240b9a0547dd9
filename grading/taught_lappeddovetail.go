package grading

// lappedDovetail teaches lapped dovetails: through dovetails whose tails stop
// short.
var lappedDovetail = lesson{
	family: "lapped-dovetail",
	forms: append([]form{
		{id: "tail_baseline", formula: "pin_thickness - lap"},
	}, dovetailForms...),
	possible: append([]string{
		"tail_baseline > 0", "tail_baseline < pin_thickness",
	}, dovetailPossible...),
	allowances: []string{"lap"},
}
