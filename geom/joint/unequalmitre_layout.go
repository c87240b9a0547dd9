package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// mitreGivens are the parameters of the mitre.
type mitreGivens struct {
	a, b   float64
	corner geom.Angle
}

func mitreGivensOf(p Values) mitreGivens {
	return mitreGivens{a: p["width_a"], b: p["width_b"], corner: geom.Deg(p["corner_angle"])}
}

// mitreFrame is the corner drawn on a board: the inner and outer edges and the
// mitre line between the points where they meet. The edges' normals point out
// of the wood.
type mitreFrame struct {
	face                           geom.Plane
	alongA, alongB                 geom.Vec // the inner edges, away from the corner
	innerA, outerA, innerB, outerB geom.Plane
	inner, outer                   geom.Vec // the corners
}

// frame draws the corner. ok is false where a board has no width or the two
// edges are parallel.
func (g mitreGivens) frame() (f mitreFrame, ok bool) {
	if !(g.a > 0 && g.b > 0 && g.corner > 0 && g.corner < 2*geom.Right) {
		return mitreFrame{}, false
	}
	sin, cos := g.corner.SinCos()
	f.face = geom.Plane{N: geom.Vec{Z: 1}}
	f.alongA, f.alongB = geom.Vec{X: 1}, geom.Vec{X: cos, Y: sin}
	f.innerA = geom.Plane{N: geom.Vec{Y: 1}}
	f.outerA = geom.Plane{N: geom.Vec{Y: -1}, D: g.a}
	f.innerB = geom.Plane{N: geom.Vec{X: sin, Y: -cos}}
	f.outerB = geom.Plane{N: geom.Vec{X: -sin, Y: cos}, D: g.b}
	f.outer, ok = geom.Corner(f.outerA, f.outerB, f.face)
	return f, ok
}

// inward is the mitre line's direction from the outer corner to the inner one,
// on into the inside of the frame.
func (f mitreFrame) inward() geom.Vec { return r3.Sub(f.inner, f.outer) }

// layoutUnequalMitre measures the mitre line against both inner edges.
func layoutUnequalMitre(p Values, set func(string, float64)) []string {
	g := mitreGivensOf(p)
	f, ok := g.frame()
	if !ok {
		return nil // a size is out of range, and that is said already
	}
	set("mitre_length", geom.Distance(f.inner, f.outer))
	past := false
	for _, m := range [2]struct {
		id   string
		edge geom.Vec
	}{{"mitre_a", f.alongA}, {"mitre_b", f.alongB}} {
		if a, ok := geom.AngleBetween(f.inward(), m.edge); ok {
			set(m.id, a.Degrees())
			// A cut square to the edge may come out a rounding past it.
			past = past || a > geom.Right+geom.Parallel
		}
	}
	if past {
		return []string{"The wider board would have to be cut past square: it is too wide beside the other one for so wide a corner."}
	}
	return nil
}
