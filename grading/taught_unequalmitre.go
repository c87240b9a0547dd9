package grading

// unequalMitre teaches the mitre of two widths. Both widths are the mitre
// line's length times the sine of their own mitre, and the two mitres fill the
// corner: dividing and expanding the sine of the difference gives the first.
var unequalMitre = lesson{
	family: "unequal-mitre",
	forms: []form{
		{id: "mitre_a", formula: "atan(width_a*sin(corner_angle)/(width_b + width_a*cos(corner_angle)))"},
		{id: "mitre_b", formula: "corner_angle - mitre_a"},
		{id: "mitre_length", formula: "width_a/sin(mitre_a)"},
	},
	possible: []string{
		"mitre_a > 0", "mitre_a <= 90", "mitre_b > 0", "mitre_b <= 90", "mitre_length > 0",
	},
}
