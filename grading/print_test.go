package grading_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

func TestPrint(t *testing.T) {
	tests := []struct {
		value float64
		unit  joint.Unit
		units grading.Units
		want  string
	}{
		{40, joint.MM, mm, "40 mm"},
		{59.5, joint.MM, mm, "59.5 mm"},
		{12.25, joint.MM, mm, "12.25 mm"},
		{9.525, joint.MM, mm, "9.525 mm"},
		{40.556204, joint.MM, mm, "40.6 mm"},
		{39.97, joint.MM, mm, "39.97 mm"},
		{39.9701, joint.MM, mm, "40 mm"},
		{-0.0123, joint.MM, mm, "0 mm"},
		{-3.25, joint.MM, mm, "−3.25 mm"},
		{100000, joint.MM, mm, "100000 mm"},
		{20.869348, joint.Deg, mm, "20.9°"},
		{9.5, joint.Deg, inch, "9.5°"},
		{90, joint.Deg, mm, "90°"},
		{51.98618, joint.MM, inch, "2 3/64 in"},
		{25.4, joint.MM, inch, "1 in"},
		{0, joint.MM, inch, "0 in"},
		{9.525, joint.MM, inch, "3/8 in"},
		{84.1375, joint.MM, inch, "3 5/16 in"},
		{12.7, joint.MM, inch, "1/2 in"},
		{25.3, joint.MM, inch, "1 in"},
		{-9.525, joint.MM, inch, "−3/8 in"},
		{-0.1, joint.MM, inch, "0 in"},
		{1250.04, joint.MM2, mm, "1250.04 mm²"},
		{5757.252011, joint.MM2, mm, "5757.3 mm²"},
		{645.16, joint.MM2, inch, "1 in²"},
		{1000, joint.MM2, inch, "1.55 in²"},
		{2.5, joint.One, mm, "2.5"},
		{1.0 / 3, joint.One, inch, "0.333"},
		{math.NaN(), joint.MM, mm, "no value"},
		{math.Inf(-1), joint.Deg, mm, "no value"},
	}
	for _, tt := range tests {
		if got := grading.Print(tt.value, tt.unit, tt.units); got != tt.want {
			t.Errorf("Print(%v, %s, %s) = %q, want %q", tt.value, tt.unit, tt.units, got, tt.want)
		}
	}
}

// What is printed is read as the value again, to half the last step printed,
// and prints the same.
func TestPrintRead(t *testing.T) {
	steps := map[joint.Unit]map[grading.Units]float64{
		joint.MM:  {mm: 0.1, inch: 25.4 / 64},
		joint.Deg: {mm: 0.1, inch: 0.1},
		joint.MM2: {mm: 0.1, inch: 6.4516},
		joint.One: {mm: 0.001, inch: 0.001},
	}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]joint.Unit{joint.MM, joint.Deg, joint.MM2, joint.One}).Draw(t, "unit")
		units := rapid.SampledFrom([]grading.Units{mm, inch}).Draw(t, "units")
		value := rapid.Float64Range(-350, 350).Draw(t, "value")
		if rapid.Bool().Draw(t, "given") {
			value = math.Round(value*8) / 8
		}
		text := grading.Print(value, unit, units)
		r, err := grading.Read(text, unit, units, nil)
		if err != nil || math.Abs(r.Value-value) > steps[unit][units]/2+1e-9 {
			t.Fatalf("Print(%v, %s, %s) = %q, read as %v, %v", value, unit, units, text, r.Value, err)
		}
		if again := grading.Print(r.Value, unit, units); again != text {
			t.Fatalf("Print(%v, %s, %s) = %q, printed again %q", value, unit, units, text, again)
		}
	})
}
