package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// cooperedVessel is a vessel of tapered staves that widens toward the top. Its
// frame is the ring's; the foot stands on z = 0.
var cooperedVessel = &Family{
	ID:      "coopered-vessel",
	Title:   "Coopered vessel",
	Summary: "Equal tapered staves with bevelled edges close to a vessel that is wider at the top.",
	Parameters: []Parameter{
		{ID: "staves", Name: "Number of staves", Symbol: "n", Unit: One, Min: 3, Max: 60, Whole: true,
			Means: "How many equal staves the vessel has."},
		{ID: "top_diameter", Name: "Top diameter", Symbol: "D", Unit: MM, Min: 10, Max: 3000,
			Means: "Across the top, outside, from the middle of one flat to the middle of the opposite one."},
		{ID: "bottom_diameter", Name: "Bottom diameter", Symbol: "d", Unit: MM, Min: 10, Max: 3000,
			Means: "Across the bottom, outside, from the middle of one flat to the middle of the opposite one."},
		{ID: "height", Name: "Height", Symbol: "H", Unit: MM, Min: 10, Max: 3000,
			Means: "The vessel's height, plumb."},
		{ID: "thickness", Name: "Thickness", Symbol: "T", Unit: MM, Min: 1, Max: 100, Measured: true,
			Means: "The staves' thickness, square to the outside face."},
	},
	Quantities: []Quantity{
		{ID: "lean", Name: "Lean", Symbol: "λ", Unit: Deg,
			Means: "How far a stave leans outward.",
			From:  "From vertical, along the middle of the stave's outside face."},
		{ID: "stave_length", Name: "Stave length", Symbol: "l", Unit: MM,
			Means: "The length the staves are cut to.",
			From:  "From end to end along the centre line, on the outside face."},
		{ID: "top_width", Name: "Top width", Symbol: "b₁", Unit: MM,
			Means: "A stave's width at its wide end.",
			From:  "From edge to edge across the top end, on the outside face."},
		{ID: "bottom_width", Name: "Bottom width", Symbol: "b₂", Unit: MM,
			Means: "A stave's width at its narrow end.",
			From:  "From edge to edge across the bottom end, on the outside face."},
		{ID: "taper_angle", Name: "Taper angle", Symbol: "τ", Unit: Deg,
			Means: "How far an edge of a stave runs out from its centre line.",
			From:  "Between the edge and the centre line, on the outside face."},
		{ID: "edge_bevel", Name: "Edge bevel", Symbol: "ε", Unit: Deg,
			Means: "How far an edge leans, so that two of them meet in one joint.",
			From:  "From square to the outside face, held square to the edge."},
	},
	Consequences: ringConsequences("The lean at which staves with this taper close to a vessel."),
	House:        Values{"staves": 12, "top_diameter": 300, "bottom_diameter": 210, "height": 280, "thickness": 13},
	layout:       layoutCooperedVessel,
	fit:          func(p, q Values, out []Made) string { return fitRing(vesselNumbers(p, q), out) },
	parts:        func(p, q Values) ([]Part, string) { return ringParts(vesselNumbers(p, q), "stave") },
	places:       func(p, q Values) map[string]Place { return ringPlaces(vesselNumbers(p, q)) },
}

// vesselGivens are the parameters of the vessel.
type vesselGivens struct {
	staves, top, bottom, height, thickness float64
}

func vesselGivensOf(p Values) vesselGivens {
	return vesselGivens{
		staves: p["staves"], top: p["top_diameter"], bottom: p["bottom_diameter"],
		height: p["height"], thickness: p["thickness"],
	}
}

// layoutCooperedVessel draws the middle of a flat at the top and at the
// bottom, lays the stave's outside face through them, and cuts it by the plane
// between two staves.
func layoutCooperedVessel(p Values, set func(string, float64)) []string {
	g := vesselGivensOf(p)
	if !(g.staves > 2 && g.top > 0 && g.bottom > 0 && g.height > 0) {
		return nil // a size is out of range, and that is said already
	}
	low, high := geom.Vec{X: g.bottom / 2}, geom.Vec{X: g.top / 2, Z: g.height}
	up := r3.Sub(high, low)
	lean, okLean := geom.AngleOn(geom.Vec{Y: 1}, geom.Vec{Z: 1}, up)
	s, okSide := sideOfRing(g.staves, lean, g.thickness, g.bottom/2)
	if !okLean || !okSide {
		return nil
	}
	set("lean", lean.Degrees())
	set("stave_length", geom.Distance(low, high))
	for _, end := range [2]struct {
		id     string
		height float64
	}{{"top_width", g.height}, {"bottom_width", 0}} {
		level := geom.Plane{N: geom.Vec{Z: 1}, D: end.height}
		if corner, ok := geom.Corner(s.outside, s.between, level); ok {
			mirrored := corner
			mirrored.Y = -corner.Y
			set(end.id, geom.Distance(corner, mirrored))
		}
	}
	s.measureEnds(g.staves, set, "taper_angle", "edge_bevel")
	return g.problems(s)
}

// problems is the buildable rule.
func (g vesselGivens) problems(s ringSide) []string {
	var out []string
	if g.top < g.bottom {
		out = append(out, "The vessel is narrower at the top than at the bottom: turn it over, so that the wide end is the top.")
	}
	// The inside face, at the foot, has to stay on its own side of the axis.
	level := geom.Plane{N: geom.Vec{Z: 1}}
	foot, ok := s.inside.Meet(level)
	if g.thickness > 0 && (!ok || !(foot.At.X > 0)) {
		out = append(out, "The staves are so thick that nothing is left inside at the bottom.")
	}
	return out
}

// vesselNumbers are the numbers of the vessel's ring. The ends of a stave are
// square to its face.
func vesselNumbers(p, q Values) ringNumbers {
	return ringNumbers{
		sides: p["staves"], thickness: p["thickness"],
		slant: geom.Deg(q["taper_angle"]), bevel: geom.Deg(q["edge_bevel"]),
		width: q["bottom_width"], length: q["stave_length"],
	}
}
