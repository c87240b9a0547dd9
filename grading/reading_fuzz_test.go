package grading_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

// wide gives the full-width copy of a text.
func wide(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == ' ':
			return '\u3000'
		case r > ' ' && r < 0x7f:
			return r - '!' + '！'
		}
		return r
	}, text)
}

// A text and its full-width copy are read as the same number.
func TestReadFullWidth(t *testing.T) {
	for _, text := range []string{"14.5", "14,5", "14° 30'", "1:6", "1 in 6", "3 5/16\"", "3-5/16 in", "atan(18/40)", "(70-36)/2", "-2.05"} {
		for _, unit := range []joint.Unit{joint.Deg, joint.MM} {
			a, errA := grading.Read(text, unit, inch, nil)
			b, errB := grading.Read(wide(text), unit, inch, nil)
			if (errA == nil) != (errB == nil) || a.Value != b.Value || a.Half != b.Half || a.Says != b.Says {
				t.Errorf("Read(%q) = %v, %v and Read(%q) = %v, %v", text, a, errA, wide(text), b, errB)
			}
		}
	}
}

// A plain number reads the same with a space behind it, which takes the long
// way round.
func TestReadPlainlyProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{1,5}(\.[0-9]{0,4})?`).Draw(t, "text")
		unit := rapid.SampledFrom([]joint.Unit{joint.Deg, joint.MM, joint.MM2, joint.One}).Draw(t, "unit")
		units := rapid.SampledFrom([]grading.Units{mm, inch}).Draw(t, "units")
		a, errA := grading.Read(text, unit, units, nil)
		b, errB := grading.Read(text+" ", unit, units, nil)
		if a != b || (errA == nil) != (errB == nil) {
			t.Fatalf("Read(%q, %s, %s) = %v, %v, and with a space %v, %v", text, unit, units, a, errA, b, errB)
		}
	})
}

// Degrees and minutes are the decimal degrees they stand for, however written.
func TestReadMinutesProperty(t *testing.T) {
	marks := []string{"'", "′", "’", " min", "", " '"}
	degrees := []string{"°", " °", " deg", "° ", " deg ", "º"}
	rapid.Check(t, func(t *rapid.T) {
		d, m := rapid.IntRange(0, 359).Draw(t, "degrees"), rapid.IntRange(0, 59).Draw(t, "minutes")
		text := grading.Print(float64(d), joint.One, mm) + rapid.SampledFrom(degrees).Draw(t, "mark") +
			grading.Print(float64(m), joint.One, mm) + rapid.SampledFrom(marks).Draw(t, "minute mark")
		r, err := grading.Read(text, joint.Deg, mm, nil)
		if want := float64(d) + float64(m)/60; err != nil || math.Abs(r.Value-want) > 1e-12*360 {
			t.Fatalf("Read(%q) = %v, %v, want %v", text, r.Value, err, want)
		}
	})
}

// FuzzRead: whatever is typed, nothing panics; a reading is a finite number
// within its range with its precision and its words; a refusal keeps the text
// and says something.
func FuzzRead(f *testing.F) {
	for i, seed := range []string{
		"14.5", "14,5", "14° 30'", "14 deg 30", "14°30′15″", "1:6", "1 in 6", "18/40", "3 5/16\"", "3-5/16 in", "2.0467 in",
		"1.38\"", "0.5 mm", "1.2 cm", "−3", "１４．５", "½", "2½ in", "1,234", "1e309", "NaN", "atan(v_width/2/v_length)",
		"25*tan(9.5) mm", "hypot(18,5; 2)", "(2 3/4 - 1 1/2)/2", "180/7", "\xff", "٣", strings.Repeat("(", 150), "12 mm²",
	} {
		f.Add(seed, byte(i))
	}
	units := []joint.Unit{joint.Deg, joint.MM, joint.MM2, joint.One}
	f.Fuzz(func(t *testing.T, text string, pick byte) {
		unit, class := units[pick%4], mm
		if pick&4 != 0 {
			class = inch
		}
		r, err := grading.Read(text, unit, class, sheetNames)
		if err != nil {
			var e *grading.InputError
			if !errors.As(err, &e) || e.Text != text || e.Reason == "" || len(e.Reason) > 5*len(text)+400 {
				t.Fatalf("Read(%q, %s) = %#v", text, unit, err)
			}
			return
		}
		if utf8.RuneCountInString(text) >= 200 {
			t.Fatalf("Read(%q) of %d characters is accepted", text, utf8.RuneCountInString(text))
		}
		checkReading(t, text, r, unit)
	})
}

func checkReading(t *testing.T, text string, r grading.Reading, unit joint.Unit) {
	limit := map[joint.Unit]float64{joint.Deg: 360, joint.MM: 1e5, joint.MM2: 1e8, joint.One: 1e6}[unit]
	if !(math.Abs(r.Value) <= limit) || math.Signbit(r.Value) && r.Value == 0 || r.Unit != unit {
		t.Fatalf("Read(%q, %s) = %v %s", text, unit, r.Value, r.Unit)
	}
	if !(r.Half > 0) || math.IsInf(r.Half, 0) || r.Says == "" || strings.Contains(r.Says, "-") {
		t.Fatalf("Read(%q, %s) = half %v, says %q", text, unit, r.Half, r.Says)
	}
	if r.Working != "" {
		if _, err := formula.Parse(r.Working); err != nil {
			t.Fatalf("Read(%q, %s).Working = %q: %v", text, unit, r.Working, err)
		}
	}
}
