package grading

// angledTenon teaches the side rail of a tapered seat frame: one right-angled
// triangle between the middles of two legs.
var angledTenon = lesson{
	family: "angled-tenon",
	forms: []form{
		{id: "splay_angle", formula: "atan((front_width - back_width)/2/(depth - leg))"},
		{id: "shoulder_bevel", formula: "90 - splay_angle"},
		{id: "shoulder_length", formula: "(depth - 2*leg)/cos(splay_angle)"},
		{id: "shoulder_shift", formula: "rail_thickness*tan(splay_angle)"},
		{id: "tenon_thickness", formula: "rail_thickness/3"},
	},
	possible: []string{
		"splay_angle > 0", "splay_angle < 45", "shoulder_bevel < 90", "shoulder_length > 0",
		"shoulder_shift > 0", "tenon_thickness < rail_thickness",
	},
}
