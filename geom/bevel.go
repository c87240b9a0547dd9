package geom

// Dihedral is the angle inside the wood between two faces that meet at an
// arris: 90 degrees at the corner of a square blank, near 180 where a slight
// chamfer meets a face. ok is false for planes without a direction.
func Dihedral(a, b Plane) (Angle, bool) {
	between, ok := AngleBetween(a.N, b.N)
	return 2*Right - between, ok
}

// FromSquare is how far a cut leans from square to a face: what a table is
// tilted by when the face lies on it. Positive where the corner inside the
// wood is less than a right angle.
func FromSquare(face, cut Plane) (Angle, bool) {
	inside, ok := Dihedral(face, cut)
	return Right - inside, ok
}

// Bevel is the setting of a bevel that shows a cut on a face: the acute or
// right angle between the line the cut leaves on the face and a line of the
// face that the stock is held along. ok is false where the cut is parallel to
// the face.
func Bevel(face, cut Plane, along Vec) (Angle, bool) {
	trace, ok := face.Meet(cut)
	if !ok {
		return 0, false
	}
	a, ok := AngleBetween(trace.Dir, along)
	if a > Right {
		a = 2*Right - a
	}
	return a, ok
}
