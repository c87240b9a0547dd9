package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// legGivens are the parameters of the leg.
type legGivens struct {
	height, spacing, stretcher float64
	rake, splay                geom.Angle
}

func legGivensOf(p Values) legGivens {
	return legGivens{
		height: p["height"], spacing: p["top_spacing"], stretcher: p["stretcher_height"],
		rake: geom.Deg(p["rake"]), splay: geom.Deg(p["splay"]),
	}
}

// legFrame is the leg's axis between the seat and the floor. Rake and splay
// are directions in plan; seat and floor are level planes, up their normal.
type legFrame struct {
	rake, splay, up geom.Vec
	seat, floor     geom.Plane
	axis            geom.Line // through the hole's centre, downward
	hole, foot      geom.Vec
}

// frame draws the leg in two views, each a plane through the hole's centre
// that is seen edge on: their common line is the axis. ok is false where there
// is no leg: no height, or a leg that lies down.
func (g legGivens) frame() (f legFrame, ok bool) {
	if !(g.height > 0 && g.rake > -geom.Right && g.rake < geom.Right && g.splay > -geom.Right && g.splay < geom.Right) {
		return legFrame{}, false
	}
	f.rake, f.splay, f.up = geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	f.seat = geom.Plane{N: f.up}
	f.floor = geom.Plane{N: f.up, D: -g.height}
	f.hole = geom.Along(geom.Vec{}, g.spacing/2, f.splay)
	sinR, cosR := g.rake.SinCos()
	sinS, cosS := g.splay.SinCos()
	fromSide, okSide := geom.NewPlane(geom.Vec{X: cosR, Z: sinR}, f.hole)
	fromFront, okFront := geom.NewPlane(geom.Vec{Y: cosS, Z: sinS}, f.hole)
	line, okAxis := fromSide.Meet(fromFront)
	if !okSide || !okFront || !okAxis {
		return legFrame{}, false
	}
	if geom.Dot(line.Dir, f.up) > 0 {
		line.Dir = r3.Scale(-1, line.Dir)
	}
	f.axis = geom.Line{At: f.hole, Dir: line.Dir}
	f.foot, ok = f.axis.Pierce(f.floor)
	return f, ok
}

// layoutSplayedLeg measures the axis.
func layoutSplayedLeg(p Values, set func(string, float64)) []string {
	g := legGivensOf(p)
	f, ok := g.frame()
	leans := false
	if ok {
		leans = f.measureLeg(set)
		g.measureStretcher(f, set)
	}
	return g.problems(ok && !leans)
}

// measureLeg sets what is bored and cut for the leg, and says whether it leans
// in any direction.
func (f legFrame) measureLeg(set func(string, float64)) (leans bool) {
	out := r3.Sub(f.foot, f.hole)
	set("foot_rake", geom.Dot(out, f.rake))
	set("foot_splay", geom.Dot(out, f.splay))
	set("leg_length", geom.Distance(f.hole, f.foot))
	down := r3.Scale(-1, f.up)
	if a, ok := geom.AngleBetween(f.axis.Dir, down); ok {
		set("resultant", a.Degrees())
		set("drill_tilt", (geom.Right - a).Degrees())
	}
	plan := r3.Sub(f.seat.Foot(f.foot), f.hole)
	// A leg that stands upright leans in no direction.
	a, ok := geom.AngleOn(f.up, f.rake, plan)
	leans = ok && geom.Norm(plan) > exact
	if leans {
		set("sightline", a.Degrees())
	}
	return leans
}

// measureStretcher sets what joins this leg to its mirror image.
func (g legGivens) measureStretcher(f legFrame, set func(string, float64)) {
	at, ok := f.axis.Pierce(f.floor.Shift(g.stretcher))
	if !ok {
		return
	}
	other := at
	other.Y = -at.Y
	set("stretcher_length", geom.Distance(at, other))
	// Down the leg, the axis turns away from the stretcher's own direction
	// outward by what the bevel shows.
	if a, ok := geom.AngleBetween(f.axis.Dir, f.splay); ok {
		set("stretcher_bevel", a.Degrees())
	}
}

// problems is the buildable rule.
func (g legGivens) problems(upright bool) []string {
	var out []string
	if upright {
		out = append(out, "A leg without rake and splay stands upright: it has no sightline.")
	}
	if g.stretcher >= g.height && g.height > 0 {
		out = append(out, "The stretcher must lie below the seat.")
	}
	return out
}
