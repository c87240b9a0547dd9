package grading_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

const (
	mm   = grading.Millimetres
	inch = grading.Inches
)

// sheetNames are the givens of the sheet that the readings below belong to.
func sheetNames(id string) (float64, bool) {
	v, ok := map[string]float64{"v_width": 36, "v_length": 40, "head_angle": 9.5}[id]
	return v, ok
}

type readCase struct {
	text  string
	value float64
	half  float64
	says  string
}

// exact marks an answer given as working.
const exact = 0

func checkReadings(t *testing.T, unit joint.Unit, units grading.Units, cases []readCase) {
	t.Helper()
	for _, c := range cases {
		r, err := grading.Read(c.text, unit, units, sheetNames)
		if err != nil {
			t.Errorf("Read(%q, %s, %s) = error %v, want %v", c.text, unit, units, err, c.value)
			continue
		}
		if math.Abs(r.Value-c.value) > 1e-9 || r.Unit != unit || r.Says != c.says {
			t.Errorf("Read(%q, %s, %s) = %v %s %q, want %v %q", c.text, unit, units, r.Value, r.Unit, r.Says, c.value, c.says)
		}
		half := c.half
		if half == exact {
			half = 1e-9 * math.Max(1, math.Abs(c.value))
		}
		if math.Abs(r.Half-half) > 1e-6*half || (c.half == exact) != (r.Working != "") {
			t.Errorf("Read(%q, %s, %s) = half %v, working %q, want half %v", c.text, unit, units, r.Half, r.Working, half)
		}
		if r.Working != "" {
			if _, err := formula.Parse(r.Working); err != nil {
				t.Errorf("Read(%q).Working = %q, which is no formula: %v", c.text, r.Working, err)
			}
		}
	}
}

func TestReadAngle(t *testing.T) {
	const minute, second = 1.0 / 60, 1.0 / 3600
	cases := []readCase{
		{"14.5", 14.5, 0.05, "14.5°"},
		{"14,5", 14.5, 0.05, "14.5°"},
		{"14.50", 14.5, 0.005, "14.50°"},
		{"14", 14, 0.5, "14°"},
		{"14.", 14, 0.5, "14°"},
		{".5", 0.5, 0.05, "0.5°"},
		{"1.234", 1.234, 0.0005, "1.234°"},
		{"14.5°", 14.5, 0.05, "14.5°"},
		{"14.5 °", 14.5, 0.05, "14.5°"},
		{"14.5 deg", 14.5, 0.05, "14.5°"},
		{"14.5 Degrees", 14.5, 0.05, "14.5°"},
		{"14° 30'", 14.5, minute / 2, "14° 30′ (14.5°)"},
		{"14° 30", 14.5, minute / 2, "14° 30′ (14.5°)"},
		{"14 deg 30", 14.5, minute / 2, "14° 30′ (14.5°)"},
		{"14 deg 30 min", 14.5, minute / 2, "14° 30′ (14.5°)"},
		{"14°30′15″", 14 + 1815*second, second / 2, "14° 30′ 15″ (14.5042°)"},
		{"14°30’15”", 14 + 1815*second, second / 2, "14° 30′ 15″ (14.5042°)"},
		{"14º 30´", 14.5, minute / 2, "14° 30′ (14.5°)"},
		{"14° 30' 15''", 14 + 1815*second, second / 2, "14° 30′ 15″ (14.5042°)"},
		{"14° 30.5'", 14 + 30.5*minute, minute / 20, "14° 30.5′ (14.5083°)"},
		{"-14° 30'", -14.5, minute / 2, "−14° 30′ (−14.5°)"},
		{"−0° 30'", -0.5, minute / 2, "−0° 30′ (−0.5°)"},
		{"30'", 0.5, minute / 2, "0° 30′ (0.5°)"},
		{"14° 59'", 14 + 59*minute, minute / 2, "14° 59′ (14.9833°)"},
		{"−3,2", -3.2, 0.05, "−3.2°"},
		{"–3.2", -3.2, 0.05, "−3.2°"},
		{"+3.2", 3.2, 0.05, "3.2°"},
		{"-0", 0, 0.5, "0°"},
		{"１４．５", 14.5, 0.05, "14.5°"},
		{"１４，５°", 14.5, 0.05, "14.5°"},
		{"\u00a014.5\u2009°\t", 14.5, 0.05, "14.5°"},
		{"24 1/4°", 24.25, 0.125, "24 1/4° (24.25°)"},
		{"24½", 24.5, 0.25, "24 1/2° (24.5°)"},
		// Slopes.
		{"1:6", 9.462322208025617, exact, "a slope of 1 in 6 (9.46°)"},
		{"1 in 6", 9.462322208025617, exact, "a slope of 1 in 6 (9.46°)"},
		{"1 : 6.5", 8.746162262555211, exact, "a slope of 1 in 6.5 (8.75°)"},
		{"18/40", 24.22774531795417, exact, "a slope of 18 in 40 (24.23°)"},
		{"18,5/40", 24.820541335489082, exact, "a slope of 18.5 in 40 (24.82°)"},
		{"18 mm / 40 mm", 24.22774531795417, exact, "a slope of 18 in 40 (24.23°)"},
		{"-1/6", -9.462322208025617, exact, "a slope of −1 in 6 (−9.46°)"},
		// Working.
		{"atan(18/40)", 24.22774531795417, exact, "24.23°"},
		{"ATAN(18/40)", 24.22774531795417, exact, "24.23°"},
		{"=atan(18/40)°", 24.22774531795417, exact, "24.23°"},
		{"tan⁻¹(18÷40)", 24.22774531795417, exact, "24.23°"},
		{"atan(v_width/2/v_length)", 24.22774531795417, exact, "24.23°"},
		{"atan(18,5/40)", 24.820541335489082, exact, "24.82°"},
		{"90-24.2", 65.8, exact, "65.8°"},
		{"90 − head_angle", 80.5, exact, "80.5°"},
		{"(180/7)°", 180.0 / 7, exact, "25.71°"},
		{"48.4/2°", 24.2, exact, "24.2°"},
		{"atan(18/40)/2", 12.113872658977085, exact, "12.11°"},
	}
	checkReadings(t, joint.Deg, mm, cases)
	checkReadings(t, joint.Deg, inch, cases)
}

func TestReadLength(t *testing.T) {
	both := []readCase{
		{"12 mm", 12, 0.5, "12 mm"},
		{"12mm", 12, 0.5, "12 mm"},
		{"12,5 mm", 12.5, 0.05, "12.5 mm"},
		{"0.5 mm", 0.5, 0.05, "0.5 mm"},
		{"1.2 cm", 12, 0.5, "12 mm"},
		{"1.25 cm", 12.5, 0.05, "12.5 mm"},
		{"2.0467 in", 51.98618, 0.00127, "2.0467 in (52.0 mm)"},
		{"2.05 in", 52.07, 0.127, "2.05 in (52.1 mm)"},
		{"1.38\"", 35.052, 0.127, "1.38 in (35.1 mm)"},
		{"1.38″", 35.052, 0.127, "1.38 in (35.1 mm)"},
		{"1.38 inches", 35.052, 0.127, "1.38 in (35.1 mm)"},
		{"1 in", 25.4, 12.7, "1 in (25.4 mm)"},
		{"3 5/16\"", 84.1375, 25.4 / 32, "3 5/16 in (84.1 mm)"},
		{"3 5/16”", 84.1375, 25.4 / 32, "3 5/16 in (84.1 mm)"},
		{"3-5/16 in", 84.1375, 25.4 / 32, "3 5/16 in (84.1 mm)"},
		{"3‑5/16 in", 84.1375, 25.4 / 32, "3 5/16 in (84.1 mm)"},
		{"−3 5/16 in", -84.1375, 25.4 / 32, "−3 5/16 in (−84.1 mm)"},
		{"5/16 in", 7.9375, 25.4 / 32, "5/16 in (7.9 mm)"},
		{"2½ in", 63.5, 6.35, "2 1/2 in (63.5 mm)"},
		{"3⅜\"", 85.725, 25.4 / 16, "3 3/8 in (85.7 mm)"},
		{"½\"", 12.7, 6.35, "1/2 in (12.7 mm)"},
		{"3−5/16 in", 68.2625, exact, "2.6875 in (68.3 mm)"},
		{"3 - 5/16 in", 68.2625, exact, "2.6875 in (68.3 mm)"},
		{"18/40 in", 11.43, exact, "0.45 in (11.4 mm)"},
		{"25*tan(9.5) mm", 4.183565227035489, exact, "4.18 mm"},
		{"(2 3/4 - 1 1/2)/2 in", 15.875, exact, "0.625 in (15.9 mm)"},
		{"(2½ + 1¼)/2\"", 47.625, exact, "1.875 in (47.6 mm)"},
		{"(18+4) cm", 220, exact, "220 mm"},
		{"18 mm + 4 mm", 22, exact, "22 mm"},
		{"v_width/2 mm", 18, exact, "18 mm"},
	}
	checkReadings(t, joint.MM, mm, both)
	checkReadings(t, joint.MM, inch, both)
	checkReadings(t, joint.MM, mm, []readCase{
		{"12", 12, 0.5, "12 mm"},
		{"13.50", 13.5, 0.005, "13.50 mm"},
		{"3/8", 0.375, exact, "0.375 mm"},
		{"18/40", 0.45, exact, "0.45 mm"},
		{"3 5/16", 3.3125, 1.0 / 32, "3.3125 mm"},
		{"70-36/2", 52, exact, "52 mm"},
		{"(70-36)/2", 17, exact, "17 mm"},
		{"(70,5−36)/2", 17.25, exact, "17.25 mm"},
		{"2 × 17", 34, exact, "34 mm"},
		{"40/cos 10", 40.6170644754298, exact, "40.62 mm"},
		{"40/cos 10°", 40.6170644754298, exact, "40.62 mm"},
		{"√(18² + 40²)", 43.86342439892262, exact, "43.86 mm"},
		{"hypot(18, 40)", 43.86342439892262, exact, "43.86 mm"},
		{"v_length/cos(head_angle)", 40 / math.Cos(9.5*math.Pi/180), exact, "40.56 mm"},
	})
	checkReadings(t, joint.MM, inch, []readCase{
		{"12", 304.8, 12.7, "12 in (304.8 mm)"},
		{"2.0467", 51.98618, 0.00127, "2.0467 in (52.0 mm)"},
		{"3/8", 9.525, 25.4 / 16, "3/8 in (9.5 mm)"},
		{"3 5/16", 84.1375, 25.4 / 32, "3 5/16 in (84.1 mm)"},
		{"3-5/16", 84.1375, 25.4 / 32, "3 5/16 in (84.1 mm)"},
		{"18/40", 11.43, exact, "0.45 in (11.4 mm)"},
		{"33/2", 419.1, exact, "16.5 in (419.1 mm)"},
		{"(2 3/4 - 1 1/2)/2", 15.875, exact, "0.625 in (15.9 mm)"},
	})
}

func TestReadAreaAndNumber(t *testing.T) {
	checkReadings(t, joint.MM2, mm, []readCase{
		{"1250", 1250, 0.5, "1250 mm²"},
		{"1250,5 mm2", 1250.5, 0.05, "1250.5 mm²"},
		{"1250 mm²", 1250, 0.5, "1250 mm²"},
		{"12.5 cm²", 1250, 5, "1250 mm²"},
		{"2 sq in", 1290.32, 322.58, "2 in² (1290.3 mm²)"},
		{"2 square inches", 1290.32, 322.58, "2 in² (1290.3 mm²)"},
		{"25*40", 1000, exact, "1000 mm²"},
		{"25*40 mm²", 1000, exact, "1000 mm²"},
		{"v_width*v_length", 1440, exact, "1440 mm²"},
	})
	checkReadings(t, joint.MM2, inch, []readCase{{"2", 1290.32, 322.58, "2 in² (1290.3 mm²)"}})
	checkReadings(t, joint.One, mm, []readCase{
		{"5", 5, 0.5, "5"},
		{"−2,75", -2.75, 0.005, "−2.75"},
		{"2 1/2", 2.5, 0.25, "2 1/2"},
		{"1/4", 0.25, exact, "0.25"},
		{"v_width/v_length", 0.9, exact, "0.9"},
	})
}

func TestReadRefuses(t *testing.T) {
	long := strings.Repeat("1+", 120) + "1"
	tests := []struct {
		unit  joint.Unit
		units grading.Units
		text  string
		says  string // part of the reason
	}{
		{joint.Deg, mm, "", "Nothing is written"},
		{joint.Deg, mm, " \u00a0\t", "Nothing is written"},
		{joint.Deg, mm, "=", "Nothing is written"},
		{joint.Deg, mm, "14° 75'", "Minutes stay under 60: 14° 75' is not an angle."},
		{joint.Deg, mm, "14° 60'", "Minutes stay under 60"},
		{joint.Deg, mm, "75'", "Minutes stay under 60"},
		{joint.Deg, mm, "14° 30' 60\"", "Seconds stay under 60: 14° 30' 60\" is not an angle."},
		{joint.Deg, mm, "14° -30'", "without one"},
		{joint.Deg, mm, "14.5° 30'", "degrees are whole"},
		{joint.Deg, mm, "14° 30.5' 10\"", "minutes are whole"},
		{joint.Deg, mm, "1,234", "1.234 or 1234"},
		{joint.MM, mm, "1,234", "1.234 or 1234"},
		{joint.MM, mm, "−1,234 mm", "1.234 or 1234"},
		{joint.MM, mm, "0,125", "write 0.125"},
		{joint.MM, mm, ",125", "write 0.125"},
		{joint.MM, mm, "(1,234-36)/2", "1.234 or 1234"},
		{joint.MM, mm, "1,234.5", "more than one point or comma"},
		{joint.MM, mm, "1.234,5", "more than one point or comma"},
		{joint.MM, mm, "1.2.3", "more than one point or comma"},
		{joint.MM, mm, "1 234,5", "without a space: 1234.5"},
		{joint.MM, mm, "1e3", "without e"},
		{joint.MM, mm, "1E3 mm", "without e"},
		{joint.MM, mm, "inf", "not a number"},
		{joint.MM, mm, "-Infinity", "not a number"},
		{joint.MM, mm, "NaN", "not a number"},
		{joint.MM, mm, "1e309", "without e"},
		{joint.MM, mm, strings.Repeat("9", 150), "out of range"},
		{joint.MM, mm, strings.Repeat("9", 400), "too long"},
		{joint.MM, mm, long, "too long"},
		{joint.MM, mm, "٣", "digits 0 to 9"},
		{joint.MM, mm, "\xff12", "cannot be read"},
		{joint.MM, mm, "100000.1", "between −100000 mm and 100000 mm"},
		{joint.MM, inch, "3938", "between −3937 in and 3937 in"},
		{joint.Deg, mm, "361", "between −360° and 360°"},
		{joint.Deg, mm, "2*200", "between −360° and 360°"},
		{joint.MM2, mm, "100000001", "between −100000000 mm² and 100000000 mm²"},
		{joint.One, mm, "2000000", "between −1000000 and 1000000"},
		{joint.Deg, mm, "12 mm", "12 mm is a length, and an angle is asked here"},
		{joint.Deg, inch, "3 5/16\"", "is a length"},
		{joint.Deg, inch, "1 in", "1 in is a length"},
		{joint.Deg, mm, "30\"", "seconds or inches"},
		{joint.Deg, mm, "12 mm²", "an angle is asked"},
		{joint.MM, mm, "14°", "14° is an angle, and a length is asked here"},
		{joint.MM, mm, "14° 30'", "is an angle"},
		{joint.MM, mm, "1:6", "1:6 is a slope, and a length is asked here"},
		{joint.MM, inch, "1 in 6", "is a slope"},
		{joint.MM, mm, "12 mm2", "is an area, and a length is asked here"},
		{joint.MM2, mm, "12 mm", "is a length, and an area is asked here"},
		{joint.One, mm, "5 mm", "is a length, and a plain number is asked here"},
		{joint.One, mm, "14°", "is an angle"},
		{joint.One, mm, "1:6", "is a slope"},
		{joint.MM, mm, "atan(18/40)", "This gives an angle, and a length is asked here"},
		{joint.MM, mm, "v_width*v_length", "This gives an area"},
		{joint.Deg, mm, "v_width/v_length", "write atan(…)"},
		{joint.Deg, mm, "(36/2)/40", "atan(…) for the angle of a slope, or (…)° for degrees"},
		{joint.Deg, mm, "180/7", "write (180/7)° for degrees, or 180:7 for a slope"},
		{joint.Deg, mm, "½", "write 1/2° for a part of a degree, or 1:2 for a slope"},
		{joint.Deg, mm, "24-1/4", "can mean two things"},
		{joint.Deg, mm, "18 mm/40 in", "one unit"},
		{joint.Deg, mm, "1:0", "no angle"},
		{joint.Deg, mm, "0.42 rad", "in degrees"},
		{joint.Deg, mm, "42%", "in degrees"},
		{joint.Deg, mm, "14 30", "14° 30' for degrees and minutes"},
		{joint.Deg, mm, "atan 18/40", "atan(18) or atan(18/…)"},
		{joint.Deg, mm, "asin(1.5)", "No angle has this sine"},
		{joint.Deg, mm, "24.2 or 24.3", "A sign is missing"},
		{joint.MM, mm, "3-5/16", "write 3 5/16 for the fraction, or 3 - (5/16) for the difference"},
		{joint.MM, mm, "3 20/16", "whole or more"},
		{joint.MM, mm, "3 5/0", "nothing below the line"},
		{joint.MM, mm, "12 m", "Metres"},
		{joint.MM, inch, "1' 3\"", "Feet"},
		{joint.MM, inch, "2 ft", "Feet"},
		{joint.MM, inch, "18 mm + 4", "one unit"},
		{joint.MM, mm, "2 cm + 3 cm", "one unit"},
		{joint.MM, mm, "12 13", "two numbers"},
		{joint.MM, mm, "12;5", "decimal point as a dot"},
		{joint.MM, mm, "hypot(18,5, 40)", "decimal point is a dot"},
		{joint.MM, mm, "1/0", "nothing below the line"},
		{joint.MM, mm, "5/(3-3)", "Division by nothing"},
		{joint.MM, mm, "2(3+4)", "write * for times"},
		{joint.MM, mm, "(3+4", "never closed"},
		{joint.MM, mm, "0x12", "A sign is missing"},
		{joint.MM, mm, "v_widht/2", "v_widht is not a size given on this sheet"},
		{joint.MM, mm, "no idea", "A sign is missing"},
		{joint.MM, mm, "?", "not read here"},
		{joint.MM, mm, "<b>12</b>", "not read here"},
		{joint.MM, mm, "x = 12", "without ="},
	}
	for _, tt := range tests {
		r, err := grading.Read(tt.text, tt.unit, tt.units, sheetNames)
		var e *grading.InputError
		if !errors.As(err, &e) {
			t.Errorf("Read(%.40q, %s, %s) = %v %q, want a refusal", tt.text, tt.unit, tt.units, r.Value, r.Says)
			continue
		}
		if !strings.Contains(e.Reason, tt.says) || e.Text != tt.text {
			t.Errorf("Read(%.40q, %s, %s) = reason %q, text %.40q, want %q", tt.text, tt.unit, tt.units, e.Reason, e.Text, tt.says)
		}
	}
}

// Names in an inch class stand for inches beside the numbers typed, and a
// name of which no unit is known is not guessed at.
func TestReadNamesInInches(t *testing.T) {
	lengths := func(string) (joint.Unit, bool) { return joint.MM, true }
	known := grading.Asked{Unit: joint.MM, Units: inch, Names: sheetNames, UnitOf: lengths}
	r, err := known.Read("(v_width + 1)/2")
	if want := (36 + 25.4) / 2; err != nil || math.Abs(r.Value-want) > 1e-9 {
		t.Errorf("Read((v_width + 1)/2) = %v, %v, want %v", r.Value, err, want)
	}
	angle := grading.Asked{Unit: joint.Deg, Units: inch, Names: sheetNames, UnitOf: lengths}
	r, err = angle.Read("atan(v_width/2/1.5)")
	if want := math.Atan(18/(1.5*25.4)) * 180 / math.Pi; err != nil || math.Abs(r.Value-want) > 1e-9 {
		t.Errorf("Read(atan(v_width/2/1.5)) = %v, %v, want %v", r.Value, err, want)
	}
	unknown := known
	unknown.UnitOf = func(string) (joint.Unit, bool) { return "", false }
	if r, err := unknown.Read("(v_width + 1)/2"); err == nil {
		t.Errorf("Read of a name without a unit = %v, want a refusal", r.Value)
	}
	unknown.Units = mm
	if r, err := unknown.Read("v_width/2"); err != nil || r.Value != 18 {
		t.Errorf("Read(v_width/2) = %v, %v, want 18", r.Value, err)
	}
}

// Without names, a name is refused and working with numbers still read.
func TestReadWithoutNames(t *testing.T) {
	if _, err := grading.Read("v_width/2", joint.MM, mm, nil); err == nil || !strings.Contains(err.Error(), "write the number") {
		t.Errorf("Read(v_width/2) without names = %v", err)
	}
	if r, err := grading.Read("36/2+1", joint.MM, mm, nil); err != nil || r.Value != 19 {
		t.Errorf("Read(36/2+1) = %v, %v, want 19", r.Value, err)
	}
}

func TestInputErrorText(t *testing.T) {
	e := &grading.InputError{Reason: "Write a number."}
	if e.Error() != "Write a number." {
		t.Errorf("Error() = %q", e.Error())
	}
	e.Field = "half_angle"
	if e.Error() != "half_angle: Write a number." {
		t.Errorf("Error() = %q", e.Error())
	}
}

func TestDimOf(t *testing.T) {
	for u, want := range map[joint.Unit]formula.Dim{joint.MM: formula.Length, joint.Deg: formula.Angle, joint.MM2: formula.Area, joint.One: formula.Number} {
		if got := grading.DimOf(u); got != want {
			t.Errorf("DimOf(%s) = %v, want %v", u, got, want)
		}
	}
}
