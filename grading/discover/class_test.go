package discover_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"sync"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/discover"
	"arrisbook/grading/formula"
	"arrisbook/lessons"
)

// planted are wrong formulas that no error pattern names, for lengths and
// angles of every family.
var planted = []struct{ exercise, step, formula string }{
	{"through-dovetail", "tail_width", "width/(tails + 1) + half_pin"},
	{"through-dovetail", "pin_wide", "pin + pin_thickness/2"},
	{"through-dovetail", "tail_at_baseline", "width/tails - pin_thickness/2"},
	{"through-dovetail", "slope_angle", "atan(pin/(2*tail_thickness))"},
	{"through-dovetail", "bevel_from_end", "90 - atan(2*pin/pin_thickness)"},
	{"lapped-dovetail", "tail_baseline", "hypot(pin_thickness, tail_thickness)"},
	{"lapped-dovetail", "tail_width", "width/tails - 2*half_pin"},
	{"lapped-dovetail", "second_tail_start", "width/(tails - 1) + half_pin"},
	{"lapped-dovetail", "slope_angle", "asin(lap/(pin_thickness - lap))"},
	{"angled-lap", "shoulder_spacing", "hypot(width_b, width_a)"},
	{"angled-lap", "shoulder_skew", "width_a - width_b*cos(crossing_angle)"},
	{"angled-lap", "shoulder_line", "width_a/sin(crossing_angle) + thickness"},
	{"angled-lap", "shoulder_bevel", "90 - crossing_angle/2"},
	{"unequal-mitre", "mitre_a", "atan(width_a/(width_a + width_b))"},
	{"unequal-mitre", "mitre_b", "(corner_angle + atan(width_b/width_a))/2"},
	{"unequal-mitre", "mitre_length", "(width_a + width_b)/sin(corner_angle)"},
	{"angled-tenon", "splay_angle", "atan((front_width - back_width)/(depth + leg))"},
	{"angled-tenon", "shoulder_bevel", "90 - asin((front_width - back_width)/(depth - leg))"},
	{"angled-tenon", "shoulder_length", "hypot(depth, front_width - back_width) + leg"},
	{"angled-tenon", "shoulder_length", "depth + leg/2"},
	{"head-scarf", "face_run", "(thickness + head_thickness)/sin(head_angle)"},
	{"head-scarf", "slope_length", "hypot(width, thickness/tan(head_angle))"},
	{"head-scarf", "kerf_on_face", "kerf/sin(2*head_angle)"},
	{"head-scarf", "head_run", "(thickness - head_thickness)/tan(head_angle)"},
	{"head-v-joint", "half_angle", "atan(v_width/(v_length + head_thickness))"},
	{"head-v-joint", "face_half_angle", "atan(v_width/(2*v_length + thickness))"},
	{"head-v-joint", "mouth_near", "(width - v_length)/2 + head_thickness"},
	{"head-v-joint", "cheek_length", "hypot(v_length, v_width + head_thickness)"},
	{"head-v-joint", "face_v_length", "v_length + 2*thickness*sin(head_angle)"},
	{"head-v-joint", "tip_proud", "(v_length + head_thickness)*sin(head_angle)"},
	{"splayed-leg", "foot_rake", "height*tan(rake + splay)"},
	{"splayed-leg", "stretcher_length", "top_spacing + stretcher_height*sin(splay)"},
	{"splayed-leg", "leg_length", "(height - stretcher_height)/cos(rake + splay)"},
	{"splayed-leg", "resultant", "(rake + splay)/2"},
	{"splayed-leg", "sightline", "90 - rake - splay"},
	{"splayed-box", "slant_height", "height/cos(tilt) + 2*thickness"},
	{"splayed-box", "face_angle", "atan(tan(180/sides)*tan(tilt)/2)"},
	{"splayed-box", "mitre_bevel", "180/sides - tilt/2"},
	{"splayed-box", "corner_angle", "180 - 180/sides + tilt"},
	{"coopered-vessel", "lean", "atan((top_diameter - bottom_diameter)/(height + bottom_diameter))"},
	{"coopered-vessel", "stave_length", "hypot(height, top_diameter)"},
	{"coopered-vessel", "top_width", "(top_diameter + bottom_diameter)/staves"},
	{"coopered-vessel", "edge_bevel", "90 - 360/staves"},
	{"hip-rafter", "common_length", "span*rise/run"},
	{"hip-rafter", "hip_length", "hypot(span, span*rise/run)"},
	{"hip-rafter", "pitch_angle", "atan(rise/(2*run))"},
}

var shipped = sync.OnceValue(func() map[string]*grading.Exercise {
	library, err := lessons.Shipped()
	if err != nil {
		panic(err)
	}
	all := map[string]*grading.Exercise{}
	for _, m := range library.Modules {
		for _, ex := range m.Exercises {
			all[ex.ID] = ex
		}
	}
	return all
})

// blanks are sheets of an exercise to draw classes from.
type blanks struct {
	ex     *grading.Exercise
	sheets []joint.Values
}

var drawn sync.Map // of exercise id: func() blanks

// blanksOf draws the blanks of an exercise once.
func blanksOf(t testing.TB, id string) blanks {
	t.Helper()
	made, _ := drawn.LoadOrStore(id, sync.OnceValue(func() blanks {
		b := blanks{ex: shipped()[id]}
		for seed := range uint64(150) {
			if s, err := grading.Generate(b.ex, seed, grading.DefaultShop()); err == nil {
				b.sheets = append(b.sheets, s.Parameters)
			}
		}
		return b
	}))
	b := made.(func() blanks)()
	if len(b.sheets) < 100 {
		t.Fatalf("%d blanks of %s, want 100", len(b.sheets), id)
	}
	return b
}

func value(f formula.Formula, p joint.Values) float64 {
	v, err := f.Eval(func(id string) (float64, bool) { v, ok := p[id]; return v, ok })
	if err != nil {
		return math.NaN()
	}
	return v
}

// noise is an answer that means nothing: anything between a third and three
// times the key, as a student might write it.
func noise(key float64, rnd *rand.Rand) float64 {
	return key * math.Exp((rnd.Float64()*2-1)*math.Log(3))
}

// judged gives an answer written to so many decimals.
func judged(t testing.TB, ex *grading.Exercise, step string, p joint.Values, v float64, decimals int) discover.Answer {
	t.Helper()
	a, err := discover.Judge(ex, step, p, strconv.FormatFloat(v, 'f', decimals, 64), grading.Millimetres)
	if err != nil {
		t.Fatalf("Judge(%s, %s, %v) = %v, want none", ex.ID, step, p, err)
	}
	return a
}

// classOf makes a class in which some follow a wrong formula, some are right and
// the rest write what means nothing, in no order.
func classOf(t testing.TB, id, step string, wrong formula.Formula, r room, rnd *rand.Rand) discover.Problem {
	b := blanksOf(t, id)
	p := discover.Problem{Exercise: b.ex, Step: step}
	for i := range r.n {
		blank := b.sheets[rnd.IntN(len(b.sheets))]
		key := grading.Key(b.ex, blank)[step]
		v := noise(key, rnd)
		switch {
		case i < r.follow:
			v = value(wrong, blank)
		case i < r.follow+r.right:
			v = key
		}
		p.Answers = append(p.Answers, judged(t, b.ex, step, blank, v, 1+r.decimals))
	}
	rnd.Shuffle(r.n, func(i, j int) { p.Answers[i], p.Answers[j] = p.Answers[j], p.Answers[i] })
	return p
}
