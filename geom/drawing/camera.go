package drawing

import (
	"math"

	"arrisbook/geom"
)

// camera looks at wood from far away along one direction, without perspective
// (orthographic, ISO 5456-2; axonometric where it looks at a corner, ISO
// 5456-3). Its three directions are square to each other and of unit length:
// what points right, up and toward the reader.
type camera struct{ right, up, toward geom.Vec }

// look is the camera that sees what faces toward, with up as nearly upright
// as it can be. Parallel directions give the camera from above.
func look(toward, up geom.Vec) camera {
	t, okToward := geom.Unit(toward)
	right, okRight := geom.Unit(geom.Cross(up, t))
	if !okToward || !okRight {
		return fromFace
	}
	return camera{right: right, up: geom.Cross(t, right), toward: t}
}

// The cameras of the catalogue's frames: x along the wood, y from the
// reference edge, z up from the face.
var (
	fromFace = camera{geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}}
	fromEdge = camera{geom.Vec{X: 1}, geom.Vec{Z: 1}, geom.Vec{Y: -1}}
	fromEnd  = camera{geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}}
)

// corner is the axonometric camera: the reader stands to the right of the
// reference edge and above the face, turned by azimuth from square on the
// edge and raised by elevation, both in degrees.
func corner(azimuth, elevation float64) camera {
	sa, ca := math.Sincos(azimuth * radian)
	se, ce := math.Sincos(elevation * radian)
	return look(geom.Vec{X: ce * sa, Y: -ce * ca, Z: se}, geom.Vec{Z: 1})
}

// seen is where a point of the wood lies in the picture: millimetres, x to the
// right and y up.
func (c camera) seen(v geom.Vec) pt { return pt{geom.Dot(c.right, v), geom.Dot(c.up, v)} }

// depth is how near the reader a point is.
func (c camera) depth(v geom.Vec) float64 { return geom.Dot(c.toward, v) }

// stage puts what a camera sees on the paper.
type stage struct {
	camera
	scale
}

// on is where a point of the wood lies on the paper.
func (s stage) on(v geom.Vec) pt {
	p := s.seen(v)
	return s.at(p.x, p.y)
}

// toward is a direction of the wood as it runs on the paper, of unit length;
// the zero direction where the camera looks along it.
func (s stage) runs(v geom.Vec) pt {
	p := s.seen(v)
	if p.length() < geom.Parallel {
		return pt{}
	}
	return pt{p.x, -p.y}.unit()
}
