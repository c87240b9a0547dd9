package grading

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// handWritten are wrong formulas written down one by one, without the patterns:
// what somebody does on paper, and the pattern that should be named for it.
const handWritten = `
half_angle: atan(v_width/v_length) half-forgotten
half_angle: atan(v_length/(v_width/2)) ratio-inverted
half_angle: asin((v_width/2)/v_length) wrong-function
half_angle: acos((v_width/2)/v_length) wrong-function
half_angle: (v_width/2)/v_length inverse-missing
half_angle: atan((v_width/4)/v_length) halved-twice
half_angle: atan((v_width/2)/thickness) wrong-measure
half_angle: atan((head_thickness/2)/v_length) wrong-measure
half_angle: 90 - half_angle complement
half_angle: 180 - half_angle supplement
half_angle: half_angle*2 double
half_angle: half_angle*pi/180 radians
half_angle: face_half_angle other-quantity
mouth_near: width - v_width half-forgotten
mouth_near: (width + v_width)/2 sign-flipped
mouth_near: width - (width - v_width)/2 far-edge
mouth_near: (thickness - v_width)/2 wrong-measure
mouth_near: (width - v_length)/2 wrong-measure
mouth_near: (width - v_width/2)/2 one-sided
mouth_near: (width - v_width)/4 halved-twice
mouth_near: mouth_near/25.4 inches-as-mm
mouth_near: mouth_near*25.4 mm-as-inches
mouth_near: mouth_near + 10 rule-from-one
mouth_far: width + v_width half-forgotten
mouth_far: (width - v_width)/2 sign-flipped
mouth_far: (width + v_length)/2 wrong-measure
mouth_far: mouth_far/10 decimal-shift
cheek_length: sqrt(v_length^2 + v_width^2) half-forgotten
cheek_length: v_length + v_width/2 added-for-multiplied
cheek_length: sqrt(v_length^2 - (v_width/2)^2) sign-flipped
cheek_length: v_length slope-for-run
cheek_length: v_width/2 slope-for-run
cheek_length: sqrt(thickness^2 + (v_width/2)^2) wrong-measure
cheek_length: sqrt(v_length^2 + (v_width/4)^2) halved-twice
face_v_length: v_length tilt-ignored
face_v_length: v_length*cos(head_angle) factor-inverted
face_v_length: v_length/sin(head_angle) wrong-function
face_v_length: v_length/tan(head_angle) wrong-function
face_v_length: v_length/cos(head_angle*180/pi) radian-mode
face_v_length: v_width/cos(head_angle) wrong-measure
face_v_length: v_length - cos(head_angle) added-for-multiplied
face_half_angle: half_angle tilt-ignored
face_half_angle: half_angle other-quantity
face_half_angle: atan(v_width/face_v_length) half-forgotten
face_half_angle: atan(face_v_length/(v_width/2)) ratio-inverted
face_half_angle: atan((v_width/2)/(v_length*cos(head_angle))) factor-inverted
face_half_angle: asin((v_width/2)/face_v_length) wrong-function
face_half_angle: (v_width/2)/face_v_length inverse-missing
shoulder_from_end: face_v_length allowance-forgotten
shoulder_from_end: face_v_length - allowance allowance-subtracted
shoulder_from_end: v_length + allowance tilt-ignored
shoulder_from_end: v_length*cos(head_angle) + allowance factor-inverted
shoulder_from_end: v_length/sin(head_angle) + allowance wrong-function
back_shift: thickness/tan(head_angle) factor-inverted
back_shift: thickness*cos(head_angle) wrong-function
back_shift: head_thickness*tan(head_angle) wrong-measure
back_shift: v_length*tan(head_angle) wrong-measure
back_shift: v_length*tan(head_angle) other-quantity
back_shift: thickness*tan(head_angle*180/pi) radian-mode
back_shift: back_shift*2 double
back_shoulder_from_end: shoulder_from_end - back_shift sign-flipped
back_shoulder_from_end: shoulder_from_end tilt-ignored
back_shoulder_from_end: face_v_length + back_shift allowance-forgotten
back_shoulder_from_end: face_v_length - allowance + back_shift allowance-subtracted
back_shoulder_from_end: v_length + allowance + back_shift tilt-ignored
back_shoulder_from_end: shoulder_from_end + thickness/tan(head_angle) factor-inverted
tip_proud: v_length/tan(head_angle) factor-inverted
tip_proud: v_length*cos(head_angle) wrong-function
tip_proud: thickness*tan(head_angle) wrong-measure
tip_proud: v_width*tan(head_angle) wrong-measure
tip_proud: tip_proud/2 half
tip_depth: thickness - tip_proud tilt-ignored
tip_depth: thickness/cos(head_angle) + tip_proud sign-flipped
tip_depth: thickness*cos(head_angle) - tip_proud factor-inverted
tip_depth: thickness/sin(head_angle) - tip_proud wrong-function
tip_depth: thickness/cos(head_angle) tilt-ignored
tip_depth: head_thickness/cos(head_angle) - tip_proud wrong-measure
tip_depth: thickness/cos(head_angle) - thickness*tan(head_angle) wrong-measure
cheek_tilt: head_angle wrong-measure
cheek_tilt: asin(cos(half_angle)*sin(head_angle)) wrong-function
cheek_tilt: asin(tan(half_angle)*sin(head_angle)) wrong-function
cheek_tilt: acos(sin(half_angle)*sin(head_angle)) wrong-function
cheek_tilt: acos(sin(half_angle)*sin(head_angle)) complement
cheek_tilt: sin(half_angle)*sin(head_angle) inverse-missing
cheek_tilt: asin(sin(atan(v_width/v_length))*sin(head_angle)) half-forgotten
cheek_tilt: cheek_tilt*2 double
max_head_angle: asin(thickness/sqrt(v_length^2 + head_thickness^2)) + atan(head_thickness/v_length) sign-flipped
max_head_angle: asin(thickness/sqrt(v_length^2 + head_thickness^2)) - atan(v_length/head_thickness) ratio-inverted
max_head_angle: acos(thickness/sqrt(v_length^2 + head_thickness^2)) - atan(head_thickness/v_length) wrong-function
max_head_angle: asin(thickness/sqrt(v_length^2 + head_thickness^2)) - asin(head_thickness/v_length) wrong-function
max_head_angle: asin(thickness/v_length) - atan(head_thickness/v_length) slope-for-run
max_head_angle: 90 - max_head_angle complement
`

// A slip made on paper, written to 0.01, is named by its pattern, first or
// beside the first.
func TestHandWrittenSlipsAreNamed(t *testing.T) {
	ex := headV(t)
	all, named := 0, 0
	for seed := range uint64(40) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(strings.TrimSpace(handWritten), "\n") {
			step, wrong, _ := strings.Cut(line, ": ")
			cut := strings.LastIndexByte(wrong, ' ')
			v, ok := byHand(t, ex, s, wrong[:cut])
			if !ok {
				continue // no value on this blank
			}
			r := graded(ex, s, step, strconv.FormatFloat(v, 'f', 2, 64))
			all++
			if r.Verdict == Wrong && slices.Contains(names(r), wrong[cut+1:]) {
				named++
				continue
			}
			t.Errorf("seed %d: %s = %.2f (%s) is %s %v", seed, step, v, wrong, r.Verdict, names(r))
		}
	}
	t.Logf("%d of %d slips named", named, all)
	if all < 3000 {
		t.Errorf("%d slips tried, want at least 3000", all)
	}
}

// byHand works a formula out over the givens and the right quantities.
func byHand(t *testing.T, ex *Exercise, s Sheet, text string) (float64, bool) {
	t.Helper()
	l, err := ex.Family.Layout(s.Parameters)
	if err != nil {
		t.Fatal(err)
	}
	v, err := formula.MustParse(text).Eval(func(id string) (float64, bool) {
		if v, ok := l.Parameters[id]; ok {
			return v, true
		}
		v, ok := l.Quantities[id]
		return v, ok
	})
	return v, err == nil
}

// Two slips together are told from an answer written finely; each of them is
// named.
func TestTwoSlipsTogether(t *testing.T) {
	ex := headV(t)
	all, named := 0, 0
	for seed := range uint64(12) {
		s, err := Generate(ex, seed, DefaultShop())
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range []struct{ step, wrong, one, other string }{
			{"half_angle", "90 - atan(v_width/v_length)", "half-forgotten", "complement"},
			{"half_angle", "atan(v_width/v_length)*pi/180", "half-forgotten", "radians"},
			{"mouth_near", "width - (width - v_width/2)/2", "one-sided", "far-edge"},
			{"face_v_length", "v_length*cos(head_angle)/25.4", "factor-inverted", "inches-as-mm"},
			{"tip_depth", "thickness*cos(head_angle) + tip_proud", "factor-inverted", "sign-flipped"},
			{"back_shoulder_from_end", "face_v_length - back_shift", "allowance-forgotten", "sign-flipped"},
			{"cheek_tilt", "90 - asin(cos(half_angle)*sin(head_angle))", "wrong-function", "complement"},
		} {
			v, _ := byHand(t, ex, s, row.wrong)
			r := graded(ex, s, row.step, strconv.FormatFloat(v, 'f', 5, 64))
			if r.Verdict != Wrong {
				continue
			}
			all++
			if slices.Contains(names(r), row.one) && slices.Contains(names(r), row.other) {
				named++
			} else {
				t.Logf("seed %d: %s = %v (%s) names %v %+v", seed, row.step, v, row.wrong, names(r), r.Pattern)
			}
			if r.Pattern != nil {
				checkHint(t, r.Pattern.ID, r.Pattern.Says)
			}
		}
	}
	if named*100 < all*85 || all < 70 {
		t.Errorf("%d of %d double slips named, want at least 85 in 100 of 70", named, all)
	}
}

// Numbers that mean nothing are accused once in a hundred times at most when
// they are written to 0.01.
func TestNoiseIsNotAccused(t *testing.T) {
	ex := headV(t)
	s := newStream(9)
	for _, row := range []struct {
		decimals int
		most     float64
	}{{2, 0.01}, {3, 0.01}, {5, 0.01}} {
		wrong, accused := 0, 0
		for seed := range uint64(60) {
			sheet, err := Generate(ex, seed, DefaultShop())
			if err != nil {
				t.Fatal(err)
			}
			for id, k := range Key(ex, sheet.Parameters) {
				for range 10 {
					v := k * float64(s.below(2_000_000)) / 1e6
					r := graded(ex, sheet, id, strconv.FormatFloat(v, 'f', row.decimals, 64))
					if r.Verdict == Wrong {
						wrong++
						if r.Pattern != nil {
							accused++
						}
					}
				}
			}
		}
		t.Logf("written to %d decimals: %d of %d accused", row.decimals, accused, wrong)
		if float64(accused) > row.most*float64(wrong) {
			t.Errorf("written to %d decimals: %d of %d accused, want at most %v", row.decimals, accused, wrong, row.most)
		}
	}
}

// An instructor's own pattern comes before the program's.
func TestOwnPatternComesFirst(t *testing.T) {
	spec := headVJointSpec()
	spec.Patterns = []PatternSpec{{ID: "whole-mouth", Step: "half_angle", Hint: "From cheek to cheek?", Formula: "atan(v_width/v_length)"}}
	ex := mustExercise(t, spec)
	r := graded(ex, onWorked(t, ex), "half_angle", "44.14")
	if r.Pattern == nil || r.Pattern.ID != "whole-mouth" || r.Pattern.Says != "From cheek to cheek?" || !contains(names(r), "half-forgotten") {
		t.Errorf("Grade names %+v %v, want the exercise's own pattern first", r.Pattern, names(r))
	}
	p := Patterns(ex, Sheet{Parameters: joint.Values(worked)}, "half_angle")
	if len(p) == 0 || p[0].ID != "whole-mouth" {
		t.Errorf("Patterns = %+v, want the exercise's own first", p)
	}
}
