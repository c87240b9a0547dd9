package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// wood draws what a camera sees of parts, hidden lines dashed.
func (c *canvas) wood(s stage, parts []joint.Part) {
	for _, e := range project(parts, s.camera) {
		c.projected(s, e)
	}
}

// projected draws one line of a projected picture.
func (c *canvas) projected(s stage, e edge) {
	kind := visible
	if e.hidden {
		kind = hidden
	}
	c.line(kind, s.at(e.a.x, e.a.y), s.at(e.b.x, e.b.y))
}

// surface draws what a camera sees of parts without what is hidden.
func (c *canvas) surface(s stage, parts []joint.Part) {
	for _, e := range project(parts, s.camera) {
		if !e.hidden {
			c.projected(s, e)
		}
	}
}

// cutTo is parts without what lies outside of planes: the piece of a long
// board that a view shows. A part of which nothing is left is left out.
func cutTo(parts []joint.Part, planes ...geom.Plane) []joint.Part {
	var out []joint.Part
	for _, part := range parts {
		left := joint.Part{Name: part.Name}
		for _, s := range part.Pieces {
			if kept, ok := s.ClipAll(planes, touch); ok {
				left.Pieces = append(left.Pieces, kept)
			}
		}
		if len(left.Pieces) > 0 {
			out = append(out, left)
		}
	}
	return out
}

// section cuts parts by a plane, takes away what its normal points at, and
// gives the rest with the outlines of the cut faces, for hatching. The camera
// best looks against the normal.
func section(parts []joint.Part, cut geom.Plane) (rest []joint.Part, faces []geom.Polygon) {
	rest = cutTo(parts, cut)
	for _, part := range rest {
		for _, s := range part.Pieces {
			for _, f := range s.Faces() {
				if geom.Dot(f.Plane.N, cut.N) > 1-touch && math.Abs(f.Plane.D-cut.D) < 10*touch {
					faces = append(faces, f.Corners)
				}
			}
		}
	}
	return rest, faces
}

// hatchFaces hatches faces where a camera sees them.
func (c *canvas) hatchFaces(s stage, faces []geom.Polygon) {
	var outlines [][]pt
	for _, g := range faces {
		outlines = append(outlines, s.outline(g))
	}
	c.hatch(outlines...)
}

// outline is a face on the paper.
func (s stage) outline(g geom.Polygon) []pt {
	ps := make([]pt, len(g))
	for i, v := range g {
		ps[i] = s.on(v)
	}
	return ps
}

// extentOf is the rectangle that a camera sees parts in, in millimetres.
func extentOf(parts []joint.Part, cam camera) (lo, hi pt) {
	lo, hi = pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	for _, part := range parts {
		for _, s := range part.Pieces {
			for _, v := range s.Vertices() {
				p := cam.seen(v)
				lo = pt{math.Min(lo.x, p.x), math.Min(lo.y, p.y)}
				hi = pt{math.Max(hi.x, p.x), math.Max(hi.y, p.y)}
			}
		}
	}
	return lo, hi
}

// roomFor is the scale at which parts fill a rectangle of paper.
func roomFor(parts []joint.Part, cam camera, wide, high float64) float64 {
	lo, hi := extentOf(parts, cam)
	return math.Min(wide/(hi.x-lo.x), high/(hi.y-lo.y))
}

// centreOf is the middle of the box that holds a part.
func centreOf(part joint.Part) geom.Vec {
	lo := geom.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi := r3.Scale(-1, lo)
	for _, s := range part.Pieces {
		for _, v := range s.Vertices() {
			lo = geom.Vec{X: math.Min(lo.X, v.X), Y: math.Min(lo.Y, v.Y), Z: math.Min(lo.Z, v.Z)}
			hi = geom.Vec{X: math.Max(hi.X, v.X), Y: math.Max(hi.Y, v.Y), Z: math.Max(hi.Z, v.Z)}
		}
	}
	return r3.Scale(0.5, r3.Add(lo, hi))
}
