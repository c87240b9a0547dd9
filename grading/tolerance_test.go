package grading

import (
	"math"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

// Whatever a tolerance that comes from the fit allows keeps every gap tight,
// and a tenth more does not.
func TestToleranceKeepsTheFit(t *testing.T) {
	ex := headV(t)
	shop := DefaultShop()
	shop.LengthStep, shop.AngleStep, shop.LengthMost, shop.AngleMost = 0, 0, 99, 99
	kept := 0
	for seed := range uint64(40) {
		s, err := Generate(ex, seed, shop)
		if err != nil {
			t.Fatal(err)
		}
		key := Key(ex, s.Parameters)
		for _, step := range s.Steps {
			if !strings.Contains(step.Why, " keeps the ") {
				continue
			}
			kept++
			word := func(by float64) joint.Word {
				worst := joint.Tight
				for _, side := range []float64{-1, 1} {
					fit, err := ex.Family.Fit(s.Parameters, joint.Values{step.ID: key[step.ID] + side*by*step.Tolerance})
					if err != nil {
						t.Fatal(err)
					}
					worst = max(worst, fit.Word)
				}
				return worst
			}
			if word(1) != joint.Tight || word(1.1) == joint.Tight {
				t.Errorf("seed %d: %s off by its tolerance %v is %s, by 1.1 of it %s, want tight and worse", seed, step.ID, step.Tolerance, word(1), word(1.1))
			}
		}
	}
	if kept < 200 {
		t.Errorf("%d tolerances came from the fit, want at least 200", kept)
	}
}

func TestToleranceLimits(t *testing.T) {
	ex := headV(t)
	step := func(shop Shop, id string) SheetStep {
		t.Helper()
		s, err := OnBlank(ex, worked, shop)
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range s.Steps {
			if st.ID == id {
				return st
			}
		}
		t.Fatalf("no step %s", id)
		return SheetStep{}
	}
	coarse, loose, inches := DefaultShop(), DefaultShop(), ShopFor(Inches)
	coarse.AngleStep = 1
	coarse.LengthStep = 1
	loose.Word = joint.Failed - 1
	for _, row := range []struct {
		name, id string
		shop     Shop
		want     float64
		why      string
	}{
		{"half the protractor's step", "half_angle", coarse, 0.5, "The shop's tools set no finer than 0.5°; the near shoulder would ask for less."},
		{"capped", "mouth_near", loose, 0.25, "0.25 mm is the most this shop allows; the near shoulder would stay open with a little more."},
		{"no gap", "tip_depth", DefaultShop(), 0.1, "No gap depends on this number: 0.1 mm is as fine as it is marked."},
		{"no gap, coarse tools", "tip_depth", coarse, 0.5, "No gap depends on this number: 0.5 mm is as fine as it is marked."},
		{"a sixty-fourth", "mouth_near", inches, inch / 128, "The shop's tools set no finer than 0.008 in; the near shoulder would ask for less."},
	} {
		if got := step(row.shop, row.id); math.Abs(got.Tolerance-row.want) > 1e-9 || got.Why != row.why {
			t.Errorf("%s: tolerance of %s = %v, %q, want %v, %q", row.name, row.id, got.Tolerance, got.Why, row.want, row.why)
		}
	}
	spec := headVJointSpec()
	spec.Steps[10].Tolerance = "0.2"
	ex = mustExercise(t, spec)
	if got := step(DefaultShop(), "tip_depth"); got.Tolerance != 0.2 || got.Why != "The exercise sets 0.2 mm for this number." {
		t.Errorf("tolerance of the exercise = %+v, want 0.2", got)
	}
}

func TestTwoFigures(t *testing.T) {
	for _, row := range []struct{ in, want float64 }{{0.0691, 0.069}, {0.1099, 0.1}, {0.1, 0.1}, {0.0999999999, 0.1}, {0.2467, 0.24}, {1.239, 1.23}, {0.0004, 0}} {
		if got := twoFigures(row.in); math.Abs(got-row.want) > 1e-12 {
			t.Errorf("twoFigures(%v) = %v, want %v", row.in, got, row.want)
		}
	}
}
