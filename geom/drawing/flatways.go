package drawing

import (
	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

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
	return geom.Vec{Z: 2 * l.Parameters["thickness"]}
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
