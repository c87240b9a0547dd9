package joint

import (
	"fmt"
	"testing"
)

func legOf(t *testing.T, rake, splay float64) Values {
	return quantitiesOf(t, "splayed-leg", Values{"height": 450, "rake": rake, "splay": splay, "top_spacing": 280, "stretcher_height": 160})
}

// Rake and splay: exact values worked out elsewhere, to two decimals. A printed
// table of these exists in Langsner, The Chairmaker's Workshop (not seen).
func TestLegsAgainstTheRakeAndSplayTable(t *testing.T) {
	for _, c := range [...][5]float64{
		{5, 5, 7.05, 45.00, 45.00},
		{8, 4, 8.92, 26.45, 63.55},
		{10, 5, 11.14, 26.39, 63.61},
		{10, 10, 14.00, 45.00, 45.00},
		{12, 8, 14.30, 33.47, 56.53},
		{14, 8, 15.97, 29.41, 60.59},
		{15, 10, 17.78, 33.35, 56.65},
		{16, 8, 17.71, 26.11, 63.89},
		{20, 12, 22.85, 30.28, 59.72},
		{22, 10, 23.79, 23.58, 66.42},
		{25, 15, 28.27, 29.88, 60.12},
	} {
		q := legOf(t, c[0], c[1])
		name := fmt.Sprintf("rake %g, splay %g", c[0], c[1])
		for _, p := range []printed{
			{name: name + ", resultant", figure: c[2], exact: q["resultant"]},
			{name: name + ", sightline from fore and aft", figure: c[3], exact: q["sightline"]},
			{name: name + ", sightline from the side", figure: c[4], exact: 90 - q["sightline"]},
		} {
			p.tolerance = 0.005
			p.check(t)
		}
	}
}

// Machinery's Handbook, 31st edition, pages 121 and 122: compound angles of a
// line that leans in two views.
func TestLegsAgainstMachinerysHandbook(t *testing.T) {
	const minute = 1.0 / 60
	// Figure 4, a wedge block: A 47°14′, B 38°10′ give R 36°0.9′, C 53°12′.
	block := legOf(t, 47+14*minute, 38+10*minute)
	printed{name: "figure 4, C", figure: 53 + 12*minute, tolerance: 0.5 * minute, exact: block["resultant"]}.check(t)
	printed{name: "figure 4, R", figure: 36 + 0.9*minute, tolerance: 0.1 * minute, exact: block["sightline"]}.check(t)
	// Figure 6, a slanting pin: 39 and 34 degrees in two views (figures from
	// memory, the formula read), and R is counted from the second view.
	pin := legOf(t, 34, 39)
	printed{name: "figure 6, C1", figure: 46 + 30*minute, tolerance: 0.5 * minute, exact: pin["resultant"]}.check(t)
	printed{name: "figure 6, R", figure: 50 + 12*minute, tolerance: 0.5 * minute, exact: pin["sightline"]}.check(t)
}
