package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// headScarf is the scarf joint of a tilted instrument head. One cut, at the
// head angle to the face, parts the blank; the piece beyond it is turned over,
// so that its old face lies on the neck's ramp and its own ramp comes level
// with the neck's face.
//
// Frame: the neck's face is z = 0, +x runs toward the head, the origin is where
// the cut starts on the reference edge, which is y = 0. The ramp falls along
// p = (cos θ, 0, -sin θ).
//
// Only the submitted run of the cut decides how the head comes to stand: it is
// the mark that the saw arrives at. The head's tip, 180 mm along it, stands too
// high where tip_error is positive. As that is the only size in which a wrong
// cut shows (ramp and flat meet whatever the angle), the fit word is taken from
// it, by the limits of a gap.
var headScarf = &Family{
	ID:      "head-scarf",
	Title:   "Scarf joint of a tilted instrument head",
	Summary: "One slanting cut through the blank gives the neck a ramp that takes the flat of the head piece.",
	Parameters: []Parameter{
		{ID: "thickness", Name: "Thickness", Symbol: "T", Unit: MM, Min: 1, Max: 200, Measured: true,
			Means: "The blank's thickness, from its face to its back."},
		{ID: "width", Name: "Width", Symbol: "W", Unit: MM, Min: 1, Max: 500, Measured: true,
			Means: "The blank's width, square from the reference edge."},
		{ID: "head_angle", Name: "Head angle", Symbol: "θ", Unit: Deg, Min: 1, Max: 60,
			Means: "How far the head tilts back from the neck's face."},
		{ID: "kerf", Name: "Kerf", Symbol: "k", Unit: MM, Min: 0.1, Max: 10,
			Means: "What the saw turns to dust, measured square to the cut."},
		{ID: "head_thickness", Name: "Head thickness", Symbol: "H", Unit: MM, Min: 1, Max: 200,
			Means: "The head piece, planed before it is glued."},
	},
	Quantities: []Quantity{
		{ID: "face_run", Name: "Run on the face", Symbol: "r", Unit: MM,
			Means: "How far the cut runs along the blank.",
			From:  "From the cut's start to a point above where it leaves the back, along the neck's face."},
		{ID: "slope_length", Name: "Slope length", Symbol: "s", Unit: MM,
			Means: "The length of the ramp, a check on the run.",
			From:  "From the cut's start to where it leaves the back, along the cut."},
		{ID: "glue_area", Name: "Glue area", Symbol: "A", Unit: MM2,
			Means: "The surface of the ramp.",
			From:  "Over the whole ramp, from edge to edge."},
		{ID: "kerf_on_face", Name: "Kerf on the face", Symbol: "k′", Unit: MM,
			Means: "The width of the saw's slot, as it is seen on the face.",
			From:  "From the cut's start to the slot's other wall, along the neck's face."},
		{ID: "head_run", Name: "Run on the head", Symbol: "r′", Unit: MM,
			Means: "The length of the head piece's own ramp, after planing.",
			From:  "From the thin end to a point below where the ramp ends, along the head piece's face."},
	},
	Consequences: []Consequence{
		{ID: "head_angle_made", Name: "head angle made", Unit: Deg,
			Means: "How far the head tilts back from the neck's face with the cut as it was run."},
		{ID: "tip_error", Name: "height of the head's tip", Unit: MM, Gap: true,
			Means: "How much too high the head's tip comes to stand, 180 mm along the head, square to the neck's face; negative where it is too low."},
	},
	House: Values{
		"thickness": 22, "width": 60, "head_angle": 13, "kerf": 1.5, "head_thickness": 14,
	},
	layout: layoutHeadScarf,
	fit:    fitHeadScarf,
	parts:  partsHeadScarf,
}

const (
	// longestRun is how long a run this joint is made with, in millimetres.
	longestRun = 200
	// headLength is how far along the head its tip is looked at, in
	// millimetres.
	headLength = 180
)

// scarf are the givens and the planes that follow from them.
type scarf struct {
	thickness, width, kerf, finished float64
	tilt                             geom.Angle
	face, back, nearEdge, farEdge    geom.Plane // their normals point out of the wood
	ahead                            geom.Vec
}

func scarfOf(p Values) scarf {
	g := scarf{
		thickness: p["thickness"], width: p["width"], kerf: p["kerf"],
		finished: p["head_thickness"], tilt: geom.Deg(p["head_angle"]),
	}
	g.ahead = geom.Vec{X: 1}
	g.face = geom.Plane{N: geom.Vec{Z: 1}}
	g.back = geom.Plane{N: geom.Vec{Z: -1}, D: g.thickness}
	g.nearEdge = geom.Plane{N: geom.Vec{Y: -1}}
	g.farEdge = geom.Plane{N: geom.Vec{Y: 1}, D: g.width}
	return g
}

// cut is the neck's ramp as it should be: through the start line, falling by
// the tilt. Its normal points out of the neck. ok is false where such a cut
// leaves no wood or never comes to the back.
func (g scarf) cut() (ramp geom.Plane, ok bool) {
	sin, cos := g.tilt.SinCos()
	return geom.Plane{N: geom.Vec{X: sin, Z: cos}},
		g.thickness > 0 && g.width > 0 && sin > geom.Parallel && cos > geom.Parallel
}

// layoutHeadScarf measures every quantity on the planes of the cut.
func layoutHeadScarf(p Values, set func(string, float64)) []string {
	g := scarfOf(p)
	ramp, ok := g.cut()
	if !ok {
		return nil // what is implausible has been said
	}
	start := geom.Vec{}
	leaves, okLeaves := geom.Corner(ramp, g.back, g.nearEdge)
	leavesFar, okFar := geom.Corner(ramp, g.back, g.farEdge)
	slot, okSlot := geom.Corner(ramp.Shift(g.kerf), g.face, g.nearEdge)
	nut, okNut := geom.Corner(ramp.Shift(g.finished), g.face, g.nearEdge)
	if !okLeaves || !okFar || !okSlot || !okNut {
		return nil
	}
	run := geom.Dot(g.ahead, r3.Sub(leaves, start))
	set("face_run", run)
	set("slope_length", geom.Distance(start, leaves))
	rampFace := geom.Polygon{start, leaves, leavesFar, g.farEdge.Foot(start)}
	set("glue_area", rampFace.Area())
	set("kerf_on_face", geom.Dot(g.ahead, r3.Sub(slot, start)))
	// The head piece lies on the ramp, its own ramp level with the neck's face
	// and ending at the nut line; its face is parallel to the ramp.
	set("head_run", geom.Distance(start, ramp.Foot(nut)))
	return g.problems(run)
}

// problems is the buildable rule.
func (g scarf) problems(run float64) []string {
	var out []string
	if run > longestRun+exact {
		out = append(out, "The cut runs too far: it must leave the back within 200 mm along the face.")
	}
	if g.finished > g.thickness {
		out = append(out, "The head piece cannot be planed thicker than the blank is.")
	}
	return out
}

// sawn is the ramp as the submitted run has it: through the start line on the
// face and through the line at the run on the back.
func (g scarf) sawn(q Values) (ramp geom.Plane, along geom.Vec, trouble string) {
	run, ok := q["face_run"]
	if _, okCut := g.cut(); !okCut || !ok {
		return ramp, along, "On this blank there is no scarf to saw."
	}
	if run <= 0 {
		return ramp, along, "With this run the cut does not lead toward the head."
	}
	start, startFar := geom.Vec{}, g.farEdge.Foot(geom.Vec{})
	arrives := g.back.Foot(geom.Along(start, run, g.ahead))
	ramp, okRamp := geom.PlaneThrough(start, arrives, startFar)
	along, okAlong := geom.Unit(r3.Sub(arrives, start))
	if !okRamp || !okAlong {
		return ramp, along, "With this run no ramp can be sawn."
	}
	return ramp, along, ""
}

// fitHeadScarf sets head_angle_made and tip_error.
func fitHeadScarf(p, q Values, out []Made) string {
	g := scarfOf(p)
	_, along, trouble := g.sawn(q)
	if trouble != "" {
		return trouble
	}
	made, ok := geom.AngleBetween(g.ahead, along)
	if !ok {
		return "With this run no ramp can be sawn."
	}
	sin, cos := g.tilt.SinCos()
	right := geom.Vec{X: cos, Z: -sin}
	tip, wanted := geom.Along(geom.Vec{}, headLength, along), geom.Along(geom.Vec{}, headLength, right)
	out[0] = number(made.Degrees())
	out[1] = number(g.face.Dist(tip) - g.face.Dist(wanted))
	return ""
}

// partsHeadScarf are the neck, shown to one and a half widths behind the cut,
// and the head piece, shown to 180 mm beyond the nut line.
func partsHeadScarf(p, q Values) ([]Part, string) {
	g := scarfOf(p)
	ramp, along, trouble := g.sawn(q)
	if trouble != "" {
		return nil, trouble
	}
	blank, okBlank := geom.Box(geom.Vec{X: -1.5 * g.width, Z: -g.thickness}, geom.Vec{X: q["face_run"] + g.width, Y: g.width})
	neck, okNeck := blank.Clip(ramp, exact)
	nut, okNut := geom.Corner(ramp.Shift(g.finished), g.face, g.nearEdge)
	if !okBlank || !okNeck || !okNut {
		return nil, "With these numbers one of the parts is cut away altogether."
	}
	end := geom.Plane{N: along, D: geom.Dot(along, nut) + headLength}
	planes := []geom.Plane{ramp.Flip(), ramp.Shift(g.finished), g.face, g.nearEdge, g.farEdge, end}
	head, ok := geom.FromHalfSpaces(planes, 4*(end.D+g.width+g.finished), exact)
	if !ok {
		return nil, "With these numbers one of the parts is cut away altogether."
	}
	return []Part{{Name: "neck", Pieces: []geom.Solid{neck}}, {Name: "head piece", Pieces: []geom.Solid{head}}}, ""
}
