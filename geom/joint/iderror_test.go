package joint

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestIDErrors(t *testing.T) {
	without := with(worked, nil)
	delete(without, "v_length")
	for _, c := range []struct {
		name                  string
		parameters, submitted Values
		want                  string
	}{
		{"unknown parameter", with(worked, Values{"v_lenght": 3}), nil, "v_lenght is not a parameter of head-v-joint: did you mean v_length?"},
		{"quantity among parameters", with(worked, Values{"tip_depth": 3}), nil, "tip_depth is not a parameter of head-v-joint"},
		{"two unknown: the first by alphabet", with(worked, Values{"zzzzzzzzz": 3, "aaaaaaaaa": 3}), nil, "aaaaaaaaa is not a parameter of head-v-joint"},
		{"missing parameter", without, nil, "v_length is missing"},
		{"nothing at all", nil, nil, "thickness is missing"},
		{"not a number", with(worked, Values{"width": math.NaN()}), nil, "width has no usable number"},
		{"without end", with(worked, Values{"width": math.Inf(-1)}), nil, "width has no usable number"},
		{"unknown quantity", worked, Values{"half_angel": 3}, "half_angel is not a quantity of head-v-joint: did you mean half_angle?"},
		{"parameter among quantities", worked, Values{"width": 3}, "width is not a quantity of head-v-joint"},
		{"quantity not a number", worked, Values{"half_angle": math.Inf(1)}, "half_angle has no usable number"},
	} {
		_, err := headVJoint.Fit(c.parameters, c.submitted)
		var id *IDError
		if !errors.As(err, &id) || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	ids := headVJoint.quantityIDs()
	for _, c := range []struct{ text, want string }{
		{"half_angle", "half_angle"}, {"halfangle", "half_angle"}, {"hlaf_angle", "half_angle"},
		{"HALF_ANGLE", ""}, {"mouth-near", "mouth_near"}, {"mouthfar", "mouth_far"},
		{"back_shft", "back_shift"}, {"tip-prod", "tip_proud"}, {"wing_span", ""}, {"", ""},
		{strings.Repeat("half_angle", 50), ""},
	} {
		if got := Nearest(c.text, ids); got != c.want {
			t.Errorf("Nearest(%.20q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestWords(t *testing.T) {
	for _, c := range []struct {
		gap  float64
		want Word
	}{
		{-1, Tight}, {0, Tight}, {0.1, Tight}, {0.1 + 1e-12, Tight}, {0.101, Close}, {0.25, Close},
		{0.26, Open}, {0.5, Open}, {0.51, Failed}, {math.Inf(1), Failed}, {math.NaN(), Failed},
	} {
		if got := WordOf(c.gap); got != c.want {
			t.Errorf("WordOf(%g) = %v, want %v", c.gap, got, c.want)
		}
	}
	for w := Tight; w <= Failed; w++ {
		if got, ok := ParseWord(w.String()); !ok || got != w {
			t.Errorf("ParseWord(%v) = %v %v", w, got, ok)
		}
	}
	if _, ok := ParseWord("snug"); ok {
		t.Error("ParseWord(snug): ok, want none")
	}
	if got := Word(7).String(); got != "no fit word" || !math.IsInf(Word(7).Limit(), 1) {
		t.Errorf("Word(7) = %q", got)
	}
}
