package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// seat are the givens of a tapered seat frame.
type seat struct {
	front, back, depth, leg, rail float64
	ahead, up                     geom.Vec
	top                           geom.Plane
}

func seatOf(p Values) seat {
	return seat{
		front: p["front_width"], back: p["back_width"], depth: p["depth"], leg: p["leg"], rail: p["rail_thickness"],
		ahead: geom.Vec{X: 1}, up: geom.Vec{Z: 1}, top: geom.Plane{N: geom.Vec{Z: 1}},
	}
}

// sound says that there is a rail and that it has some way to run.
func (g seat) sound() bool {
	return g.front > 0 && g.back > 0 && g.leg > 0 && g.rail > 0 && g.depth > g.leg
}

// middles are the middles of the front and the back leg, from their corners.
func (g seat) middles() (front, back geom.Vec) {
	inner := geom.Vec{X: g.leg, Y: -g.leg}
	front = geom.Along(geom.Vec{Y: g.front / 2}, 0.5, inner)
	back = geom.Along(geom.Vec{X: g.depth - g.leg, Y: g.back / 2}, 0.5, inner)
	return front, back
}

// faces are the faces of the two legs that the rail stands between; their
// normals point into the legs.
func (g seat) faces() (front, back geom.Plane) {
	return geom.Plane{N: r3.Scale(-1, g.ahead), D: -g.leg}, geom.Plane{N: g.ahead, D: g.depth - g.leg}
}

// bar is a rail: its centre line on the top, and its two faces, whose normals
// point out of the wood.
type bar struct {
	line         geom.Line
	outer, inner geom.Plane
}

// bar lays a rail through a point.
func (g seat) bar(through, along geom.Vec) (b bar, ok bool) {
	out := geom.Cross(g.up, along)
	var okOuter, okInner bool
	b.line.At = through
	b.line.Dir, ok = geom.Unit(along)
	b.outer, okOuter = geom.NewPlane(out, through)
	b.inner, okInner = geom.NewPlane(r3.Scale(-1, out), through)
	b.outer, b.inner = b.outer.Shift(g.rail/2), b.inner.Shift(g.rail/2)
	return b, ok && okOuter && okInner
}

// slant is how much farther along the rail a plane across it lies on the inner
// face than on the outer.
func (b bar) slant(top, across geom.Plane) (float64, bool) {
	outside, okOutside := geom.Corner(b.outer, across, top)
	inside, okInside := geom.Corner(b.inner, across, top)
	return geom.Dot(b.line.Dir, r3.Sub(inside, outside)), okOutside && okInside
}

// rightRail is the rail as it should be, and its length between the legs.
func (g seat) rightRail() (b bar, length float64, ok bool) {
	front, back := g.middles()
	b, okBar := g.bar(front, r3.Sub(back, front))
	legFront, legBack := g.faces()
	from, okFrom := b.line.Pierce(legFront)
	to, okTo := b.line.Pierce(legBack)
	return b, geom.Dot(b.line.Dir, r3.Sub(to, from)), okBar && okFrom && okTo
}

// layoutAngledTenon measures every quantity on the rail between its legs.
func layoutAngledTenon(p Values, set func(string, float64)) []string {
	g := seatOf(p)
	if !g.sound() {
		return g.problems()
	}
	rail, length, ok := g.rightRail()
	legFront, _ := g.faces()
	shift, okShift := rail.slant(g.top, legFront)
	if !ok || !okShift {
		return g.problems()
	}
	if a, ok := geom.AngleOn(g.up, rail.line.Dir, g.ahead); ok {
		set("splay_angle", a.Degrees())
	}
	inward := geom.Vec{Y: -1} // along a shoulder line, from the outer face
	if a, ok := geom.AngleBetween(inward, rail.line.Dir); ok {
		set("shoulder_bevel", a.Degrees())
	}
	set("shoulder_length", length)
	set("shoulder_shift", shift)
	through := rail.inner.Foot(rail.outer.Foot(rail.line.At))
	set("tenon_thickness", -rail.outer.Dist(through)/3)
	return g.problems()
}

// problems is the buildable rule.
func (g seat) problems() []string {
	var out []string
	if g.back >= g.front && g.front > 0 {
		out = append(out, "A frame that does not narrow toward the back needs no such rail: the back width must be less than the front width.")
	}
	if g.back > 0 && g.leg > 0 && g.back <= 2*g.leg {
		out = append(out, "The two back legs do not fit side by side into the back width.")
	}
	if g.depth > 0 && g.leg > 0 && g.depth <= 2*g.leg {
		out = append(out, "The legs leave no room for a side rail: the depth must be more than two legs.")
	}
	if g.leg > 0 && g.rail >= g.leg {
		out = append(out, "The rail must be thinner than the leg that it meets.")
	}
	return out
}

// railMade is the rail as made, touching the front leg.
type railMade struct {
	seat
	rail bar
	// length is from shoulder to shoulder along the centre line.
	length float64
	// byBevel and byShift are the way a shoulder line runs across the rail, from
	// the outer face, in the two ways that the numbers tell it.
	byBevel, byShift geom.Vec
}

// makeRail lays the rail from the middle of the front leg at the submitted
// splay.
func makeRail(p, q Values) (m railMade, trouble string) {
	m.seat = seatOf(p)
	if !m.sound() {
		return m, "On this blank there is no rail to make."
	}
	splay, bevel := geom.Deg(q["splay_angle"]), geom.Deg(q["shoulder_bevel"])
	for _, id := range [...]string{"splay_angle", "shoulder_bevel", "shoulder_length", "shoulder_shift", "tenon_thickness"} {
		if _, ok := q[id]; !ok {
			return m, "On this blank there is no rail to make."
		}
	}
	m.length = q["shoulder_length"]
	switch {
	case splay <= -geom.Right || splay >= geom.Right:
		return m, "With this splay the rail does not run from front to back."
	case bevel <= 0 || bevel >= 2*geom.Right:
		return m, "With this bevel no shoulder can be sawn across the rail."
	case m.length <= 0:
		return m, "With this length there is no rail between the legs."
	}
	front, _ := m.middles()
	sin, cos := splay.SinCos()
	var ok bool
	if m.rail, ok = m.bar(front, geom.Vec{X: cos, Y: -sin}); !ok {
		return m, "With this splay the rail does not run from front to back."
	}
	sinB, cosB := bevel.SinCos()
	along, across := m.rail.line.Dir, m.rail.inner.N
	m.byBevel = geom.Along(geom.Along(geom.Vec{}, cosB, along), sinB, across)
	m.byShift = geom.Along(geom.Along(geom.Vec{}, q["shoulder_shift"], along), m.seat.rail, across)
	return m, ""
}

// shoulder is a shoulder as sawn, through a point of the centre line. Its
// normal points toward the back.
func (m railMade) shoulder(through, across geom.Vec) (geom.Plane, bool) {
	return geom.NewPlane(geom.Cross(m.up, across), through)
}

// open is how far a shoulder stands off the leg at one face of the rail when it
// touches at the other, along the rail.
func (m railMade) open(across geom.Vec) (float64, bool) {
	leg, _ := m.faces()
	shoulder, ok := m.shoulder(m.rail.line.At, across)
	made, okMade := m.rail.slant(m.top, shoulder)
	wanted, okWanted := m.rail.slant(m.top, leg)
	return made - wanted, ok && okMade && okWanted
}

// fitAngledTenon sets shoulder_gap, length_error and width_error.
func fitAngledTenon(p, q Values, out []Made) string {
	m, trouble := makeRail(p, q)
	if trouble != "" {
		return trouble
	}
	byBevel, okBevel := m.open(m.byBevel)
	byShift, okShift := m.open(m.byShift)
	_, right, okRight := m.rightRail()
	back, okBack := m.backLeg()
	if !okBevel || !okShift || !okRight || !okBack {
		return "With these numbers no rail can be made."
	}
	out[0] = number(max(byBevel, -byBevel, byShift, -byShift))
	out[1] = number(m.length - right)
	out[2] = number(2*(back.Y+m.leg/2) - m.back)
	return ""
}

// placesAngledTenon says at which face of the rail the front shoulder stands
// off; at the back leg it is the other face, for the shoulders are parallel.
func placesAngledTenon(p, q Values) map[string]Place {
	m, trouble := makeRail(p, q)
	if trouble != "" {
		return map[string]Place{}
	}
	byBevel, okBevel := m.open(m.byBevel)
	byShift, okShift := m.open(m.byShift)
	if !okBevel || !okShift {
		return map[string]Place{}
	}
	worse := byBevel
	if max(byShift, -byShift) > max(byBevel, -byBevel) {
		worse = byShift
	}
	switch {
	case worse > sameGap:
		return map[string]Place{"shoulder_gap": {Least: "front-outer", Most: "front-inner"}}
	case worse < -sameGap:
		return map[string]Place{"shoulder_gap": {Least: "front-inner", Most: "front-outer"}}
	}
	return map[string]Place{"shoulder_gap": {}}
}

// backLeg is where the middle of the back leg comes to stand: on the rail's
// centre line, half a leg behind the back shoulder. Both shoulders touch the
// legs on the centre line here, for a gap is told on its own.
func (m railMade) backLeg() (middle geom.Vec, ok bool) {
	legFront, _ := m.faces()
	from, okFrom := m.rail.line.Pierce(legFront)
	to := geom.Along(from, m.length, m.rail.line.Dir)
	behind := geom.Plane{N: m.ahead, D: geom.Dot(m.ahead, to) + m.leg/2}
	middle, okTo := m.rail.line.Pierce(behind)
	return middle, okFrom && okTo
}
