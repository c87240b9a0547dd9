package grading

// headScarf teaches the scarf of a tilted head: one right-angled triangle,
// three times over.
var headScarf = lesson{
	family: "head-scarf",
	forms: []form{
		{id: "face_run", formula: "thickness/tan(head_angle)"},
		{id: "slope_length", formula: "thickness/sin(head_angle)"},
		{id: "glue_area", formula: "slope_length*width"},
		{id: "kerf_on_face", formula: "kerf/sin(head_angle)"},
		{id: "head_run", formula: "head_thickness/tan(head_angle)"},
	},
	possible: []string{
		"face_run > 0", "face_run <= 200", "slope_length > face_run", "glue_area > 0",
		"kerf_on_face > kerf", "head_run > 0",
	},
	allowances: []string{"kerf"},
}
