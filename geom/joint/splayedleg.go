package joint

// splayedLeg is a leg that leans in two directions, and the stretcher between
// it and its mirror image across the seat.
//
// Frame: the origin is the middle of the seat's underside between the two
// holes, z up, +x the rake direction (the way the legs lean seen from the
// side), +y outward, to the leg that is measured. The floor is z = -height.
var splayedLeg = &Family{
	ID:      "splayed-leg",
	Title:   "Splayed leg: rake and splay",
	Summary: "A leg leans seen from the side and seen from the front; one bevel setting along one sightline bores for both.",
	Parameters: []Parameter{
		{ID: "height", Name: "Height", Symbol: "H", Unit: MM, Min: 50, Max: 1500,
			Means: "From the underside of the seat to the floor, plumb."},
		{ID: "rake", Name: "Rake", Symbol: "ρ", Unit: Deg, Min: 0, Max: 60,
			Means: "The leg's lean from vertical, seen square from the side."},
		{ID: "splay", Name: "Splay", Symbol: "σ", Unit: Deg, Min: 0, Max: 60,
			Means: "The leg's lean from vertical, seen square from the front."},
		{ID: "top_spacing", Name: "Top spacing", Symbol: "w", Unit: MM, Min: 10, Max: 2000,
			Means: "Between the two legs' axes at the seat, across."},
		{ID: "stretcher_height", Name: "Stretcher height", Symbol: "h", Unit: MM, Min: 0, Max: 1500,
			Means: "From the floor up to the stretcher, plumb."},
	},
	Quantities: []Quantity{
		{ID: "foot_rake", Name: "Foot, by rake", Symbol: "f₁", Unit: MM,
			Means: "How far the foot lies out along the rake direction.",
			From:  "From plumb under the hole's centre, along the rake direction, on the floor."},
		{ID: "foot_splay", Name: "Foot, by splay", Symbol: "f₂", Unit: MM,
			Means: "How far the foot lies outward.",
			From:  "From plumb under the hole's centre, square to the rake direction, on the floor."},
		{ID: "resultant", Name: "Resultant", Symbol: "ω", Unit: Deg,
			Means: "The leg's true lean, seen square to the plane it leans in.",
			From:  "From vertical, along the sightline."},
		{ID: "sightline", Name: "Sightline", Symbol: "ψ", Unit: Deg,
			Means: "The direction in which the leg leans, drawn on the seat.",
			From:  "From the rake direction, in plan."},
		{ID: "drill_tilt", Name: "Drill tilt", Symbol: "δ", Unit: Deg,
			Means: "The bevel's setting for boring the hole.",
			From:  "Between the leg's axis and the seat's surface, along the sightline."},
		{ID: "leg_length", Name: "Leg length", Symbol: "l", Unit: MM,
			Means: "The leg between the seat's underside and the floor.",
			From:  "From the underside of the seat to the foot, along the axis."},
		{ID: "stretcher_length", Name: "Stretcher length", Symbol: "s", Unit: MM,
			Means: "How far apart the two legs' axes are at the stretcher.",
			From:  "From axis to axis, across, at the stretcher's height."},
		{ID: "stretcher_bevel", Name: "Stretcher bevel", Symbol: "β", Unit: Deg,
			Means: "The angle at which the stretcher enters the leg.",
			From:  "Between the stretcher and the leg's axis, in the plane of the two legs."},
	},
	Consequences: []Consequence{
		{ID: "foot_error", Name: "foot", Unit: MM,
			Means: "How far from its place the foot comes to lie, in plan: bored by the resultant, bored by the drill tilt, or marked on the floor, whichever is worst."},
		{ID: "height_error", Name: "height", Unit: MM,
			Means: "How much higher the seat stands on this leg than it should, by the resultant or by the drill tilt, whichever is worse; negative where it stands lower."},
	},
	House:  Values{"height": 460, "rake": 13, "splay": 8, "top_spacing": 290, "stretcher_height": 160},
	layout: layoutSplayedLeg,
	fit:    fitSplayedLeg,
	seen:   seenSplayedLeg,
	parts:  partsSplayedLeg,
}
