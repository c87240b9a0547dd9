package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// roofMade is the roof that the submitted numbers make. A rafter takes its
// slope from its cuts, which stand plumb on the ridge and level on the plate,
// and its head is where its length ends.
type roofMade struct {
	frame            roofFrame
	common, hip      geom.Vec // the rafters' directions, upward
	commonHead, head geom.Vec
}

func makeRoof(p, q Values, m *roofMade) (trouble string) {
	var ok bool
	if m.frame, ok = roofGivensOf(p).frame(); !ok {
		return "With these sizes there is no roof."
	}
	pitch, plumb := geom.Deg(q["pitch_angle"]), geom.Deg(q["hip_plumb"])
	switch {
	case pitch <= -geom.Right || pitch >= geom.Right || plumb <= 0 || plumb >= 2*geom.Right:
		return "With this angle no rafter reaches from the plate to the ridge."
	case q["common_length"] <= 0 || q["hip_length"] <= 0:
		return "With this length there is no rafter."
	}
	f := m.frame
	sin, cos := pitch.SinCos()
	m.common = geom.Along(r3.Scale(cos, f.middle.N), sin, f.up)
	m.commonHead = geom.Along(f.eaves, q["common_length"], m.common)
	plan, ok := geom.Unit(f.plates.Foot(f.hipHead))
	if !ok {
		return "With these sizes there is no roof."
	}
	sin, cos = plumb.SinCos()
	m.hip = geom.Along(r3.Scale(sin, plan), cos, f.up)
	m.head = geom.Along(f.corner, q["hip_length"], m.hip)
	return ""
}

// fitHipRafter sets how far off the ridge comes to lie: the worse of the two
// rafters.
func fitHipRafter(p, q Values, out []Made) string {
	var m roofMade
	if trouble := makeRoof(p, q, &m); trouble != "" {
		return trouble
	}
	f := m.frame
	off := geom.Dot(f.up, r3.Sub(m.commonHead, f.ridge))
	if hip := geom.Dot(f.up, r3.Sub(m.head, f.hipHead)); math.Abs(hip) > math.Abs(off) {
		off = hip
	}
	out[0] = number(off)
	return ""
}

// seenHipRafter is the ridge's error as seen from the plates' corner, along
// the hip.
func seenHipRafter(p Values, made []Made) float64 {
	f, ok := roofGivensOf(p).frame()
	if !ok {
		return math.Inf(1)
	}
	return geom.Atan2(math.Abs(made[0].Value.Max), geom.Distance(f.corner, f.hipHead)).Degrees()
}

// roofTimber is what of the span the rafters are shown thick; they are shown
// twice as deep. No number depends on it.
const roofTimber = 1.0 / 80

// partsHipRafter are the hip, backed, and a common rafter that stands clear of
// it, both cut plumb at the ridge and over the plate.
func partsHipRafter(p, q Values) ([]Part, string) {
	var m roofMade
	if trouble := makeRoof(p, q, &m); trouble != "" {
		return nil, trouble
	}
	const gone = "With these numbers a rafter is cut away altogether."
	f, thick := m.frame, p["span"]*roofTimber
	backing := geom.Deg(q["backing_angle"])
	hip, okHip := m.rafter(f.corner, m.head, m.hip, thick, backing)
	beside := geom.Vec{X: 8 * thick}
	common, okCommon := m.rafter(r3.Add(f.eaves, beside), r3.Add(m.commonHead, beside), m.common, thick, 0)
	if !okHip || !okCommon {
		return nil, gone
	}
	return []Part{{Name: "hip", Pieces: []geom.Solid{hip}}, {Name: "common rafter", Pieces: []geom.Solid{common}}}, ""
}

// rafter is a length of timber whose top's middle line runs from foot to head,
// its top falling away to both sides by backing.
func (m *roofMade) rafter(foot, head, dir geom.Vec, thick float64, backing geom.Angle) (geom.Solid, bool) {
	f := m.frame
	side, okSide := geom.Unit(geom.Cross(dir, f.up))
	up := geom.Cross(side, dir)
	plumb, okPlumb := geom.Unit(geom.Cross(f.up, side))
	sin, cos := backing.SinCos()
	planes := make([]geom.Plane, 0, 7)
	ok := okSide && okPlumb
	for _, face := range [...]struct{ normal, through geom.Vec }{
		{side, geom.Along(foot, thick/2, side)},
		{r3.Scale(-1, side), geom.Along(foot, -thick/2, side)},
		{geom.Along(r3.Scale(cos, up), sin, side), foot},
		{geom.Along(r3.Scale(cos, up), -sin, side), foot},
		{r3.Scale(-1, up), geom.Along(foot, -2*thick, up)},
		{plumb, head},
		{r3.Scale(-1, plumb), foot},
	} {
		plane, okPlane := geom.NewPlane(face.normal, face.through)
		planes, ok = append(planes, plane), ok && okPlane
	}
	if !ok {
		return geom.Solid{}, false
	}
	reach := 4 * (geom.Norm(foot) + geom.Norm(head) + thick)
	return geom.FromHalfSpaces(planes, reach, exact)
}
