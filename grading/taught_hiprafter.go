package grading

// hipRafter teaches the hip rafter. Every formula is plain geometry; the
// reason for each stands in the lesson.
var hipRafter = lesson{
	family: "hip-rafter",
	forms: []form{
		{id: "pitch_angle", formula: "atan(rise/run)"},
		{id: "common_length", formula: "(span/2)/cos(pitch_angle)"},
		{id: "hip_length", formula: "sqrt(common_length^2 + (span/2)^2)"},
		{id: "hip_plumb", formula: "90 - atan(rise/(run*sqrt(2)))"},
		{id: "backing_angle", formula: "asin(sin(pitch_angle)/sqrt(2))"},
		{id: "roof_dihedral", formula: "180 - 2*backing_angle"},
	},
	possible: []string{
		"pitch_angle > 0", "pitch_angle < 90", "common_length >= span/2", "hip_length > common_length",
		"hip_plumb > 0", "hip_plumb < 90", "backing_angle > 0", "backing_angle < 45", "roof_dihedral > 90", "roof_dihedral < 180",
	},
	pairs: []string{"span"},
}
