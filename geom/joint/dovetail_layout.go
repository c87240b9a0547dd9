package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// layoutDovetail measures every quantity on the planes of the corner.
func layoutDovetail(p Values, set func(string, float64)) []string {
	g := dovetailOf(p)
	// The tails reach from the pin board's inner face to the floor, the pins
	// from the tail board's inner face to its outer one.
	set("tail_baseline", g.depth)
	set("pin_baseline", -g.end.Dist(g.face.Foot(geom.Vec{})))
	if g.hasSlope {
		g.measureSlope(set)
	}
	r, ok := g.row()
	if !ok {
		return g.problems(0, 0, 0, false)
	}
	return g.measureRow(r, set)
}

// measureSlope sets the angles of a side.
func (g dovetail) measureSlope(set func(string, float64)) {
	square := r3.Scale(-1, g.ahead) // from the end toward the baseline
	if a, ok := geom.AngleBetween(g.near(), square); ok {
		set("slope_angle", a.Degrees())
	}
	if a, ok := geom.AngleBetween(g.near(), g.across); ok {
		set("bevel_from_end", a.Degrees())
	}
}

// measureRow sets what depends on the division of the end.
func (g dovetail) measureRow(r row, set func(string, float64)) []string {
	offset := func(v geom.Vec) float64 { return -g.nearEdge.Dist(v) }
	set("first_tail_start", offset(r.start(0)))
	set("last_tail_end", offset(r.end(g.tails-1)))
	if g.tails >= 2 {
		set("second_tail_start", offset(r.start(1)))
	}
	width := offset(r.end(0)) - offset(r.start(0))
	set("tail_width", width)
	// Where the sides of the first tail, and the near side of the next (of the
	// one that would follow, if there is one tail only), cross the baseline.
	var at [3]geom.Vec
	for i, s := range [3]struct{ mark, along geom.Vec }{
		{r.start(0), g.near()}, {r.end(0), g.far()}, {r.start(1), g.near()},
	} {
		plane, ok := side(s.mark, s.along)
		corner, okCorner := geom.Corner(plane, g.inner, g.face)
		if !ok || !okCorner {
			return g.problems(0, 0, 0, false)
		}
		at[i] = corner
	}
	narrow := offset(at[1]) - offset(at[0])
	wide := offset(at[2]) - offset(at[1])
	set("tail_at_baseline", narrow)
	set("pin_wide", wide)
	return g.problems(width, narrow, wide, true)
}

const (
	// leastTail is how many times as wide as a pin's narrow side a tail must be
	// where it is narrowest.
	leastTail = 1.5
	// leastPin is the least width of a pin at the baseline, in millimetres.
	leastPin = 4
)

// problems is the buildable rule. exact keeps a blank that just reaches a
// limit from failing by rounding.
func (g dovetail) problems(width, narrow, wide float64, divided bool) []string {
	var out []string
	if g.lapped && g.pinBoard > 0 && g.depth <= 0 {
		out = append(out, "The lap leaves the tails no length: it must be thinner than the pin board.")
	}
	switch {
	case !divided:
	case width <= 0:
		return append(out, "So many tails and pins do not fit on this width.")
	case narrow < float64(leastTail*g.pin)-exact:
		out = append(out, "The tails are too narrow at the baseline: there they must be at least one and a half times as wide as a pin's narrow side.")
	}
	if divided && g.depth > 0 && wide < leastPin-exact {
		out = append(out, "The pins are too thin: at the baseline they must be at least 4 mm wide.")
	}
	return out
}
