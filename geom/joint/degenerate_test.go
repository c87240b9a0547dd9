package joint

import (
	"errors"
	"math"
	"testing"
)

// sane checks what must hold for any input: an *IDError, or finite numbers and
// sentences; and a problem wherever something is left without a value, but for
// the largest head angle.
func sane(t *testing.T, parameters, submitted Values) {
	t.Helper()
	l, err := headVJoint.Layout(parameters)
	var id *IDError
	if err != nil {
		if !errors.As(err, &id) {
			t.Errorf("%v: %v, want an *IDError", parameters, err)
		}
		return
	}
	missing := len(headVJoint.Quantities) - len(l.Quantities)
	if _, ok := l.Quantities["max_head_angle"]; !ok {
		missing--
	}
	if missing > 0 && l.Buildable() {
		t.Errorf("%v: only %v, want a problem named", parameters, l.Quantities)
	}
	for id, x := range l.Quantities {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%v: %s = %g", parameters, id, x)
		}
	}
	f, err := headVJoint.Fit(parameters, submitted)
	if err != nil {
		if !errors.As(err, &id) {
			t.Errorf("%v: %v, want an *IDError", submitted, err)
		}
		return
	}
	if len(f.Outcomes) < 6 && f.Word != Failed {
		t.Errorf("%v with %v: %v with %d consequences", parameters, submitted, f.Word, len(f.Outcomes))
	}
	for _, o := range f.Outcomes {
		if sum := o.Value.Min + o.Value.Max; math.IsNaN(sum) || math.IsInf(sum, 0) {
			t.Errorf("%v with %v: %s = %v", parameters, submitted, o.ID, o.Value)
		}
	}
	if _, err := headVJoint.MadePieces(parameters, submitted); err != nil && err.Error() == "" {
		t.Errorf("%v with %v: pieces refused without a word", parameters, submitted)
	}
}

var oddNumbers = []float64{
	0, math.Copysign(0, -1), -1, 1e-300, -1e-300, 1e-9, 0.5, 5, 45, 89.999999999, 90, 90.1, 180, 270, 1e3,
	1e6, 1e6 + 1, -1e6, 1e16, 1e300, -1e300, math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1),
}

func TestOddNumbers(t *testing.T) {
	for _, a := range headVJoint.Parameters {
		for _, x := range oddNumbers {
			sane(t, with(worked, Values{a.ID: x}), nil)
			for _, b := range headVJoint.Parameters {
				for _, y := range oddNumbers {
					sane(t, with(worked, Values{a.ID: x, b.ID: y}), nil)
				}
			}
		}
	}
	for _, a := range closes {
		for _, x := range oddNumbers {
			for _, b := range closes {
				for _, y := range oddNumbers {
					sane(t, worked, Values{a: x, b: y})
				}
			}
		}
	}
}

func FuzzHeadVJoint(f *testing.F) {
	f.Add(27.0, 66.0, 34.0, 33.0, 11.0, 17.0, 1.5, 25.9, 16.5, 49.5, 34.6, 25.5, 4.8, 5.2)
	f.Add(0.0, -1.0, 1e300, math.NaN(), 90.0, math.Inf(1), 0.0, 0.0, 1e300, -1.0, 0.0, 90.0, -90.0, 1e9)
	f.Add(27.0, 66.0, 34.0, 33.0, 11.0, 17.0, 1.5, 1e-9, 49.5, 16.5, 300.0, 89.9, 89.9, -500.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i, j, k, l, m, n, o float64) {
		sane(t, Values{
			"thickness": a, "width": b, "v_length": c, "v_width": d, "head_angle": e, "head_thickness": g, "allowance": h,
		}, Values{
			"half_angle": i, "mouth_near": j, "mouth_far": k, "face_v_length": l, "face_half_angle": m, "cheek_tilt": n, "back_shift": o,
		})
		sane(t, worked, Values{
			"half_angle": i, "mouth_near": j, "mouth_far": k, "face_v_length": l, "face_half_angle": m, "cheek_tilt": n, "back_shift": o,
		})
	})
}
