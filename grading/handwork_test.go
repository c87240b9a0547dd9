package grading_test

import (
	"maps"
	"slices"
)

func sortedKeys(m map[string]float64) []string { return slices.Sorted(maps.Keys(m)) }

// working is how a number is worked out by hand.
type working func(h *hand) float64

// handwork is one family by hand, number by number.
type handwork struct {
	allowance, pair []string
	across          map[string]string // offset → the given that it runs across
	numbers         map[string]working
}

// byHand is all families. Each working is written from the lesson's figures,
// with a name for every length on the way.
var byHand = map[string]handwork{
	"head-v-joint":     headVByHand,
	"head-scarf":       headScarfByHand,
	"through-dovetail": dovetailByHand(false),
	"lapped-dovetail":  dovetailByHand(true),
	"angled-lap":       angledLapByHand,
	"unequal-mitre":    unequalMitreByHand,
	"angled-tenon":     angledTenonByHand,
	"splayed-leg":      splayedLegByHand,
	"splayed-box":      splayedBoxByHand,
	"coopered-vessel":  cooperedVesselByHand,
	"hip-rafter":       hipRafterByHand,
}

var headVByHand = handwork{
	allowance: []string{"allowance"}, pair: []string{"v_width"},
	across: map[string]string{"mouth_near": "width", "mouth_far": "width"},
	numbers: map[string]working{
		"half_angle":        func(h *hand) float64 { return h.lastAtan(h.ratio(h.half(h.read("v_width")), h.read("v_length"))) },
		"mouth_near":        func(h *hand) float64 { return h.half(h.minus(h.read("width"), h.read("v_width"))) },
		"mouth_far":         func(h *hand) float64 { return h.half(h.plus(h.read("width"), h.read("v_width"))) },
		"cheek_length":      func(h *hand) float64 { return h.hypotenuse(h.read("v_length"), h.half(h.read("v_width"))) },
		"face_v_length":     headVFace,
		"face_half_angle":   func(h *hand) float64 { return h.lastAtan(h.ratio(h.half(h.read("v_width")), h.onTheWay(headVFace(h)))) },
		"shoulder_from_end": headVShoulder,
		"back_shift":        headVShift,
		"back_shoulder_from_end": func(h *hand) float64 {
			return h.plus(h.onTheWay(headVShoulder(h)), h.onTheWay(headVShift(h)))
		},
		"tip_proud": func(h *hand) float64 { return h.times(h.read("v_length"), h.tan(h.read("head_angle"))) },
		"tip_depth": func(h *hand) float64 {
			a := h.read("head_angle")
			through := h.overCos(h.read("thickness"), h.cos(a))
			return h.minus(h.onTheWay(through), h.onTheWay(h.times(h.read("v_length"), h.tan(a))))
		},
		"cheek_tilt": func(h *hand) float64 {
			half := h.atan(h.ratio(h.half(h.read("v_width")), h.read("v_length")))
			return h.lastAsin(h.times(h.sin(h.onTheWay(half)), h.sin(h.read("head_angle"))))
		},
		"max_head_angle": func(h *hand) float64 {
			l, t := h.read("v_length"), h.read("head_thickness")
			reach := h.asin(h.ratio(h.read("thickness"), h.onTheWay(h.hypotenuse(l, t))))
			return h.minus(h.onTheWay(reach), h.onTheWay(h.atan(h.ratio(t, l))))
		},
	},
}

func headVFace(h *hand) float64 { return h.overCos(h.read("v_length"), h.cos(h.read("head_angle"))) }
func headVShoulder(h *hand) float64 {
	return h.plus(h.onTheWay(headVFace(h)), h.read("allowance"))
}
func headVShift(h *hand) float64 { return h.times(h.read("thickness"), h.tan(h.read("head_angle"))) }

var headScarfByHand = handwork{
	allowance: []string{"kerf"},
	numbers: map[string]working{
		"face_run":     func(h *hand) float64 { return h.over(h.read("thickness"), h.tan(h.read("head_angle"))) },
		"slope_length": scarfSlope,
		"glue_area":    func(h *hand) float64 { return h.times(h.onTheWay(scarfSlope(h)), h.read("width")) },
		"kerf_on_face": func(h *hand) float64 { return h.over(h.read("kerf"), h.sin(h.read("head_angle"))) },
		"head_run":     func(h *hand) float64 { return h.over(h.read("head_thickness"), h.tan(h.read("head_angle"))) },
	},
}

func scarfSlope(h *hand) float64 { return h.over(h.read("thickness"), h.sin(h.read("head_angle"))) }

func dovetailByHand(lapped bool) handwork {
	baseline := func(h *hand) float64 {
		if lapped {
			return h.minus(h.read("pin_thickness"), h.read("lap"))
		}
		return h.read("pin_thickness")
	}
	slope := func(h *hand) float64 { return h.lastAtan(h.ratio(1, h.read("slope"))) }
	tail := func(h *hand) float64 {
		n := h.read("tails")
		sides := h.twice(h.read("half_pin"))
		between := (n - 1) * h.read("pin")
		return h.part(h.minus(h.minus(h.read("width"), sides), between), n)
	}
	spread := func(h *hand) float64 { return h.part(h.twice(h.onTheWay(baseline(h))), h.read("slope")) }
	w := handwork{
		across: map[string]string{"first_tail_start": "width", "second_tail_start": "width", "last_tail_end": "width"},
		numbers: map[string]working{
			"tail_baseline":    baseline,
			"pin_baseline":     func(h *hand) float64 { return h.read("tail_thickness") },
			"slope_angle":      slope,
			"bevel_from_end":   func(h *hand) float64 { return h.minus(90, h.onTheWay(h.atan(h.ratio(1, h.read("slope"))))) },
			"tail_width":       tail,
			"first_tail_start": func(h *hand) float64 { return h.read("half_pin") },
			"second_tail_start": func(h *hand) float64 {
				return h.plus(h.plus(h.read("half_pin"), h.onTheWay(tail(h))), h.read("pin"))
			},
			"last_tail_end":    func(h *hand) float64 { return h.minus(h.read("width"), h.read("half_pin")) },
			"pin_wide":         func(h *hand) float64 { return h.plus(h.read("pin"), spread(h)) },
			"tail_at_baseline": func(h *hand) float64 { return h.minus(h.onTheWay(tail(h)), spread(h)) },
		},
	}
	if lapped {
		w.allowance = []string{"lap"}
	}
	return w
}

var angledLapByHand = handwork{numbers: map[string]working{
	"depth":            func(h *hand) float64 { return h.half(h.read("thickness")) },
	"shoulder_bevel":   func(h *hand) float64 { return h.read("crossing_angle") },
	"shoulder_spacing": func(h *hand) float64 { return h.over(h.read("width_b"), h.sin(h.read("crossing_angle"))) },
	"shoulder_skew":    func(h *hand) float64 { return h.over(h.read("width_a"), h.tan(h.read("crossing_angle"))) },
	"shoulder_line":    func(h *hand) float64 { return h.over(h.read("width_a"), h.sin(h.read("crossing_angle"))) },
}}

var unequalMitreByHand = handwork{numbers: map[string]working{
	"mitre_a": func(h *hand) float64 {
		over, under := mitreTriangle(h)
		return h.lastAtan(h.ratio(over, under))
	},
	"mitre_b": func(h *hand) float64 {
		over, under := mitreTriangle(h)
		return h.minus(h.read("corner_angle"), h.onTheWay(h.atan(h.ratio(over, under))))
	},
	"mitre_length": func(h *hand) float64 {
		over, under := mitreTriangle(h)
		return h.over(h.read("width_a"), h.sin(h.onTheWay(h.atan(h.ratio(over, under)))))
	},
}}

func mitreTriangle(h *hand) (over, under float64) {
	a, b, corner := h.read("width_a"), h.read("width_b"), h.read("corner_angle")
	return h.times(a, h.sin(corner)), h.plus(b, h.times(a, h.cos(corner)))
}

var angledTenonByHand = handwork{numbers: map[string]working{
	"splay_angle":    func(h *hand) float64 { return h.lastAtan(tenonSlope(h)) },
	"shoulder_bevel": func(h *hand) float64 { return h.minus(90, h.onTheWay(h.atan(tenonSlope(h)))) },
	"shoulder_length": func(h *hand) float64 {
		between := h.minus(h.read("depth"), h.twice(h.read("leg")))
		return h.overCos(h.onTheWay(between), h.cos(h.onTheWay(h.atan(tenonSlope(h)))))
	},
	"shoulder_shift": func(h *hand) float64 {
		return h.times(h.read("rail_thickness"), h.tan(h.onTheWay(h.atan(tenonSlope(h)))))
	},
	"tenon_thickness": func(h *hand) float64 { return h.part(h.read("rail_thickness"), 3) },
}}

func tenonSlope(h *hand) float64 {
	aside := h.half(h.minus(h.read("front_width"), h.read("back_width")))
	return h.ratio(aside, h.minus(h.read("depth"), h.read("leg")))
}

var splayedLegByHand = handwork{numbers: map[string]working{
	"foot_rake":  func(h *hand) float64 { return h.times(h.read("height"), h.tan(h.read("rake"))) },
	"foot_splay": func(h *hand) float64 { return h.times(h.read("height"), h.tan(h.read("splay"))) },
	"resultant":  func(h *hand) float64 { return h.lastAtan(legLean(h)) },
	"sightline": func(h *hand) float64 {
		return h.lastAtan(h.ratio(h.tan(h.read("splay")), h.tan(h.read("rake"))))
	},
	"drill_tilt": func(h *hand) float64 { return h.minus(90, h.onTheWay(h.atan(legLean(h)))) },
	"leg_length": func(h *hand) float64 {
		return h.overCos(h.read("height"), h.cos(h.onTheWay(h.atan(legLean(h)))))
	},
	"stretcher_length": func(h *hand) float64 {
		below := h.onTheWay(h.minus(h.read("height"), h.read("stretcher_height")))
		out := h.times(h.twice(below), h.tan(h.read("splay")))
		return h.plus(h.read("top_spacing"), h.onTheWay(out))
	},
	"stretcher_bevel": func(h *hand) float64 {
		return h.minus(90, h.onTheWay(h.atan(h.times(h.tan(h.read("splay")), h.cos(h.read("rake"))))))
	},
}}

func legLean(h *hand) float64 { return h.twoSlopes(h.tan(h.read("rake")), h.tan(h.read("splay"))) }

var splayedBoxByHand = handwork{numbers: map[string]working{
	"slant_height": func(h *hand) float64 { return h.overCos(h.read("height"), h.cos(h.read("tilt"))) },
	"face_angle": func(h *hand) float64 {
		return h.lastAtan(h.times(h.tan(h.part(180, h.read("sides"))), h.sin(h.read("tilt"))))
	},
	"mitre_bevel": func(h *hand) float64 { return h.lastAsin(boxMitre(h)) },
	"corner_angle": func(h *hand) float64 {
		return h.minus(180, h.twice(h.onTheWay(h.asin(boxMitre(h)))))
	},
	"butt_bevel": func(h *hand) float64 {
		s := h.sin(h.read("tilt"))
		return h.lastAsin(s * s)
	},
}}

func boxMitre(h *hand) float64 {
	return h.times(h.sin(h.part(180, h.read("sides"))), h.cos(h.read("tilt")))
}

var cooperedVesselByHand = handwork{
	pair: []string{"top_diameter", "bottom_diameter"},
	numbers: map[string]working{
		"lean":         func(h *hand) float64 { return h.lastAtan(h.ratio(vesselAside(h), h.read("height"))) },
		"stave_length": func(h *hand) float64 { return h.hypotenuse(h.read("height"), vesselAside(h)) },
		"top_width":    func(h *hand) float64 { return vesselSide(h, "top_diameter") },
		"bottom_width": func(h *hand) float64 { return vesselSide(h, "bottom_diameter") },
		"taper_angle": func(h *hand) float64 {
			top, bottom := h.read("top_diameter"), h.read("bottom_diameter")
			t := h.tan(h.part(180, h.read("staves")))
			aside := h.half(h.minus(top, bottom))
			long := h.hypotenuse(h.read("height"), aside)
			wide, narrow := h.times(top, t), h.times(bottom, t)
			return h.lastAtan(h.ratio(h.half(h.minus(h.onTheWay(wide), h.onTheWay(narrow))), h.onTheWay(long)))
		},
		"edge_bevel": func(h *hand) float64 {
			lean := h.atan(h.ratio(vesselAside(h), h.read("height")))
			return h.lastAsin(h.times(h.sin(h.part(180, h.read("staves"))), h.cos(h.onTheWay(lean))))
		},
	},
}

func vesselAside(h *hand) float64 {
	return h.half(h.minus(h.read("top_diameter"), h.read("bottom_diameter")))
}

func vesselSide(h *hand, diameter string) float64 {
	return h.times(h.read(diameter), h.tan(h.part(180, h.read("staves"))))
}

var hipRafterByHand = handwork{
	pair: []string{"span"},
	numbers: map[string]working{
		"pitch_angle":   func(h *hand) float64 { return h.lastAtan(h.ratio(h.read("rise"), h.read("run"))) },
		"common_length": hipCommon,
		"hip_length": func(h *hand) float64 {
			run := h.half(h.read("span"))
			pitch := h.atan(h.ratio(h.read("rise"), h.read("run")))
			common := h.overCos(run, h.cos(h.onTheWay(pitch)))
			return h.hypotenuse(h.onTheWay(common), run)
		},
		"hip_plumb": func(h *hand) float64 {
			diagonal := h.times(h.read("run"), 1.4142135623730951)
			return h.minus(90, h.onTheWay(h.atan(h.ratio(h.read("rise"), diagonal))))
		},
		"backing_angle": func(h *hand) float64 { return h.lastAsin(hipBacking(h)) },
		"roof_dihedral": func(h *hand) float64 { return h.minus(180, h.twice(h.onTheWay(h.asin(hipBacking(h))))) },
	},
}

func hipCommon(h *hand) float64 {
	pitch := h.atan(h.ratio(h.read("rise"), h.read("run")))
	return h.overCos(h.half(h.read("span")), h.cos(h.onTheWay(pitch)))
}

func hipBacking(h *hand) float64 {
	pitch := h.atan(h.ratio(h.read("rise"), h.read("run")))
	return h.over(h.sin(h.onTheWay(pitch)), 1.4142135623730951)
}
