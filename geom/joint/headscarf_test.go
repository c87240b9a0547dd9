package joint

import (
	"math"
	"testing"
)

func TestBuildableRuleOfTheScarf(t *testing.T) {
	checkRule(t, headScarf, workedScarf, []ruleCase{
		{"as it is", nil, nil},
		{"cut too flat", Values{"head_angle": 6.5}, []string{"cut runs too far"}},
		{"just short enough", Values{"head_angle": 6.9}, nil},
		{"head thicker than the blank", Values{"head_thickness": 24.5}, []string{"thicker than the blank"}},
		{"head as thick as the blank", Values{"head_thickness": 24}, nil},
		{"no tilt", Values{"head_angle": 0}, []string{"head angle must be more than nothing"}},
		{"hardly a tilt", Values{"head_angle": 0.5}, []string{"head angle under 1° is too small", "cut runs too far"}},
		{"cut across", Values{"head_angle": 75}, []string{"head angle over 60° is beyond"}},
		{"no saw", Values{"kerf": 0}, []string{"kerf must be more than nothing"}},
		{"no wood", Values{"thickness": -3}, []string{"thickness must be more than nothing"}},
	})
}

// A plain scarf of 1 in n: slopes and lengths as tables print them (angles of
// common scarfs, exact; the lengths of a 20 mm plank at 1 in 8 and 1 in 12).
func TestScarfSlopes(t *testing.T) {
	for _, c := range []struct{ n, angle, run, length float64 }{
		{4, 14.04, 80, 82.46}, {6, 9.46, 120, 121.66}, {8, 7.13, 160, 161.25}, {10, 5.71, 200, 201.00},
		{12, 4.76, 240, 240.83}, {16, 3.58, 320, 320.62}, {20, 2.86, 400, 400.50},
	} {
		angle := math.Atan2(1, c.n) * 180 / math.Pi
		if math.Abs(angle-c.angle) > 0.00501 {
			t.Errorf("1 in %g is %.4f degrees, want %g", c.n, angle, c.angle)
		}
		l, err := headScarf.Layout(with(workedScarf, Values{"thickness": 20, "head_angle": angle}))
		if err != nil || l.Buildable() != (c.run <= longestRun) {
			t.Errorf("1 in %g: %v %v, want it buildable to a run of 200", c.n, l.Problems, err)
		}
		if run, length := l.Quantities["face_run"], l.Quantities["slope_length"]; math.Abs(run-c.run) > 1e-9 || math.Abs(length-c.length) > 0.005 {
			t.Errorf("1 in %g: run %g, length %g, want %g and %g", c.n, run, length, c.run, c.length)
		}
	}
}

// The lesson prints for its worked example: a head 180 long drops 32.80 at its
// tip; laid out with the run of 10 degrees instead it would drop 31.26.
func TestScarfFitAgainstTheLesson(t *testing.T) {
	f, err := headScarf.Fit(workedScarf, Values{"face_run": 24 / tan(10)})
	if err != nil {
		t.Fatal(err)
	}
	if got := value(t, f, "head_angle_made").Max; math.Abs(got-10) > 1e-9 {
		t.Errorf("head angle made %g, want 10", got)
	}
	if got := value(t, f, "tip_error").Max; math.Abs(got-(32.80-31.26)) > 0.01 || math.Abs(got-180*(sin(10.5)-sin(10))) > 1e-9 {
		t.Errorf("tip error %.4f, want %.4f", got, 32.80-31.26)
	}
}

func TestScarfFitByHand(t *testing.T) {
	l, _ := headScarf.Layout(workedScarf)
	run := l.Quantities["face_run"]
	for _, c := range []struct {
		off  float64
		word Word
	}{
		{0.25, Tight}, {-0.6, Close}, {1.5, Open}, {-3, Failed},
		{l.Quantities["slope_length"] - run, Failed}, // the slant taken for the run
	} {
		f, err := headScarf.Fit(workedScarf, Values{"face_run": run + c.off})
		if err != nil {
			t.Fatal(err)
		}
		made := math.Atan2(24, run+c.off) * 180 / math.Pi
		checkOutcomes(t, "face_run", c.off, f, Values{"head_angle_made": made, "tip_error": 180 * (sin(10.5) - sin(made))}, c.word)
	}
	for _, none := range []float64{0, -20} {
		f, err := headScarf.Fit(workedScarf, Values{"face_run": none})
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("a run of %g: %v %q %v %v, want failed with a reason", none, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
}

// The glued faces of neck and head piece are the same plane, the head piece is
// as thick as it was planed, and its ramp comes level with the neck's face: it
// is a slab less a wedge.
func TestScarfPartsHaveTheirVolumes(t *testing.T) {
	parts, err := headScarf.Pieces(workedScarf)
	if err != nil || len(parts) != 2 {
		t.Fatal(parts, err)
	}
	l, _ := headScarf.Layout(workedScarf)
	run, headRun := l.Quantities["face_run"], l.Quantities["head_run"]
	neck := (1.5*71 + run/2) * 24 * 71
	if got := volume(parts[0].Pieces); math.Abs(got/neck-1) > 1e-12 {
		t.Errorf("neck has %g, want %g", got, neck)
	}
	head := (headRun/2 + headLength) * 15 * 71
	if got := volume(parts[1].Pieces); math.Abs(got/head-1) > 1e-12 {
		t.Errorf("head piece has %g, want %g", got, head)
	}
	_, hi := span(parts)
	if math.Abs(hi.Z) > 1e-12 {
		t.Errorf("the parts reach to z = %g, want the neck's face", hi.Z)
	}
}
