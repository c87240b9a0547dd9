package grading

import (
	"testing"

	"arrisbook/geom/joint"
)

// headVJointSpec is the exercise of the V joint as its module states it.
func headVJointSpec() Spec {
	in := func(id, from, to, by string) GivenSpec { return GivenSpec{ID: id, From: from, To: to, By: by} }
	return Spec{
		ID: "head-v-joint", Title: "Head V joint", Module: "head-v-joint", Version: 1, Family: "head-v-joint",
		Givens: []GivenSpec{
			in("thickness", "24", "32", "0.5"), in("width", "58", "80", "0.5"),
			in("v_length", "28", "44", "0.5"), in("v_width", "28", "42", "0.5"),
			in("head_angle", "7.5", "14", "0.5"), in("head_thickness", "14", "19", "0.5"),
			in("allowance", "0.5", "2", "0.5"),
		},
		InchGivens: []GivenSpec{
			in("thickness", "15/16", "1 1/4", "1/16"), in("width", "2 1/4", "3 1/8", "1/16"),
			in("v_length", "1 1/8", "1 3/4", "1/16"), in("v_width", "1 1/8", "1 5/8", "1/16"),
			in("head_thickness", "9/16", "3/4", "1/16"), in("allowance", "1/16", "1/16", "1/16"),
		},
		Keep: []string{
			"thickness <= v_length", "tip_depth >= head_thickness + 1", "v_width <= width - 16",
			"half_angle >= 20", "half_angle <= 34", "head_angle <= max_head_angle - 0.5",
		},
		Steps: []StepSpec{
			{ID: "half_angle", Skill: "E", View: "head"},
			{ID: "mouth_near", Skill: "C", View: "head"},
			{ID: "mouth_far", Carries: []string{"mouth_near"}, Skill: "C", View: "head"},
			{ID: "cheek_length", Skill: "F", View: "head"},
			{ID: "face_v_length", Skill: "F", View: "neck"},
			{ID: "face_half_angle", Carries: []string{"face_v_length"}, Skill: "E", View: "neck"},
			{ID: "shoulder_from_end", Carries: []string{"face_v_length"}, Skill: "L", View: "neck"},
			{ID: "back_shift", Skill: "F", View: "joined"},
			{ID: "back_shoulder_from_end", Carries: []string{"shoulder_from_end", "back_shift"}, Skill: "I", View: "joined"},
			{ID: "tip_proud", Skill: "F", View: "joined"},
			{ID: "tip_depth", Carries: []string{"tip_proud"}, Skill: "L", View: "joined"},
			{ID: "cheek_tilt", Carries: []string{"half_angle"}, Skill: "J", View: "neck"},
			{ID: "max_head_angle", Skill: "J", View: "joined"},
		},
		Harmless: headVJointHarmless,
	}
}

// headVJointHarmless are the slips that come out as good approximations at
// these angles, and rounding on the way, which by its nature may move a number
// by anything from nothing to half a millimetre.
var headVJointHarmless = []HarmlessSpec{
	{Step: "cheek_tilt", Pattern: "wrong-function", Detail: "atan for asin"},
	{Step: "cheek_tilt", Pattern: "wrong-function", Detail: "tan for sin of head_angle"},
	{Step: "cheek_tilt", Pattern: "slope-for-run", Detail: "tan for sin"},
	{Step: "back_shift", Pattern: "wrong-function", Detail: "sin for tan"},
	{Step: "back_shift", Pattern: "slope-for-run", Detail: "sin for tan"},
	{Step: "back_shoulder_from_end", Pattern: "wrong-function", Detail: "sin for tan"},
	{Step: "back_shoulder_from_end", Pattern: "slope-for-run", Detail: "sin for tan"},
	{Step: "tip_proud", Pattern: "wrong-function", Detail: "sin for tan"},
	{Step: "tip_proud", Pattern: "slope-for-run", Detail: "sin for tan"},
	{Step: "tip_depth", Pattern: "wrong-function", Detail: "sin for tan"},
	{Step: "tip_depth", Pattern: "slope-for-run", Detail: "sin for tan"},
	{Pattern: "rounded-early", Detail: "*"},
}

// headV makes that exercise.
func headV(t testing.TB) *Exercise {
	t.Helper()
	return mustExercise(t, headVJointSpec())
}

func mustExercise(t testing.TB, s Spec) *Exercise {
	t.Helper()
	ex, faults := NewExercise(s)
	for _, f := range faults {
		t.Error(f)
	}
	if ex == nil {
		t.FailNow()
	}
	return ex
}

// worked is the blank of the module's worked example.
var worked = joint.Values{
	"thickness": 27, "width": 66, "v_length": 34, "v_width": 33, "head_angle": 11, "head_thickness": 17, "allowance": 1.5,
}
