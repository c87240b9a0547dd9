package grading

import (
	"errors"
	"math"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

// A tolerance that an instructor sets is what the number is judged by, and the
// sheet says whose it is.
func TestOverride(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	set, err := Override(ex, s, map[string]float64{"half_angle": 0.5, "not_asked": 1}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	key := Key(ex, s.Parameters)["half_angle"]
	for _, row := range []struct {
		off         float64
		before, now Verdict
	}{{0.45, Wrong, Right}, {0.9, Wrong, Near}, {1.1, Wrong, Wrong}, {0.01, Right, Right}} {
		text := plainDigits(key+row.off, 6)
		if got := graded(ex, s, "half_angle", text).Verdict; got != row.before {
			t.Errorf("%s by the shop's tolerance is %s, want %s", text, got, row.before)
		}
		if got := graded(ex, set, "half_angle", text).Verdict; got != row.now {
			t.Errorf("%s by the tolerance set is %s, want %s", text, got, row.now)
		}
	}
	for i, st := range set.Steps {
		if st.ID != "half_angle" && st != s.Steps[i] {
			t.Errorf("%s changed to %+v, want %+v", st.ID, st, s.Steps[i])
		}
		if st.ID == "half_angle" && st.Why != "Your instructor has set 0.5° for this number." {
			t.Errorf("why = %q, want that the instructor set it", st.Why)
		}
	}
	if s.Steps[0].Tolerance == 0.5 {
		t.Error("Override changed the sheet it was given")
	}
	wide, err := Override(ex, s, map[string]float64{"face_half_angle": 3}, DefaultShop())
	if err != nil || !wide.step("face_half_angle").Undiagnosed || s.step("face_half_angle").Undiagnosed {
		t.Errorf("with 3° the half angle of the head passes for that of the face (%v): want the step marked", err)
	}
	for _, bad := range []float64{0, -1, 5.1, math.NaN(), math.Inf(1)} {
		var in *InputError
		if _, err := Override(ex, s, map[string]float64{"half_angle": bad}, DefaultShop()); !errors.As(err, &in) || in.Field != "half_angle" {
			t.Errorf("Override(%v) = %v, want an InputError for half_angle", bad, err)
		}
	}
}

func (s Sheet) step(id string) SheetStep {
	for _, st := range s.Steps {
		if st.ID == id {
			return st
		}
	}
	return SheetStep{}
}

// What a tolerance means is what the fit itself says of a number that far off.
func TestMeansIsTheFit(t *testing.T) {
	ex := headV(t)
	s := onWorked(t, ex)
	key := Key(ex, s.Parameters)
	for _, st := range s.Steps {
		for _, tol := range []float64{0.05, 0.2, 0.5, 2} {
			mean, err := Means(ex, s, st.ID, tol, DefaultShop())
			if err != nil {
				t.Fatal(err)
			}
			worst, gap := joint.Tight, 0.0
			for _, side := range []float64{-tol, tol} {
				f, err := ex.Family.Fit(s.Parameters, joint.Values{st.ID: key[st.ID] + side})
				if err != nil {
					t.Fatal(err)
				}
				worst = max(worst, f.Word)
				for _, o := range f.Outcomes {
					if o.Gap {
						gap = max(gap, math.Abs(o.Value.Min), math.Abs(o.Value.Max))
					}
				}
			}
			if mean.Word != worst || mean.Depends && mean.Outcome != "" && math.Abs(mean.Size-gap) > 1e-9 {
				t.Errorf("Means(%s, %v) = %s %v, want %s %v", st.ID, tol, mean.Word, mean.Size, worst, gap)
			}
		}
	}
}

func TestMeansSays(t *testing.T) {
	ex := headV(t)
	own := mustExercise(t, plank())
	plankSheet, err := OnBlank(own, joint.Values{"length": 350, "width": 62}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	scarf := mustExercise(t, Spec{ID: "s", Family: "head-scarf", Givens: []GivenSpec{
		{ID: "thickness", Only: []string{"21"}}, {ID: "width", Only: []string{"57"}}, {ID: "head_angle", Only: []string{"12"}},
		{ID: "kerf", Only: []string{"1.2"}}, {ID: "head_thickness", Only: []string{"13.5"}}}})
	scarfSheet, err := OnBlank(scarf, joint.Values{"thickness": 21, "width": 57, "head_angle": 12, "kerf": 1.2, "head_thickness": 13.5}, DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	head := onWorked(t, ex)
	for _, row := range []struct {
		ex    *Exercise
		sheet Sheet
		step  string
		tol   float64
		units Units
		want  string
	}{
		{ex, head, "cheek_tilt", 0.5, Millimetres, "0.5° here lets the near shoulder stand off up to 0.54 mm: failed."},
		{ex, head, "tip_proud", 0.5, Millimetres, "No gap depends on this number: with 0.5 mm the joint still closes."},
		{ex, head, "mouth_near", 0.01, Millimetres, "The class's tools set no finer than 0.05 mm."},
		{ex, head, "face_half_angle", 0.22, Millimetres, "One known slip would then pass on this blank: the half angle is worked out."},
		{ex, head, "face_half_angle", 0.5, Millimetres, "3 known slips would then pass on this blank, the first of them: the half angle is worked out."},
		{ex, head, "back_shift", 0.3, Inches, " in: open."},
		{own, plankSheet, "face", 20, Millimetres, "No joint is built from this number: how far off it may be is for you to say."},
		{scarf, scarfSheet, "face_run", 2, Millimetres, "2 mm here lets the height of the head's tip come to 0.74 mm: "},
		{scarf, scarfSheet, "glue_area", 30, Millimetres, "No gap depends on this number"},
	} {
		mean, err := Means(row.ex, row.sheet, row.step, row.tol, ShopFor(row.units))
		if err != nil || !strings.Contains(mean.Says, row.want) {
			t.Errorf("Means(%s, %v) = %q, %v, want %q in it", row.step, row.tol, mean.Says, err, row.want)
		}
	}
	var in *InputError
	if _, err := Means(ex, head, "nonsense", 1, DefaultShop()); !errors.As(err, &in) {
		t.Errorf("Means(nonsense) = %v, want an InputError", err)
	}
}
