package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// legMade is the leg as the submitted numbers place it.
type legMade struct {
	frame legFrame
	// bored are the feet of the leg bored by the resultant and bored by the
	// drill tilt, along the sightline, at the leg's length; marked is the foot
	// as set off on the floor.
	bored  [2]geom.Vec
	marked geom.Vec
}

// makeLeg bores and cuts the leg. The resultant and the drill tilt say the
// same thing of one hole; where they differ, either may have been used.
func makeLeg(p, q Values, m *legMade) (trouble string) {
	var ok bool
	if m.frame, ok = legGivensOf(p).frame(); !ok {
		return "With these sizes there is no leg."
	}
	sightline, has := q["sightline"]
	if !has {
		return "A leg that stands upright has no direction to be bored in."
	}
	lean, tilt, length := geom.Deg(q["resultant"]), geom.Deg(q["drill_tilt"]), q["leg_length"]
	switch {
	case lean <= -geom.Right || lean >= geom.Right || tilt <= 0 || tilt >= 2*geom.Right:
		return "With this angle no hole is bored through the seat."
	case length <= 0:
		return "With this length there is no leg."
	}
	f := m.frame
	sin, cos := geom.Deg(sightline).SinCos()
	toward := geom.Along(r3.Scale(cos, f.rake), sin, f.splay)
	for i, a := range [2]geom.Angle{lean, geom.Right - tilt} {
		out, down := a.SinCos()
		m.bored[i] = geom.Along(geom.Along(f.hole, float64(length*out), toward), -float64(length*down), f.up)
	}
	m.marked = geom.Along(geom.Along(f.floor.Foot(f.hole), q["foot_rake"], f.rake), q["foot_splay"], f.splay)
	return ""
}

// fitSplayedLeg sets how far the foot and the seat come to be off.
func fitSplayedLeg(p, q Values, out []Made) string {
	var m legMade
	if trouble := makeLeg(p, q, &m); trouble != "" {
		return trouble
	}
	floor := m.frame.floor
	off := geom.Distance(m.marked, m.frame.foot)
	height := 0.0
	for _, foot := range m.bored {
		off = max(off, geom.Distance(floor.Foot(foot), m.frame.foot))
		// A foot that would lie below the floor lifts the seat.
		if h := -floor.Dist(foot); math.Abs(h) > math.Abs(height) {
			height = h
		}
	}
	out[0], out[1] = number(off), number(height)
	return ""
}

// seenSplayedLeg is the worse of the two errors as seen from the hole, along
// the leg.
func seenSplayedLeg(p Values, made []Made) float64 {
	f, ok := legGivensOf(p).frame()
	if !ok {
		return math.Inf(1)
	}
	off := max(math.Abs(made[0].Value.Max), math.Abs(made[1].Value.Max))
	return geom.Atan2(off, geom.Distance(f.hole, f.foot)).Degrees()
}

// What the leg is shown as: no number depends on these.
const (
	legThick       = 34
	seatThick      = 32
	stretcherThick = 22
)

// partsSplayedLeg are a piece of the seat, both legs from its underside to
// their feet, cut level, and the stretcher between them. Tenons are left out:
// parts end where their faces meet.
func partsSplayedLeg(p, q Values) ([]Part, string) {
	var m legMade
	if trouble := makeLeg(p, q, &m); trouble != "" {
		return nil, trouble
	}
	g, f := legGivensOf(p), m.frame
	legs, trouble := m.legs(g)
	if trouble != "" {
		return nil, trouble
	}
	half := g.spacing/2 + 2*legThick
	seat, ok := geom.Box(geom.Vec{X: -3 * legThick, Y: -half}, geom.Vec{X: 3 * legThick, Y: half, Z: seatThick})
	if !ok {
		return nil, "With these sizes there is no seat."
	}
	parts := []Part{{Name: "seat", Pieces: []geom.Solid{seat}}}
	parts = append(parts, legs...)
	if rail, ok := m.stretcher(g, f); ok {
		parts = append(parts, Part{Name: "stretcher", Pieces: []geom.Solid{rail}})
	}
	return parts, ""
}

// legPlanes are the four sides of the leg that is bored by the resultant, the
// first of them toward the other leg.
func (m *legMade) legPlanes() (planes [4]geom.Plane, ok bool) {
	f := m.frame
	axis := r3.Sub(m.bored[0], f.hole)
	back := geom.Cross(axis, f.splay)
	inward := geom.Cross(back, axis)
	if geom.Dot(inward, f.splay) > 0 {
		inward = r3.Scale(-1, inward)
	}
	ok = true
	for i, n := range [4]geom.Vec{inward, r3.Scale(-1, inward), back, r3.Scale(-1, back)} {
		plane, okPlane := geom.NewPlane(n, f.hole)
		planes[i], ok = plane.Shift(legThick/2), ok && okPlane
	}
	return planes, ok
}

// legs are the leg and its mirror image.
func (m *legMade) legs(g legGivens) ([]Part, string) {
	const gone = "With these numbers a leg is cut away altogether."
	sides, ok := m.legPlanes()
	if !ok {
		return nil, gone
	}
	level := geom.Plane{N: r3.Scale(-1, m.frame.up), D: -m.bored[0].Z}
	planes := append(sides[:], m.frame.seat, level)
	reach := 4 * (geom.Norm(m.bored[0]) + g.spacing + g.height + legThick)
	var parts []Part
	for _, name := range [2]string{"leg", "other leg"} {
		leg, ok := geom.FromHalfSpaces(planes, reach, exact)
		if !ok {
			return nil, gone
		}
		parts = append(parts, Part{Name: name, Pieces: []geom.Solid{leg}})
		for i := range planes {
			planes[i].N.Y = -planes[i].N.Y
		}
	}
	return parts, ""
}

// stretcher is the rail between the two legs' inner faces. ok is false where
// they leave no room for one.
func (m *legMade) stretcher(g legGivens, f legFrame) (geom.Solid, bool) {
	sides, ok := m.legPlanes()
	at, okAt := geom.Line{At: f.hole, Dir: f.axis.Dir}.Pierce(f.floor.Shift(g.stretcher))
	if !ok || !okAt {
		return geom.Solid{}, false
	}
	const half = stretcherThick / 2
	planes := []geom.Plane{
		{N: f.rake, D: at.X + half}, {N: r3.Scale(-1, f.rake), D: half - at.X},
		{N: f.up, D: at.Z + half}, {N: r3.Scale(-1, f.up), D: half - at.Z},
		sides[0].Flip(), sides[0].Flip(),
	}
	planes[5].N.Y = -planes[5].N.Y
	return geom.FromHalfSpaces(planes, 4*(geom.Norm(at)+geom.Norm(m.bored[0])+legThick), exact)
}
