// Package geom is the geometry everything else is judged by: vectors, planes,
// half-spaces, convex solids and seating.
//
// # Contract
//
// Axes are right-handed. Lengths are millimetres. Angles are [Angle] values,
// radians inside, and become degrees only where a number leaves the package.
// A [Plane] is n·p = d with n of unit length; the half-space it bounds is the
// side n·p ≤ d, so a face's normal points out of the wood. Faces of a solid
// wind anticlockwise seen from outside. Tolerances are arguments, never
// hidden constants; the one constant is [Parallel], and it is exported.
// Degenerate input gives ok == false or an error, never NaN.
//
// Products that are added are written float64(a*b) so that no compiler fuses
// them, and sine, cosine and arctangent are worked out here for the same
// reason: the same input then gives the same bits on every processor.
//
// # Example
//
// The angle inside the corner where the top and one side of a box meet:
//
//	top, _ := geom.NewPlane(geom.Vec{Z: 1}, geom.Vec{})
//	side, _ := geom.NewPlane(geom.Vec{Y: 1}, geom.Vec{Y: 30})
//	a, ok := geom.Dihedral(top, side) // 90 degrees
package geom
