package drawing

import (
	"math"
	"testing"
)

// Answers off by one factor lie on a level line, whatever their blanks; far
// ones stand at the edge as triangles, those without a ratio nowhere.
func TestResidualPlot(t *testing.T) {
	t.Parallel()
	v := ResidualPlot([]Residual{{10, 20}, {13, 26}, {17, 34}, {10, 90}, {12, -40}, {0, 3}, {math.NaN(), 1}}, "Answers")
	var dots []ring
	triangles := 0
	for _, i := range v.items {
		switch m := i.(type) {
		case ring:
			dots = append(dots, m)
		case solid:
			triangles++
		}
	}
	if len(dots) != 3 || triangles != 2 {
		t.Fatalf("ResidualPlot: %d dots and %d triangles, want 3 and 2", len(dots), triangles)
	}
	for _, d := range dots {
		if d.centre.y != dots[0].centre.y {
			t.Errorf("a doubled number at height %.1f, want all at %.1f", d.centre.y, dots[0].centre.y)
		}
		if d.centre.x < 0 || d.centre.x > v.W {
			t.Errorf("dot at %.1f, want on the paper of %.1f", d.centre.x, v.W)
		}
	}
	if !(dots[0].centre.x < dots[1].centre.x && dots[1].centre.x < dots[2].centre.x) {
		t.Errorf("dots at %v, want in the order of the right numbers", dots)
	}
	if one := ResidualPlot([]Residual{{10, 11}}, "One"); len(one.items) == 0 {
		t.Error("one answer alone has no plot")
	}
}
