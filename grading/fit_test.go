package grading

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"arrisbook/geom/joint"
)

func TestFitOfAttempt(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	if r := Grade(ex, s, map[string]string{"half_angle": ""}, Millimetres); r.Fit != nil {
		t.Errorf("fit of no number = %+v, want none", r.Fit)
	}
	exact := Grade(ex, s, map[string]string{"half_angle": "atan((v_width/2)/v_length)"}, Millimetres)
	if exact.Fit == nil || exact.Fit.Word != "tight" {
		t.Fatalf("fit of right numbers = %+v, want tight", exact.Fit)
	}
	copied := Grade(ex, s, map[string]string{"half_angle": "25.89", "face_half_angle": "25.89", "tip_proud": "heavy"}, Millimetres)
	if copied.Fit == nil || copied.Fit.Word == "tight" {
		t.Fatalf("fit of the copied bevel = %+v, want worse than tight", copied.Fit)
	}
	for _, c := range ex.Family.Consequences {
		v, ok := copied.Fit.Consequences[c.ID]
		if _, isSpread := v.(joint.Spread); !ok || isSpread != c.Spread {
			t.Errorf("consequence %s = %v, want a spread: %v", c.ID, v, c.Spread)
		}
	}
	text, err := json.Marshal(copied.Fit)
	if err != nil {
		t.Fatal(err)
	}
	var back FitResult
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(&back, copied.Fit) {
		t.Errorf("fit through JSON = %+v (%v), want %+v", back, err, copied.Fit)
	}
	for _, bad := range []string{`[]`, `{"consequences":{"a":"x"}}`, `{"consequences":{"a":{"min":"x"}}}`} {
		if err := json.Unmarshal([]byte(bad), &back); err == nil {
			t.Errorf("Unmarshal(%s) = nil, want an error", bad)
		}
	}
}

func TestFitSays(t *testing.T) {
	f, _ := joint.Lookup("head-v-joint")
	b := func(least, most joint.Word) Band { return Band{Least: least, Most: most} }
	all := func(cheeks, near, far Band) Bands {
		return Bands{"near_cheek": cheeks, "far_cheek": cheeks, "near_shoulder": near, "far_shoulder": far}
	}
	tight := b(joint.Tight, joint.Tight)
	for _, row := range []struct {
		name     string
		bands    Bands
		headline string
		what     []string
	}{
		{"all tight", all(tight, tight, tight), "Tight: every surface goes home.",
			[]string{"Both cheeks touch all over.", "Both shoulders touch all over."}},
		{"near shoulder", all(tight, b(joint.Close, joint.Close), tight), "Close, not tight: the near shoulder stands off.",
			[]string{"Both cheeks touch all over.", "The near shoulder stands off all along: close.", "The far shoulder touches all over."}},
		{"both shoulders", all(b(joint.Tight, joint.Close), b(joint.Tight, joint.Open), b(joint.Tight, joint.Open)), "Open: both shoulders stand off.",
			[]string{"Both cheeks touch at one end and stand off at the other: close there.", "Both shoulders touch at one end and stand off at the other: open there."}},
		{"two of unlike", all(tight, b(joint.Tight, joint.Failed), b(joint.Close, joint.Failed)), "Failed: the near shoulder and the far shoulder stand off.",
			[]string{"Both cheeks touch all over.", "The near shoulder touches at one end and stands off at the other: failed there.", "The far shoulder stands off all along: close at one end, failed at the other."}},
		{"surface lost", Bands{"near_cheek": tight, "far_cheek": tight}, "Failed.", []string{"Both cheeks touch all over."}},
		{"nothing", Bands{}, "These numbers make no joint that could be put together.", nil},
	} {
		headline, what := FitSays(f, row.bands)
		if headline != row.headline || !reflect.DeepEqual(what, row.what) {
			t.Errorf("%s: FitSays = %q %q, want %q %q", row.name, headline, what, row.headline, row.what)
		}
		if strings.ContainsFunc(headline+strings.Join(what, ""), unicode.IsDigit) {
			t.Errorf("%s: FitSays holds a figure: %q %q", row.name, headline, what)
		}
	}
}

func TestFitBands(t *testing.T) {
	f, _ := joint.Lookup("head-v-joint")
	got := FitBands(f, &FitResult{Consequences: map[string]any{
		"travel": -0.3, "near_cheek": joint.Spread{Min: 0, Max: 0.1}, "far_cheek": joint.Spread{Min: 0.11, Max: 0.3},
		"near_shoulder": joint.Spread{Min: -0.2, Max: 0.05}, "far_shoulder": joint.Spread{Min: 0.6, Max: 0.9},
	}})
	want := Bands{
		"near_cheek": {joint.Tight, joint.Tight}, "far_cheek": {joint.Close, joint.Open},
		"near_shoulder": {joint.Tight, joint.Close}, "far_shoulder": {joint.Failed, joint.Failed},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("FitBands = %v, want %v", got, want)
	}
	if len(FitBands(f, nil)) != 0 || len(FitBands(nil, &FitResult{})) != 0 {
		t.Error("FitBands of nothing = something")
	}
}

// One number a surface: told by its word, with nothing about where it touches.
// A family without gaps is told by the word of its worst error.
func TestFitSaysOfPlainNumbers(t *testing.T) {
	for _, row := range []struct {
		name, family string
		fit          FitResult
		headline     string
		what         []string
	}{
		{"tight", "unequal-mitre", FitResult{Word: "tight", Consequences: map[string]any{"corner_made": 104.0, "length_step": 0.05, "gap": 0.1, "gap_side": 1.0}},
			"Tight: everything comes where it should.", []string{"Outer corner: tight.", "Mitre: tight."}},
		{"step, cut short", "unequal-mitre", FitResult{Word: "open", Consequences: map[string]any{"corner_made": 104.0, "length_step": -0.4, "gap": 0.2, "gap_side": 1.0}},
			"Open, by the outer corner.", []string{"Outer corner: open.", "Mitre: close."}},
		{"two alike", "splayed-box", FitResult{Word: "close", Consequences: map[string]any{"tilt_made": 22.0, "gap": 0.2, "gap_side": -1.0, "closing_gap": 0.25}},
			"Close, not tight, by the corner and the last joint.", []string{"Corner: close.", "Last joint: close."}},
		{"no last joint", "splayed-box", FitResult{Word: "failed", Consequences: map[string]any{"tilt_made": 22.0, "gap": 0.6, "gap_side": -1.0}},
			"Failed, by the corner.", []string{"Corner: failed."}},
		{"leg", "splayed-leg", FitResult{Word: "open", Consequences: map[string]any{"foot_error": 3.0, "height_error": -0.2}},
			"Open, by the foot.", []string{"Foot: open."}},
		{"leg too short", "splayed-leg", FitResult{Word: "close", Consequences: map[string]any{"foot_error": 0.2, "height_error": -2.0}},
			"Close, not tight, by the height.", []string{"Height: close."}},
		{"roof", "hip-rafter", FitResult{Word: "tight", Consequences: map[string]any{"ridge_error": 1.0}},
			"Tight: everything comes where it should.", []string{"Ridge: tight."}},
		{"no roof", "hip-rafter", FitResult{Word: "failed", Consequences: map[string]any{}},
			"These numbers make no joint that could be put together.", nil},
	} {
		f, _ := joint.Lookup(row.family)
		headline, what := FitSays(f, FitBands(f, &row.fit))
		if headline != row.headline || !reflect.DeepEqual(what, row.what) {
			t.Errorf("%s: FitSays = %q %q, want %q %q", row.name, headline, what, row.headline, row.what)
		}
	}
}

// A quantity that a joint does not have on a blank is not there for grading.
func TestQuantityThatDoesNotExist(t *testing.T) {
	for _, c := range []struct {
		sides float64
		want  bool
	}{{3, false}, {4, true}, {5, false}} {
		givens := func(id string) (float64, bool) { return c.sides, id == "sides" }
		if got := Exists("splayed-box", "butt_bevel", givens); got != c.want {
			t.Errorf("Exists(butt_bevel) of %g sides = %v, want %v", c.sides, got, c.want)
		}
	}
	if Exists("splayed-box", "butt_bevel", func(string) (float64, bool) { return 0, false }) {
		t.Error("Exists(butt_bevel) without givens = true, want false")
	}
	if !Exists("splayed-box", "face_angle", func(string) (float64, bool) { return 0, false }) {
		t.Error("Exists(face_angle) = false, want true: it always does")
	}
}
