package grading

// angledLap teaches the cross lap at an angle: one right-angled triangle on
// piece B's width, one on piece A's.
var angledLap = lesson{
	family: "angled-lap",
	forms: []form{
		{id: "depth", formula: "thickness/2"},
		{id: "shoulder_bevel", formula: "crossing_angle"},
		{id: "shoulder_spacing", formula: "width_b/sin(crossing_angle)"},
		{id: "shoulder_skew", formula: "width_a/tan(crossing_angle)"},
		{id: "shoulder_line", formula: "width_a/sin(crossing_angle)"},
	},
	possible: []string{
		"depth > 0", "depth < thickness", "shoulder_bevel > 0", "shoulder_bevel <= 90",
		"shoulder_spacing >= width_b", "shoulder_line >= width_a",
	},
}
