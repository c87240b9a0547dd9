package drawing

import (
	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// shortened is parts without what a picture has no use for: the cross lap's
// pieces are as long as fits may want them, and their notches would come out
// small.
func shortened(family string, parts []joint.Part, l joint.Layout) []joint.Part {
	if family != "angled-lap" {
		return parts
	}
	sin, cos := geom.Deg(l.Parameters["crossing_angle"]).SinCos()
	a, b := l.Parameters["width_a"], l.Parameters["width_b"]
	middle := geom.Vec{X: (l.Quantities["shoulder_spacing"] + l.Quantities["shoulder_skew"]) / 2, Y: a / 2}
	more := 0.8 * max(a, b)
	within := func(part joint.Part, along geom.Vec, half float64) joint.Part {
		at := geom.Dot(along, middle)
		ends := []geom.Plane{{N: along, D: at + half}, {N: r3.Scale(-1, along), D: half - at}}
		return cutTo([]joint.Part{part}, ends...)[0]
	}
	return []joint.Part{
		within(parts[0], geom.Vec{X: 1}, middle.X+more),
		within(parts[1], geom.Vec{X: cos, Y: sin}, (a+b*cos)/sin/2+more),
	}
}

// pinsWay lifts the pin board off the tails.
func pinsWay(p joint.Part, l joint.Layout) geom.Vec {
	if p.Name != "pin board" {
		return geom.Vec{}
	}
	return geom.Vec{Z: 2.2 * l.Parameters["tail_thickness"]}
}

// lapWay lifts piece B out of piece A's notch.
func lapWay(p joint.Part, l joint.Layout) geom.Vec {
	if p.Name != "piece B" {
		return geom.Vec{}
	}
	return geom.Vec{Z: l.Parameters["thickness"] + 0.7*max(l.Parameters["width_a"], l.Parameters["width_b"])}
}

// mitreWay pulls each board along its own length.
func mitreWay(p joint.Part, l joint.Layout) geom.Vec {
	along := geom.Vec{X: 1}
	if p.Name == "board b" {
		sin, cos := geom.Deg(l.Parameters["corner_angle"]).SinCos()
		along = geom.Vec{X: cos, Y: sin}
	}
	return r3.Scale(0.4*max(l.Parameters["width_a"], l.Parameters["width_b"]), along)
}

// seatWay pulls each leg off its tenon.
func seatWay(p joint.Part, l joint.Layout) geom.Vec {
	far := 1.6 * l.Parameters["leg"]
	switch p.Name {
	case "front leg":
		return geom.Vec{X: -far}
	case "back leg":
		return geom.Vec{X: far}
	}
	return geom.Vec{}
}
