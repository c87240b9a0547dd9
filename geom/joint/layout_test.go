package joint

import (
	"math"
	"testing"
)

// sixPlaces and twoPlaces are half of the last printed digit.
const (
	sixPlaces = 0.5e-6
	twoPlaces = 0.5e-2
)

// checkValue is a blank whose quantities somebody worked out elsewhere.
type checkValue struct {
	family, source string
	parameters     Values
	half           float64
	want           Values
	// some says that the source gives only some of the quantities.
	some bool
}

// Numbers of an independent construction were worked out outside this program,
// to six decimals; the lessons' worked examples are printed to two.
var checkValues = []checkValue{
	{family: "through-dovetail", source: "independent construction", half: sixPlaces, parameters: Values{
		"width": 179, "tails": 2, "pin": 8.5, "half_pin": 7.5, "slope": 5, "tail_thickness": 18, "pin_thickness": 16,
	}, want: Values{
		"slope_angle": 11.309932, "bevel_from_end": 78.690068, "tail_width": 77.75, "tail_at_baseline": 71.35, "pin_wide": 14.9,
		"tail_baseline": 16, "pin_baseline": 18, "first_tail_start": 7.5, "last_tail_end": 171.5, "second_tail_start": 93.75,
	}},
	{family: "through-dovetail", source: "worked example of the lesson", half: twoPlaces, parameters: workedThrough, want: Values{
		"tail_baseline": 15.50, "pin_baseline": 13.00, "slope_angle": 8.13, "bevel_from_end": 81.87, "tail_width": 39.33,
		"first_tail_start": 9.00, "second_tail_start": 53.83, "last_tail_end": 138.00, "pin_wide": 9.93, "tail_at_baseline": 34.90,
	}},
	{family: "lapped-dovetail", source: "independent construction", half: sixPlaces, parameters: Values{
		"width": 295, "tails": 2, "pin": 7, "half_pin": 5.5, "slope": 8, "tail_thickness": 10.5, "pin_thickness": 18.5, "lap": 4,
	}, want: Values{
		"slope_angle": 7.125016, "bevel_from_end": 82.874984, "tail_width": 138.5, "tail_at_baseline": 134.875, "pin_wide": 10.625,
		"tail_baseline": 14.5, "pin_baseline": 10.5, "first_tail_start": 5.5, "last_tail_end": 289.5, "second_tail_start": 151,
	}},
	{family: "lapped-dovetail", source: "worked example of the lesson", half: twoPlaces, parameters: workedLapped, want: Values{
		"tail_baseline": 16.00, "pin_baseline": 11.50, "slope_angle": 9.46, "bevel_from_end": 80.54, "tail_width": 31.33,
		"first_tail_start": 8.50, "second_tail_start": 46.83, "last_tail_end": 116.50, "pin_wide": 12.33, "tail_at_baseline": 26.00,
	}},
	{family: "angled-lap", source: "independent construction", half: sixPlaces, parameters: Values{
		"width_a": 67, "width_b": 43, "thickness": 20, "crossing_angle": 45,
	}, want: Values{
		"depth": 10, "shoulder_bevel": 45, "shoulder_spacing": 60.811183, "shoulder_skew": 67, "shoulder_line": 94.752309,
	}},
	{family: "angled-lap", source: "worked example of the lesson", half: twoPlaces, parameters: workedLap, want: Values{
		"depth": 11.50, "shoulder_bevel": 62.00, "shoulder_spacing": 49.83, "shoulder_skew": 30.84, "shoulder_line": 65.69,
	}},
	{family: "angled-lap", source: "worked example of the lesson, piece B", half: twoPlaces, some: true, parameters: Values{
		"width_a": 44, "width_b": 58, "thickness": 23, "crossing_angle": 62,
	}, want: Values{
		"shoulder_spacing": 65.69, "shoulder_skew": 23.40, "shoulder_line": 49.83,
	}},
	{family: "angled-tenon", source: "independent construction", half: sixPlaces, parameters: Values{
		"front_width": 500, "back_width": 355, "depth": 425, "leg": 42, "rail_thickness": 23,
	}, want: Values{
		"splay_angle": 10.718978, "shoulder_bevel": 79.281022, "shoulder_length": 347.055690, "shoulder_shift": 4.353786, "tenon_thickness": 7.666667,
	}},
	{family: "angled-tenon", source: "worked example of the lesson", half: twoPlaces, parameters: workedTenon, want: Values{
		"splay_angle": 7.67, "shoulder_bevel": 82.33, "shoulder_length": 300.69, "shoulder_shift": 2.83, "tenon_thickness": 7.00,
	}},
	{family: "head-scarf", source: "independent construction", half: sixPlaces, parameters: Values{
		"thickness": 21, "width": 57, "head_angle": 12, "kerf": 1.2, "head_thickness": 13.5,
	}, want: Values{
		"face_run": 98.797232, "slope_length": 101.004421, "glue_area": 5757.252011, "kerf_on_face": 5.771681, "head_run": 63.512506,
	}},
	{family: "head-scarf", source: "worked example of the lesson", half: twoPlaces, parameters: workedScarf, want: Values{
		"face_run": 129.49, "slope_length": 131.70, "glue_area": 9350.54, "kerf_on_face": 8.78, "head_run": 80.93,
	}},
	{family: "head-v-joint", source: "independent construction", half: sixPlaces, parameters: Values{
		"thickness": 25, "width": 59.5, "v_length": 40, "v_width": 30.5, "head_angle": 9.5, "head_thickness": 16, "allowance": 0.5,
	}, want: Values{
		"half_angle": 20.869348, "mouth_near": 14.5, "mouth_far": 45, "cheek_length": 42.808440, "face_v_length": 40.556204,
		"face_half_angle": 20.607334, "shoulder_from_end": 41.056204, "back_shift": 4.183565, "back_shoulder_from_end": 45.239769,
		"tip_proud": 6.693704, "tip_depth": 18.653923, "cheek_tilt": 3.370721, "max_head_angle": 13.670091,
	}},
	{family: "head-v-joint", source: "worked example of the lesson", half: twoPlaces, parameters: worked, want: Values{
		"half_angle": 25.89, "mouth_near": 16.50, "mouth_far": 49.50, "cheek_length": 37.79, "face_v_length": 34.64,
		"face_half_angle": 25.47, "shoulder_from_end": 36.14, "back_shift": 5.25, "back_shoulder_from_end": 41.38,
		"tip_proud": 6.61, "tip_depth": 20.90, "cheek_tilt": 4.78, "max_head_angle": 18.69,
	}},
	{family: "unequal-mitre", source: "independent construction", half: sixPlaces, parameters: Values{
		"width_a": 71, "width_b": 56, "corner_angle": 89,
	}, want: Values{
		"mitre_a": 51.120503, "mitre_b": 37.879497, "mitre_length": 91.204798,
	}},
	{family: "unequal-mitre", source: "worked example of the lesson", half: twoPlaces, parameters: workedMitre, want: Values{
		"mitre_a": 67.15, "mitre_b": 36.85, "mitre_length": 68.36,
	}},
	{family: "unequal-mitre", source: "regular frame of 7 in the lesson", half: twoPlaces, parameters: Values{
		"width_a": 52, "width_b": 52, "corner_angle": 180 - 360.0/7,
	}, want: Values{
		"mitre_a": 64.29, "mitre_b": 64.29, "mitre_length": 57.72,
	}},
	{family: "splayed-box", source: "independent construction", half: sixPlaces, parameters: Values{
		"sides": 8, "tilt": 42, "thickness": 13.5, "height": 120,
	}, want: Values{
		"face_angle": 15.491403, "mitre_bevel": 16.522342, "corner_angle": 146.955315, "slant_height": 161.475928,
	}},
	{family: "splayed-box", source: "worked example of the lesson", half: twoPlaces, parameters: workedBox, want: Values{
		"slant_height": 102.46, "face_angle": 20.54, "mitre_bevel": 40.97, "corner_angle": 98.07, "butt_bevel": 8.07,
	}},
	{family: "splayed-box", source: "second blank of the lesson", half: twoPlaces, some: true, parameters: Values{
		"sides": 7, "tilt": 33, "thickness": 11, "height": 95,
	}, want: Values{
		"face_angle": 14.70, "mitre_bevel": 21.34, "corner_angle": 137.32,
	}},
	{family: "coopered-vessel", source: "independent construction", half: sixPlaces, parameters: Values{
		"staves": 8, "top_diameter": 360, "bottom_diameter": 165, "height": 320, "thickness": 14,
	}, want: Values{
		"lean": 16.945323, "stave_length": 334.523915, "top_width": 149.116882, "bottom_width": 68.345238, "edge_bevel": 21.473360, "taper_angle": 6.883791,
	}},
	{family: "coopered-vessel", source: "worked example of the lesson", half: twoPlaces, parameters: workedVessel, want: Values{
		"lean": 12.76, "stave_length": 271.71, "top_width": 70.76, "bottom_width": 43.37, "taper_angle": 2.89, "edge_bevel": 12.53,
	}},
	{family: "splayed-leg", source: "independent construction", half: sixPlaces, parameters: Values{
		"height": 560, "rake": 14.5, "splay": 13, "top_spacing": 245, "stretcher_height": 245,
	}, want: Values{
		"resultant": 19.120125, "sightline": 41.755323, "leg_length": 592.696756, "foot_rake": 144.825847, "foot_splay": 129.286187,
		"stretcher_length": 390.446960, "stretcher_bevel": 77.400654, "drill_tilt": 70.879875,
	}},
	{family: "splayed-leg", source: "worked example of the lesson", half: twoPlaces, parameters: workedLeg, want: Values{
		"resultant": 12.70, "sightline": 30.38, "drill_tilt": 77.30, "leg_length": 440.78,
		"foot_rake": 83.58, "foot_splay": 48.99, "stretcher_length": 325.39, "stretcher_bevel": 83.62,
	}},
	{family: "hip-rafter", source: "independent construction", half: sixPlaces, parameters: Values{
		"rise": 5, "run": 12, "span": 5500,
	}, want: Values{
		"pitch_angle": 22.619865, "common_length": 2979.166667, "hip_length": 4054.372211, "hip_plumb": 73.583560, "backing_angle": 15.781179, "roof_dihedral": 148.437643,
	}},
	{family: "hip-rafter", source: "worked example of the lesson", half: twoPlaces, parameters: workedRoof, want: Values{
		"pitch_angle": 32.74, "common_length": 2734.26, "hip_length": 3572.98, "hip_plumb": 65.55, "backing_angle": 22.48, "roof_dihedral": 135.04,
	}},
}

func TestLayoutAgainstCheckValues(t *testing.T) {
	checked := map[string]bool{}
	for _, c := range checkValues {
		f, ok := Lookup(c.family)
		if !ok {
			t.Errorf("no family %s", c.family)
			continue
		}
		l, err := f.Layout(c.parameters)
		if err != nil || !l.Buildable() || !c.some && len(l.Quantities) != len(c.want) {
			t.Errorf("%s, %s: %v %v, %d quantities, want a buildable blank with %d", c.family, c.source, l.Problems, err, len(l.Quantities), len(c.want))
			continue
		}
		worst := 0.0
		for id, want := range c.want {
			got, has := l.Quantities[id]
			worst = max(worst, math.Abs(got-want))
			if !has || math.Abs(got-want) > c.half*1.001 {
				t.Errorf("%s, %s: %s = %.7f, want %.7f", c.family, c.source, id, got, want)
			}
		}
		checked[c.family] = true
		t.Logf("%s, %s: worst difference %.1e", c.family, c.source, worst)
	}
	for _, f := range All() {
		if !checked[f.ID] {
			t.Errorf("%s has no check values", f.ID)
		}
	}
}
