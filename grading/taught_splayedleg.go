package grading

// splayedLeg teaches rake and splay. The offsets of the foot come first: what
// adds, square to one another, are tangents. That the tangent of the true lean
// is their hypotenuse is the rule for a line in two views (Machinery's
// Handbook, compound angles); two sloping planes follow another.
var splayedLeg = lesson{
	family: "splayed-leg",
	forms: []form{
		{id: "foot_rake", formula: "height*tan(rake)"},
		{id: "foot_splay", formula: "height*tan(splay)"},
		{id: "resultant", formula: "atan(sqrt(tan(rake)^2 + tan(splay)^2))", follow: "atan(sqrt(foot_rake^2 + foot_splay^2)/height)"},
		{id: "sightline", formula: "atan(tan(splay)/tan(rake))", follow: "atan(foot_splay/foot_rake)"},
		{id: "drill_tilt", formula: "90 - resultant"},
		{id: "leg_length", formula: "height/cos(resultant)"},
		{id: "stretcher_length", formula: "top_spacing + 2*(height - stretcher_height)*tan(splay)"},
		{id: "stretcher_bevel", formula: "90 - atan(tan(splay)*cos(rake))"},
	},
	possible: []string{
		"foot_rake >= 0", "foot_splay >= 0", "resultant > 0", "resultant < 90", "sightline >= 0", "sightline <= 90",
		"drill_tilt > 0", "drill_tilt < 90", "leg_length > height", "stretcher_length >= top_spacing", "stretcher_bevel > 0", "stretcher_bevel <= 90",
	},
}
