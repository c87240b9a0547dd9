package joint

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"arrisbook/geom"
)

// boxOf lays out a box of so many sides leaning by tilt.
func boxOf(t *testing.T, sides, tilt float64) Values {
	return quantitiesOf(t, "splayed-box", Values{"sides": sides, "tilt": tilt, "thickness": 12, "height": 100})
}

// Every cell of a table of hoppers worked out elsewhere, to two decimals.
func TestBoxesAgainstTheHopperTable(t *testing.T) {
	const half = 0.005
	rows := readTable(t, "hoppers.tsv", 11)
	if len(rows) != 12 {
		t.Fatalf("%d tilts, want 12", len(rows))
	}
	for _, r := range rows {
		tilt := cell(t, r[0])
		check := func(sides float64, what, figure string, got float64) {
			printed{name: fmt.Sprintf("%g sides at %g, %s", sides, tilt, what), figure: cell(t, figure), tolerance: half, exact: got}.check(t)
		}
		four := boxOf(t, 4, tilt)
		check(4, "face", r[1], four["face_angle"])
		check(4, "gauge", r[2], 90-four["face_angle"])
		check(4, "mitre", r[3], four["mitre_bevel"])
		check(4, "butt", r[4], four["butt_bevel"])
		check(4, "dihedral", r[5], four["corner_angle"])
		for i, sides := range []float64{3, 5, 6, 8, 12} {
			q := boxOf(t, sides, tilt)
			three := strings.Split(r[6+i], " / ")
			check(sides, "face", three[0], q["face_angle"])
			check(sides, "mitre", three[1], q["mitre_bevel"])
			check(sides, "dihedral", three[2], q["corner_angle"])
		}
	}
}

// A classic shop table, in quarters of a degree (from memory): no better than
// half a degree.
func TestBoxesAgainstTheShopTable(t *testing.T) {
	for _, c := range []struct {
		tilt   float64
		id     string
		figure float64
	}{
		{5, "butt_bevel", 0.5}, {10, "butt_bevel", 1.5}, {15, "butt_bevel", 3.75}, {30, "butt_bevel", 14.5}, {45, "butt_bevel", 30}, {50, "butt_bevel", 36},
		{5, "mitre_bevel", 44.75}, {30, "mitre_bevel", 37.75}, {45, "mitre_bevel", 30}, {60, "mitre_bevel", 21},
		{5, "gauge", 85}, {10, "gauge", 80.25}, {15, "gauge", 75.5}, {45, "gauge", 54.75}, {60, "gauge", 49},
	} {
		q := boxOf(t, 4, c.tilt)
		q["gauge"] = 90 - q["face_angle"]
		printed{name: fmt.Sprintf("%s at %g", c.id, c.tilt), figure: c.figure, tolerance: 0.5, exact: q[c.id]}.check(t)
	}
}

// Crown moulding cut flat on the table: a wall corner c is a ring of
// 360/(180 - c) sides, and the spring angle from the wall is the tilt. Figures
// worked out elsewhere from miter = atan(sin s / tan(c/2)) and bevel =
// asin(cos s cos(c/2)), to two decimals.
func TestBoxesAgainstCrownMoulding(t *testing.T) {
	corners := []float64{60, 90, 108, 120, 135}
	for spring, row := range map[float64][5][2]float64{
		30: {{40.89, 48.59}, {26.57, 37.76}, {19.96, 30.60}, {16.10, 25.66}, {11.70, 19.35}},
		38: {{46.84, 43.03}, {31.62, 33.86}, {24.10, 27.59}, {19.57, 23.20}, {14.31, 17.55}},
		45: {{50.77, 37.76}, {35.26, 30.00}, {27.19, 24.56}, {22.21, 20.70}, {16.32, 15.70}},
		52: {{53.77, 32.22}, {38.24, 25.81}, {29.79, 21.22}, {24.46, 17.93}, {18.08, 13.63}},
	} {
		for i, c := range corners {
			q := boxOf(t, 360/(180-c), spring)
			name := fmt.Sprintf("spring %g, corner %g", spring, c)
			printed{name: name + ", miter", figure: row[i][0], tolerance: 0.005, exact: q["face_angle"]}.check(t)
			printed{name: name + ", bevel", figure: row[i][1], tolerance: 0.005, exact: q["mitre_bevel"]}.check(t)
		}
	}
}

// Building Trades Pocketbook, "Hopper Bevels", figure 25: on edges that are
// cut level, the mitre of four sides is 45 degrees whatever they lean.
func TestOnLevelEdgesTheMitreIsThatOfAFlatFrame(t *testing.T) {
	level := geom.Plane{N: geom.Vec{Z: 1}}
	for _, sides := range []float64{3, 4, 5, 6, 8, 12} {
		for _, tilt := range []float64{0, 5, 22, 45, 80} {
			s, ok := sideOfRing(sides, geom.Deg(tilt), 12, 100)
			if !ok {
				t.Fatalf("no ring of %g at %g", sides, tilt)
			}
			edge, okEdge := geom.Bevel(level, s.between, s.along)
			if got, want := 90-edge.Degrees(), 180/sides; !okEdge || math.Abs(got-want) > 1e-12 {
				t.Errorf("level mitre of %g sides at %g = %g, want %g", sides, tilt, got, want)
			}
		}
	}
}
