package drawing

import (
	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// ways says how far each part is pulled in a picture of the parts apart: the
// way by which it slides home, the other way round.
func ways(family string, parts []joint.Part, l joint.Layout) []geom.Vec {
	out := make([]geom.Vec, len(parts))
	if pull, ok := seating[family]; ok {
		for i, p := range parts {
			out[i] = pull(p, l)
		}
		return out
	}
	// Nothing is known of the family: away from the middle of the first part.
	for i := range parts[1:] {
		out[i+1] = r3.Scale(0.6, r3.Sub(centreOf(parts[i+1]), centreOf(parts[0])))
	}
	return out
}

// seating holds one line a family: how a part is pulled from its place.
var seating = map[string]func(p joint.Part, l joint.Layout) geom.Vec{
	"head-v-joint":     headVWay,
	"through-dovetail": pinsWay,
	"lapped-dovetail":  pinsWay,
	"angled-lap":       lapWay,
	"unequal-mitre":    mitreWay,
	"angled-tenon":     seatWay,
	"head-scarf":       scarfWay,
	"splayed-box":      ringWay,
	"coopered-vessel":  ringWay,
	"splayed-leg":      legWay,
}

// headVWay pulls the head along its own length.
func headVWay(p joint.Part, l joint.Layout) geom.Vec {
	if p.Name != "head" {
		return geom.Vec{}
	}
	sin, cos := geom.Deg(l.Parameters["head_angle"]).SinCos()
	return r3.Scale(1.5*l.Quantities["face_v_length"], geom.Vec{X: cos, Z: -sin})
}

// scarfWay lifts the head piece off the ramp.
func scarfWay(p joint.Part, l joint.Layout) geom.Vec {
	if p.Name == "neck" {
		return geom.Vec{}
	}
	sin, cos := geom.Deg(l.Parameters["head_angle"]).SinCos()
	return r3.Scale(3*l.Parameters["thickness"], geom.Vec{X: sin, Z: cos})
}

// ringWay pulls a side straight away from the ring's axis.
func ringWay(p joint.Part, _ joint.Layout) geom.Vec {
	c := centreOf(p)
	return r3.Scale(0.45, geom.Vec{X: c.X, Y: c.Y})
}

// legWay lifts the seat off the legs.
func legWay(p joint.Part, l joint.Layout) geom.Vec {
	if p.Name == "seat" {
		return geom.Vec{Z: 0.3 * l.Parameters["height"]}
	}
	return geom.Vec{}
}
