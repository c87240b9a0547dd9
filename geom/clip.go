package geom

// Clip is what of the solid lies in the half-space. Corners within tol of the
// plane count as lying on it. ok is false where nothing is left.
func (s Solid) Clip(p Plane, tol float64) (Solid, bool) {
	return s.ClipAll([]Plane{p}, tol)
}

// Intersect is what two solids share. ok is false where that is nothing.
func (s Solid) Intersect(o Solid, tol float64) (Solid, bool) {
	if s.Empty() || o.Empty() {
		return Solid{}, false
	}
	// The one with fewer faces cuts the other: the result is the same.
	if len(o.faces) > len(s.faces) {
		s, o = o, s
	}
	k := cutters.Get().(*cutter)
	ok := k.load(s)
	for i := 0; ok && i < len(o.faces); i++ {
		ok = k.cut(&o.faces[i].plane, tol)
	}
	return k.finish(ok)
}

// ClipAll clips by one plane after the other. ok is false where nothing is
// left, and where a plane has no usable numbers.
func (s Solid) ClipAll(planes []Plane, tol float64) (Solid, bool) {
	if s.Empty() {
		return Solid{}, false
	}
	k := cutters.Get().(*cutter)
	ok := k.load(s)
	for i := 0; ok && i < len(planes); i++ {
		ok = k.cut(&planes[i], tol)
	}
	return k.finish(ok)
}
