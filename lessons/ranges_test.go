package lessons

import (
	"math"
	"testing"
)

func TestParseNumber(t *testing.T) {
	good := map[string]float64{"24": 24, "0.5": 0.5, "15/16": 0.9375, "1 1/4": 1.25, " 2  3/8 ": 2.375, "-3": -3, "7.5": 7.5}
	for text, want := range good {
		if got, err := parseNumber(text); err != nil || got != want {
			t.Errorf("parseNumber(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "x", "1 2", "1/4 1", "1 1/4 1/4", "1/0", "1/x", "1e9", "0x10", "inf", "NaN", "1_000", "1,5", "1..2", "1234567890123"} {
		if got, err := parseNumber(text); err == nil {
			t.Errorf("parseNumber(%q) = %v, want an error", text, got)
		}
	}
}

func TestParseSpan(t *testing.T) {
	good := map[string]span{
		"24..32 by 0.5":            {24, 32, 0.5},
		"7.5..14 by 0.5":           {7.5, 14, 0.5},
		"15/16..1 1/4 by 1/16":     {0.9375, 1.25, 0.0625},
		"0.06..0.6 by 0.02":        {0.06, 0.6, 0.02},
		"1/16":                     {0.0625, 0.0625, 0},
		"5 .. 5 by 1":              {5, 5, 1},
		"2 1/4 .. 3 1/8 by 1/16":   {2.25, 3.125, 0.0625},
		"-2..2 by 1":               {-2, 2, 1},
		"0.00248..0.00253 by 1/64": {},
	}
	for text, want := range good {
		got, err := parseSpan(text)
		if want == (span{}) {
			if err == nil {
				t.Errorf("parseSpan(%q) = %v, want an error: the end is off the grid", text, got)
			}
			continue
		}
		if err != nil || math.Abs(got.from-want.from) > 0 || got.to != want.to || got.by != want.by {
			t.Errorf("parseSpan(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "..", "1..", "..2 by 1", "1..2", "2..1 by 1", "1..2 by 0", "1..2 by -1", "1..2 by x", "5 by 1", "1..2 by 0.3", "0..1000 by 0.01"} {
		if got, err := parseSpan(text); err == nil {
			t.Errorf("parseSpan(%q) = %v, want an error", text, got)
		}
	}
}
