package grading_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// A spelling is one way to write a number, with the half step that it leaves.
type spelling struct {
	text string
	half float64 // in mm or degrees
}

// fullWidth writes a text with full-width figures, as some keyboards do.
func fullWidth(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return '０' + r - '0'
		}
		return r
	}, text)
}

// spellings lists the ways in which a right number may be written.
func spellings(v float64, u joint.Unit) []spelling {
	var out []spelling
	add := func(half float64, texts ...string) {
		for _, t := range texts {
			out = append(out, spelling{t, half})
		}
	}
	for _, decimals := range []int{1, 2, 3, 4} {
		text, half := written(v, decimals), 0.5*math.Pow10(-decimals)
		add(half, text, " "+text+" ", fullWidth(text), strings.Replace(text, "-", "−", 1))
		if decimals != 3 { // a comma before three figures may part thousands
			add(half, strings.Replace(text, ".", ",", 1))
		}
		switch u {
		case joint.Deg:
			add(half, text+"°", text+" °", text+" deg", text+" degrees")
		case joint.MM:
			add(half, text+" mm", text+"mm")
		case joint.MM2:
			add(half, text+" mm²", text+" mm2")
		}
	}
	switch u {
	case joint.Deg:
		out = append(out, angleSpellings(v)...)
	case joint.MM:
		add(0.0005, written(v/10, 4)+" cm")
		add(0.0005*25.4, written(v/25.4, 3)+" in", written(v/25.4, 3)+`"`)
		add(1e-6, "("+written(2*v, 8)+")/2", written(v-1, 8)+" + 1")
	}
	return out
}

func angleSpellings(v float64) []spelling {
	if v < 0 || v >= 89 {
		return nil
	}
	minutes := int(math.Round(v * 60))
	seconds := int(math.Round(v * 3600))
	t := math.Tan(v * math.Pi / 180)
	return []spelling{
		{fmt.Sprintf("%d° %d'", minutes/60, minutes%60), 0.5 / 60},
		{fmt.Sprintf("%d°%d′", minutes/60, minutes%60), 0.5 / 60},
		{fmt.Sprintf("%d deg %d", minutes/60, minutes%60), 0.5 / 60},
		{fmt.Sprintf("%d° %d' %d\"", seconds/3600, seconds/60%60, seconds%60), 0.5 / 3600},
		{"1:" + written(1/t, 6), 1e-4}, {"1 in " + written(1/t, 6), 1e-4},
		{"atan(" + written(t, 10) + ")", 1e-6}, {"tan⁻¹(" + written(t, 10) + ")", 1e-6},
		{"90 - " + written(90-v, 8), 1e-6},
	}
}

// A right number is right in every spelling that is fine enough for its
// tolerance, on every step of every shipped exercise.
func TestRightInEverySpelling(t *testing.T) {
	tried := 0
	for _, ex := range shippedExercises(t) {
		for seed := range uint64(3) {
			sheet := drawn(t, ex, 900+seed)
			key := grading.Key(ex, sheet.Parameters)
			for _, step := range sheet.Steps {
				for _, s := range spellings(key[step.ID], step.Unit) {
					if s.half > step.Tolerance*(1+1e-9) {
						continue
					}
					tried++
					if r := graded(ex, sheet, step.ID, s.text); r.Verdict != grading.Right {
						t.Errorf("%s, seed %d: %s = %q is %s %q %v, want right", ex.ID, sheet.Seed, step.ID, s.text, r.Verdict, r.Reason, r.Pattern)
					}
				}
			}
		}
	}
	if tried < 5000 {
		t.Errorf("%d spellings were tried, want thousands", tried)
	}
}

// The same in a class that works in inches, to the sixty-fourth.
func TestRightInInches(t *testing.T) {
	shop := grading.ShopFor(grading.Inches)
	tried := 0
	for _, ex := range shippedExercises(t) {
		for seed := range uint64(3) {
			sheet, err := grading.Generate(ex, 900+seed, shop)
			if err != nil {
				t.Fatal(err)
			}
			key := grading.Key(ex, sheet.Parameters)
			for _, step := range sheet.Steps {
				if step.Unit != joint.MM || step.Tolerance < 25.4/128 {
					continue
				}
				v := key[step.ID]
				for _, text := range []string{grading.Print(v, joint.MM, grading.Inches), strings.TrimSuffix(grading.Print(v, joint.MM, grading.Inches), " in"),
					strings.Replace(grading.Print(v, joint.MM, grading.Inches), " in", `"`, 1), written(v/25.4, 3), written(v, 2) + " mm"} {
					tried++
					for _, r := range grading.Grade(ex, sheet, map[string]string{step.ID: text}, grading.Inches).Steps {
						if r.ID == step.ID && r.Verdict != grading.Right {
							t.Errorf("%s: %s = %q is %s %q, want right (%v mm)", ex.ID, step.ID, text, r.Verdict, r.Reason, v)
						}
					}
				}
			}
		}
	}
	if tried < 500 {
		t.Errorf("%d spellings were tried, want hundreds", tried)
	}
}
