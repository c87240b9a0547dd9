package joint

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// worked is the blank of the lesson's worked example.
var worked = Values{
	"thickness": 27, "width": 66, "v_length": 34, "v_width": 33,
	"head_angle": 11, "head_thickness": 17, "allowance": 1.5,
}

// The lesson on fitting prints, for its worked example: "A socket one degree
// too wide stops the tongue 1.46 short; one degree too narrow it leaves 0.66
// at the tip, square to the wall."
func TestFitAgainstTheLessonOnFitting(t *testing.T) {
	l, _ := headVJoint.Layout(worked)
	wide, _ := headVJoint.Fit(worked, Values{"half_angle": l.Quantities["half_angle"] + 1})
	if got := value(t, wide, "travel").Min; math.Abs(got+1.46) > 0.005 {
		t.Errorf("one degree too wide: travel %.4f, want -1.46", got)
	}
	narrow, _ := headVJoint.Fit(worked, Values{"half_angle": l.Quantities["half_angle"] - 1})
	if got := value(t, narrow, "near_cheek").Max; math.Abs(got-0.66) > 0.005 {
		t.Errorf("one degree too narrow: gap %.4f, want 0.66", got)
	}
	if got := value(t, narrow, "travel").Min; got != 0 {
		t.Errorf("one degree too narrow: travel %g, want 0: the shoulders are home", got)
	}
}

// By hand, where a slip moves planes without turning them: see each line.
func TestFitByHand(t *testing.T) {
	l, _ := headVJoint.Layout(worked)
	q := l.Quantities
	a := q["half_angle"] * math.Pi / 180
	tilt := 11 * math.Pi / 180
	for _, c := range []struct {
		id              string
		off             float64
		travel, lateral float64
		near, far       float64 // cheek gaps, the same all over
		shoulder        float64 // largest
	}{
		// The far wall gives way by off along the end: half of it is taken as play.
		{"mouth_far", 0.4, 0, 0.2, 0.2 * math.Cos(a), 0.2 * math.Cos(a), 0},
		{"mouth_near", -0.4, 0, -0.2, 0.2 * math.Cos(a), 0.2 * math.Cos(a), 0},
		// The mouth is too narrow by off: the tongue stops short by off/2/tan.
		{"mouth_far", -0.4, -0.2 / math.Tan(a), -0.2, 0, 0, 0.2 / math.Tan(a)},
		{"mouth_near", 0.4, -0.2 / math.Tan(a), 0.2, 0, 0, 0.2 / math.Tan(a)},
		// A tongue longer on the neck's face is longer along the head by the cosine.
		{"face_v_length", 0.4, -0.4 * math.Cos(tilt), 0, 0, 0, 0.4 * math.Cos(tilt)},
		{"face_v_length", -0.4, 0, 0, 0.4 * math.Cos(tilt) * math.Sin(a), 0.4 * math.Cos(tilt) * math.Sin(a), 0},
		// A shoulder leaning too far stands off at the back; too little, it
		// stops there.
		{"back_shift", 0.4, 0, 0, 0, 0, 0.4 * math.Cos(tilt)},
		{"back_shift", -0.4, -0.4 * math.Cos(tilt), 0, 0.4 * math.Cos(tilt) * math.Sin(a), 0.4 * math.Cos(tilt) * math.Sin(a), 0.4 * math.Cos(tilt)},
	} {
		f, err := headVJoint.Fit(worked, Values{c.id: q[c.id] + c.off})
		if err != nil {
			t.Fatal(err)
		}
		for id, want := range map[string]float64{
			"travel": c.travel, "lateral": c.lateral, "near_cheek": c.near, "far_cheek": c.far,
			"near_shoulder": c.shoulder, "far_shoulder": c.shoulder,
		} {
			if got := value(t, f, id).Max; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s off by %g: %s = %.9f, want %.9f", c.id, c.off, id, got, want)
			}
		}
	}
}

// Every way to fail has its sentence, none of which holds a figure that a
// student is asked for.
func TestBuildableRuleOfTheVJoint(t *testing.T) {
	checkRule(t, headVJoint, worked, []ruleCase{
		{"as it is", nil, nil},
		{"just wide enough", Values{"v_width": 56}, nil},
		{"mouth too wide", Values{"v_width": 56.5}, []string{"V is too wide"}},
		{"no tilt", Values{"head_angle": 0}, []string{"must be more than 0°"}},
		{"tilted forward", Values{"head_angle": -3}, []string{"head angle cannot be negative"}},
		{"tilted too far", Values{"head_angle": 18.7}, []string{"does not reach as deep"}},
		{"nearly too far", Values{"head_angle": 18.6}, nil},
		{"V too long", Values{"v_length": 60}, []string{"does not reach as deep"}},
		{"head too thick", Values{"head_thickness": 28}, []string{"thicker than the blank"}},
		{"head as thick as the blank", Values{"head_thickness": 27}, []string{"does not reach as deep"}},
		{"no wood", Values{"thickness": 0}, []string{"thickness must be more than nothing"}},
		{"negative V", Values{"v_length": -34}, []string{"V length must be more than nothing"}},
		{"a splinter", Values{"v_width": 0.5}, []string{"V width under 1 mm is too small"}},
		{"a tree", Values{"width": 5000}, []string{"width over 500 mm is beyond"}},
		{"nothing works", Values{"v_width": 80, "head_angle": 0}, []string{"V is too wide", "must be more than 0°"}},
		{"so thick that any tilt will do", Values{"thickness": 60, "head_angle": 30}, nil},
	})
}

// What has no value is left out; the rest is laid out all the same.
func TestQuantitiesWithoutAValue(t *testing.T) {
	all := len(headVJoint.Quantities)
	for _, c := range []struct {
		name   string
		with   Values
		want   int
		absent string
	}{
		{"wood thicker than the hypotenuse of V length and head", Values{"thickness": 38.02}, all - 1, "max_head_angle"},
		{"wood just as thick as that allows", Values{"thickness": 38.01}, all, ""},
		{"tilted too far", Values{"head_angle": 25}, all, ""},
		{"mouth wider than the blank", Values{"v_width": 70}, all, ""},
		{"V without a length", Values{"v_length": 0}, 3, "half_angle"},
		{"head turned right back", Values{"head_angle": 90}, 1, "face_v_length"},
		{"absurd", Values{"width": 1e300}, 0, "half_angle"},
	} {
		l, err := headVJoint.Layout(with(worked, c.with))
		if err != nil {
			t.Fatal(err)
		}
		_, has := l.Quantities[c.absent]
		if len(l.Quantities) != c.want || has {
			t.Errorf("%s: %v, want %d quantities without %s", c.name, l.Quantities, c.want, c.absent)
		}
	}
}

// max_head_angle is the tilt at which tip_depth is the head's thickness: laid
// out again with it, the two agree.
func TestLargestHeadAngleGivesThatDepth(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for i := 0; i < 500; i++ {
		p := randomBlankOf(headVJoint, rng)
		l, _ := headVJoint.Layout(p)
		most, ok := l.Quantities["max_head_angle"]
		if !ok {
			continue
		}
		again, _ := headVJoint.Layout(with(p, Values{"head_angle": most}))
		if got := again.Quantities["tip_depth"]; math.Abs(got-p["head_thickness"]) > 1e-9 {
			t.Errorf("%v: at its largest head angle tip_depth is %g, want %g", p, got, p["head_thickness"])
		}
	}
}

func ExampleFamily_Fit() {
	f, _ := Lookup("head-v-joint")
	l, _ := f.Layout(f.House)
	// The bevel copied from the head on to the neck.
	fit, _ := f.Fit(f.House, Values{"face_half_angle": l.Quantities["half_angle"]})
	worst, _ := fit.Worst()
	fmt.Printf("%s: up to %.2f mm at the %s\n", fit.Word, worst.Value.Max, worst.Name)
	// Output: failed: up to 0.68 mm at the near shoulder
}
