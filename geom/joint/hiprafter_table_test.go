package joint

import (
	"fmt"
	"math"
	"testing"
)

// roofOn12 is a roof with a run of 12 over a span in millimetres.
func roofOn12(t *testing.T, rise, span float64) Values {
	return quantitiesOf(t, "hip-rafter", Values{"rise": rise, "run": 12, "span": span})
}

// Tables give lengths for 12 of run: a span of 24, scaled up to a building.
const tableScale = 20

// hipSideCut is the angle between the hip's edge and the plumb plane that cuts
// its end at 45 in plan, on its unbacked top: the hip's level way over its
// length, that is the sine of its plumb cut.
func hipSideCut(q Values) float64 { return atan(sin(q["hip_plumb"])) }

// jackSideCut is the same for a jack, on its top: its level way over its
// length.
func jackSideCut(q Values) float64 { return atan(cos(q["pitch_angle"])) }

func atan(x float64) float64 { return math.Atan(x) * 180 / math.Pi }

// What Griffith prints beyond the tolerances that the rest of his columns
// keeps: a hundredth in common lengths, a fortieth in hip lengths, ten whole
// minutes in angles, which he prints to ten minutes.
var griffithErrata = map[string]string{
	"rise 7, jack side cut": "printed 11 minutes too large",
}

// Griffith, Carpentry (1916): every cell that is about a square corner, held
// to the printed figure within the table's own coarseness, and to the exact
// one within half its last digit.
func TestRaftersAgainstGriffith(t *testing.T) {
	rows := readTable(t, "rafters-1916.tsv", 11)
	if len(rows) != 18 {
		t.Fatalf("%d rises, want 18", len(rows))
	}
	worst, errata := map[string]float64{}, 0
	for _, r := range rows {
		rise := cell(t, r[0])
		q := roofOn12(t, rise, 24*tableScale)
		for i, c := range [...]struct {
			name            string
			got             float64
			tolerance, half float64
		}{
			{"common length", q["common_length"] / tableScale, 0.01, 0.0005},
			{"hip length", q["hip_length"] / tableScale, 0.025, 0.0005},
			{"jack side cut", jackSideCut(q), 10.5 / 60, 0.5 / 60},
			{"hip side cut", hipSideCut(q), 10.5 / 60, 0.5 / 60},
			{"hip backing", 90 - q["backing_angle"], 10.5 / 60, 0.5 / 60},
		} {
			name := fmt.Sprintf("rise %g, %s", rise, c.name)
			if p := r[1+2*i]; p != "-" {
				off := printed{name, cell(t, p), c.tolerance, c.got, griffithErrata[name]}.check(t)
				worst[c.name] = max(worst[c.name], off)
			}
			if griffithErrata[name] != "" {
				errata++
			}
			printed{name: name + ", exact", figure: cell(t, r[2+2*i]), tolerance: c.half, exact: c.got}.check(t)
		}
	}
	if errata != len(griffithErrata) {
		t.Errorf("%d errata met, want %d", errata, len(griffithErrata))
	}
	t.Logf("printed figures are off by at most %.3f and %.3f in length; %.0f, %.0f and %.0f minutes", worst["common length"], worst["hip length"],
		60*worst["jack side cut"], 60*worst["hip side cut"], 60*worst["hip backing"])
}

// Steel squares' table for rises 1 to 24, from memory, exact to two decimals;
// side cuts are set off as so many on 12, to the nearest sixteenth.
func TestRaftersAgainstTheSteelSquare(t *testing.T) {
	rows := readTable(t, "rafters-square.tsv", 13)
	if len(rows) != 24 {
		t.Fatalf("%d rises, want 24", len(rows))
	}
	const half, sixteenth = 0.005, 1.0 / 32
	for _, r := range rows {
		rise := cell(t, r[0])
		q := roofOn12(t, rise, 24*tableScale)
		common, hip := q["common_length"]/tableScale, q["hip_length"]/tableScale
		for i, c := range [...]struct {
			name      string
			got       float64
			tolerance float64
		}{
			{"common length", common, half},
			{"hip length", hip, half},
			{"difference of jacks 16 apart", 16 * common / 12, half},
			{"difference of jacks 24 apart", 24 * common / 12, half},
			{"side cut of jack on 12", 12 * tan(jackSideCut(q)), sixteenth},
			{"side cut of hip on 12", 12 * tan(hipSideCut(q)), sixteenth},
			{"seat of common", q["pitch_angle"], half},
			{"seat of hip", 90 - q["hip_plumb"], half},
			{"side cut of jack", jackSideCut(q), half},
			{"side cut of hip", hipSideCut(q), half},
			{"backing", q["backing_angle"], half},
			{"dihedral", q["roof_dihedral"], half},
		} {
			printed{name: fmt.Sprintf("rise %g, %s", rise, c.name), figure: cell(t, r[1+i]), tolerance: c.tolerance, exact: c.got}.check(t)
		}
	}
}

// Worked examples of books, with their own roundings.
func TestRaftersAgainstWorkedExamples(t *testing.T) {
	const foot, inches = 12.0, 25.4
	for _, c := range []struct {
		source     string
		rise, span float64 // on 12, and in inches
		quantity   string
		figure     float64 // in inches
		tolerance  float64
		erratum    string
	}{
		{"Griffith, section 17: quarter pitch over 25 ft", 6, 25 * foot, "common_length", 167.75, 0.05, ""},
		{"Griffith, appendix III: third pitch, run 14 ft", 8, 28 * foot, "common_length", 201.88, 0.05, ""},
		{"Griffith, appendix IV: half pitch over 25 ft, 17 ft 8 1/8 in", 12, 25 * foot, "common_length", 17*foot + 8.125, 1.0 / 16, ""},
		{"Griffith, appendix IV: half pitch over 25 ft, 21 ft 7 3/4 in", 12, 25 * foot, "hip_length", 21*foot + 7.75, 1.0 / 16, ""},
		{"Noyes, Handwork in Wood, steel square: run 12 ft, quarter pitch, 13-5", 6, 24 * foot, "common_length", 13*foot + 5, 1.0 / 24, ""},
		{"Noyes: run 11 ft, third pitch, 13-2 8/12", 8, 22 * foot, "common_length", 13*foot + 2 + 8.0/12, 1.0 / 24, ""},
		{"Noyes: run 7 ft, five-eighths pitch, 11-2 6/12", 15, 14 * foot, "common_length", 11*foot + 2 + 6.0/12, 1.0 / 24, ""},
		{"Noyes: run 11 ft 6 in, half pitch, 16-3 2/12", 12, 23 * foot, "common_length", 16*foot + 3 + 2.0/12, 1.0 / 24, ""},
		{"Army engineer course EN0069, figure 2-16: rise 16, 20.00", 16, 24, "common_length", 20, 0.005, ""},
		{"Army engineer course EN0069, figure 2-16: rise 13, 17.69", 13, 24, "common_length", 17.69, 0.005, ""},
		{"Griffith, figure 50, a square's blade: rise 18, common 21 63", 18, 24, "common_length", 21.63, 0.005, ""},
		{"Griffith, figure 50: rise 17, common 20 80", 17, 24, "common_length", 20.80, 0.01, ""},
		// The square in the picture takes 17 for 12 times the root of 2.
		{"Griffith, figure 50: rise 18, hip 24 75", 18, 24, "hip_length", 24.75, 0.005, "worked from 17.00 instead of 16.97"},
		{"Griffith, figure 50: rise 17, hip 24 04", 17, 24, "hip_length", 24.04, 0.005, "worked from 17.00 instead of 16.97"},
	} {
		got := roofOn12(t, c.rise, c.span*inches*tableScale)[c.quantity] / inches / tableScale
		printed{c.source, c.figure, c.tolerance, got, c.erratum}.check(t)
	}
	// Both figures of the picture are within the book's tolerance for hips all
	// the same, and follow from 17 exactly.
	for rise, figure := range map[float64]float64{18: 24.75, 17: 24.04} {
		if got := math.Hypot(17, rise); math.Abs(got-figure) > 0.01 {
			t.Errorf("hip from 17 at rise %g = %.3f, want %g", rise, got, figure)
		}
	}
	// Audel's Carpenters and Builders Guide, volume 3: rise 10, the difference
	// of jacks 16 apart is 20.83, 20 apart 26; Navy course 14044, figure 2-41:
	// the side cut of jacks under rise 8 is 10 on 12.
	ten, eight := roofOn12(t, 10, 24*tableScale)["common_length"]/tableScale, roofOn12(t, 8, 24*tableScale)
	printed{name: "jacks 16 apart, rise 10", figure: 20.83, tolerance: 0.005, exact: 16 * ten / 12}.check(t)
	printed{name: "jacks 20 apart, rise 10", figure: 26, tolerance: 0.05, exact: 20 * ten / 12}.check(t)
	printed{name: "side cut of jack on 12, rise 8", figure: 10, tolerance: 1.0 / 32, exact: 12 * tan(jackSideCut(eight))}.check(t)
}
