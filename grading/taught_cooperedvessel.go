package grading

// cooperedVessel teaches the coopered vessel. Every formula is plain geometry;
// the reason for each stands in the lesson.
var cooperedVessel = lesson{
	family: "coopered-vessel",
	forms: []form{
		{id: "lean", formula: "atan((top_diameter - bottom_diameter)/2/height)"},
		{id: "stave_length", formula: "sqrt(height^2 + ((top_diameter - bottom_diameter)/2)^2)"},
		{id: "top_width", formula: "top_diameter*tan(180/staves)"},
		{id: "bottom_width", formula: "bottom_diameter*tan(180/staves)"},
		{id: "taper_angle", formula: "atan((top_width - bottom_width)/2/stave_length)"},
		{id: "edge_bevel", formula: "asin(sin(180/staves)*cos(lean))"},
	},
	possible: []string{
		"lean >= 0", "lean < 90", "stave_length >= height", "top_width > 0", "bottom_width > 0",
		"top_width >= bottom_width", "taper_angle >= 0", "edge_bevel > 0", "edge_bevel <= 180/staves",
	},
	pairs: []string{"top_diameter", "bottom_diameter"},
}
