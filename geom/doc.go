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
// hidden constants. Degenerate input gives ok == false or an error, never NaN.
//
// Products that are added are written float64(a*b) so that no compiler fuses
// them: the same input then gives the same bits on every processor.
package geom
