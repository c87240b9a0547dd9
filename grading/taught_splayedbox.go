package grading

// splayedBox teaches the splayed box. Every formula is plain geometry; the
// reason for each stands in the lesson.
var splayedBox = lesson{
	family: "splayed-box",
	forms: []form{
		{id: "slant_height", formula: "height/cos(tilt)"},
		{id: "face_angle", formula: "atan(tan(180/sides)*sin(tilt))"},
		{id: "mitre_bevel", formula: "asin(sin(180/sides)*cos(tilt))"},
		{id: "corner_angle", formula: "180 - 2*mitre_bevel"},
		{id: "butt_bevel", formula: "asin(sin(tilt)^2)", when: []string{"sides >= 4", "sides <= 4"}},
	},
	possible: []string{
		"slant_height > 0", "face_angle >= 0", "face_angle < 180/sides",
		"mitre_bevel > 0", "mitre_bevel <= 180/sides", "corner_angle > 0", "corner_angle < 180",
	},
}
