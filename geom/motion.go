package geom

import "gonum.org/v1/gonum/spatial/r3"

// Moved is the solid carried by m without turning.
func (s Solid) Moved(m Vec) Solid {
	return s.Carried(Motion{Shift: m})
}

// Motion carries things rigidly: a turn about an axis through the origin, then
// a shift. The zero Motion leaves everything where it is.
type Motion struct {
	Axis  Vec // any length; ignored where it has none
	Turn  Angle
	Shift Vec
}

// Point carries a point.
func (m Motion) Point(v Vec) Vec { return r3.Add(m.direction(v), m.Shift) }

// direction turns v about the axis (Rodrigues): what lies along the axis
// stays, what lies square to it turns.
func (m Motion) direction(v Vec) Vec {
	u, ok := Unit(m.Axis)
	if !ok || m.Turn == 0 {
		return v
	}
	sin, cos := m.Turn.SinCos()
	stays := Along(Vec{}, Dot(u, v), u)
	square := r3.Sub(v, stays)
	return Along(Along(stays, cos, square), sin, Cross(u, square))
}

// Plane carries a plane.
func (m Motion) Plane(p Plane) Plane {
	n := m.direction(p.N)
	return Plane{N: n, D: p.D + Dot(n, m.Shift)}
}

// Carried is the solid after the motion.
func (s Solid) Carried(m Motion) Solid {
	out := Solid{
		verts: make([]Vec, len(s.verts)),
		faces: append([]face(nil), s.faces...),
		loops: s.loops, // never changed
	}
	for i, v := range s.verts {
		out.verts[i] = m.Point(v)
	}
	for i, f := range s.faces {
		out.faces[i].plane = m.Plane(f.plane)
	}
	return out
}
