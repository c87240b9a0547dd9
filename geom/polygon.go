package geom

import "gonum.org/v1/gonum/spatial/r3"

// Polygon is a convex polygon in a plane, anticlockwise seen from the side its
// normal points to. Fewer than three points are no polygon.
type Polygon []Vec

// Patch is a square piece of the plane, of half side half, about the foot of
// centre: what a polygon is clipped out of. It is appended to dst, which may
// be nil.
func (p Plane) Patch(dst Polygon, centre Vec, half float64) Polygon {
	c := p.Foot(centre)
	// Any direction will do that is well away from the normal.
	axis := Vec{X: 1}
	if p.N.X > 0.6 || p.N.X < -0.6 {
		axis = Vec{Y: 1}
	}
	u, ok := Unit(Cross(axis, p.N))
	if !ok {
		return dst
	}
	v := Cross(p.N, u)
	for _, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		dst = append(dst, Along(Along(c, s[0]*half, u), s[1]*half, v))
	}
	return dst
}

// Clip appends to dst what of the polygon lies in the half-space, and returns
// it. Points within tol of the plane count as lying on it. dst may be nil, but
// must not share memory with g.
func (g Polygon) Clip(dst Polygon, p Plane, tol float64) Polygon {
	start := len(dst)
	if len(g) == 0 {
		return dst
	}
	last := g[len(g)-1]
	before := p.Dist(last)
	for _, v := range g {
		here := p.Dist(v)
		if (before < -tol && here > tol) || (before > tol && here < -tol) {
			dst = append(dst, crossing(last, v, before, here))
		}
		if here <= tol {
			dst = append(dst, v)
		}
		last, before = v, here
	}
	if len(dst)-start < 3 {
		return dst[:start]
	}
	return dst
}

// crossing is the point between a and b, at distances da and db on opposite
// sides of a plane, where the plane is met. It is worked out from the inside
// end, so that two faces that share an edge get the same bits.
func crossing(a, b Vec, da, db float64) Vec {
	if da > db {
		a, b, da, db = b, a, db, da
	}
	return Along(a, da/(da-db), r3.Sub(b, a))
}

// Area is the area of the polygon.
func (g Polygon) Area() float64 { return Norm(g.vectorArea()) }

// Normal is the direction from which the polygon runs anticlockwise. ok is
// false where it has no area.
func (g Polygon) Normal() (Vec, bool) { return Unit(g.vectorArea()) }

func (g Polygon) vectorArea() Vec {
	var sum Vec
	for i := 2; i < len(g); i++ {
		c := Cross(r3.Sub(g[i-1], g[0]), r3.Sub(g[i], g[0]))
		sum = r3.Add(sum, r3.Scale(0.5, c))
	}
	return sum
}

// Reach is how far the polygon lies outside the half-space at its nearest and
// at its farthest point. ok is false where there is no polygon.
func (g Polygon) Reach(p Plane) (nearest, farthest float64, ok bool) {
	if len(g) < 3 {
		return 0, 0, false
	}
	nearest = p.Dist(g[0])
	farthest = nearest
	for _, v := range g[1:] {
		d := p.Dist(v)
		nearest, farthest = min(nearest, d), max(farthest, d)
	}
	return nearest, farthest, true
}
