package drawing

import (
	"math"

	"arrisbook/geom"
)

// sectionView is view D: the hip cut square to its length, with both roof
// planes.
func (g hip) sectionView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	dir, _ := geom.Unit(geom.Vec{X: g.span / 2, Y: g.span / 2, Z: g.high})
	mid := geom.Along(geom.Vec{}, g.hipLength/2, dir)
	_, faces := section(g.hip, geom.Plane{N: dir, D: geom.Dot(dir, mid)})
	cam := look(dir, geom.Vec{Z: 1})
	thick := g.span / 80
	m := scale{k: s.scaled(52 / thick)}
	o := scale{k: m.k}
	st := stage{cam, o}
	c.hatchFaces(st, faces)
	for _, f := range faces {
		c.outline(visible, st.outline(f)...)
	}
	top := st.on(mid)
	far := 1.9 * thick * m.k
	left, right := top.add(heading(pi+g.backing).times(far)), top.add(heading(-g.backing).times(far))
	half := thick / 2 * m.k
	arris := top.add(pt{half, half * math.Tan(g.backing)})
	c.line(narrow, left, top.add(heading(pi+g.backing).times(half/math.Cos(g.backing))))
	c.line(narrow, arris, right)
	c.spread(opening{corner: top, a: -g.backing, b: 0, sideA: far, sideB: 0, r: math.Max(70, 25/g.backing)}, "backing_angle")
	a, b := pi+g.backing, 2*pi-g.backing
	c.spread(opening{corner: top, a: a, b: b, sideA: far, sideB: far, r: 2*half + 30}, "roof_dihedral")
	c.nameOut(left.mid(top), pt{-1, -1}, "roof plane")
	v := c.view("section", "D", s.said("the hip, cut square to its length", m.k))
	v.Title = "The hip, cut square to its length"
	v.Desc = "Each half of its top is planed down to lie in a roof plane. The backing is counted from square to the side, the dihedral between the roof planes, inside."
	return sheetView{c, v}
}
