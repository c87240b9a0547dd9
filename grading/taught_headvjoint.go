package grading

// headVJoint teaches the V joint of a tilted instrument head. Every formula is
// plain geometry; the reason for each stands in the lesson.
var headVJoint = lesson{
	family: "head-v-joint",
	forms: []form{
		{id: "half_angle", formula: "atan((v_width/2)/v_length)"},
		{id: "mouth_near", formula: "(width - v_width)/2", across: "width"},
		{id: "mouth_far", formula: "(width + v_width)/2", follow: "mouth_near + v_width", across: "width"},
		{id: "cheek_length", formula: "sqrt(v_length^2 + (v_width/2)^2)"},
		{id: "face_v_length", formula: "v_length/cos(head_angle)"},
		{id: "face_half_angle", formula: "atan((v_width/2)/face_v_length)"},
		{id: "shoulder_from_end", formula: "face_v_length + allowance"},
		{id: "back_shift", formula: "thickness*tan(head_angle)"},
		{id: "back_shoulder_from_end", formula: "shoulder_from_end + back_shift"},
		{id: "tip_proud", formula: "v_length*tan(head_angle)"},
		{id: "tip_depth", formula: "thickness/cos(head_angle) - tip_proud"},
		{id: "cheek_tilt", formula: "asin(sin(half_angle)*sin(head_angle))"},
		{id: "max_head_angle", formula: "asin(thickness/sqrt(v_length^2 + head_thickness^2)) - atan(head_thickness/v_length)"},
	},
	possible: []string{
		"half_angle > 0", "half_angle < 90", "face_half_angle > 0",
		"mouth_near >= 5", "mouth_far <= width - 5", "mouth_near < mouth_far",
		"face_v_length > 0", "shoulder_from_end > 0", "back_shift > 0",
		"tip_proud > 0", "tip_depth >= head_thickness", "cheek_tilt > 0",
		"head_angle < max_head_angle",
	},
	allowances: []string{"allowance"},
	pairs:      []string{"v_width"},
}
