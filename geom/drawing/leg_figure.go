package drawing

import (
	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// legFigure draws the leg's lesson figures: its sheet views, and the box that
// the leg is the diagonal of.
func legFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	if name != "box" {
		return sheetFigure(legSheet)(f, l, name)
	}
	return newLeg(l).boxFigure(&canvas{sheet: Sheet{Given: labels(f, l)}}), nil
}

// boxFigure is the box between the hole and the foot: as high as the seat, as
// deep as the rake takes the foot and as wide as the splay does. The leg is its
// diagonal, and the diagonal of its floor is the sightline.
func (g leg) boxFigure(c *canvas) View {
	hole, foot := geom.Vec{}, geom.Vec{X: g.foot.X, Y: g.foot.Y - g.spacing/2, Z: -g.height}
	plumb := geom.Vec{Z: -g.height}
	cam := look(geom.Vec{X: 0.35, Y: -1, Z: 0.45}, geom.Vec{Z: 1})
	solid, ok := geom.Box(plumb, geom.Vec{X: foot.X, Y: foot.Y})
	parts := []joint.Part{{Name: "box", Pieces: []geom.Solid{solid}}}
	if !ok { // a leg that leans one way only spans no box
		parts = nil
	}
	st := stage{cam, scale{k: 250 / g.height}}
	for _, e := range project(parts, cam) { // every edge of it is only thought of
		c.line(narrow, st.at(e.a.x, e.a.y), st.at(e.b.x, e.b.y))
	}
	c.line(visible, st.on(hole), st.on(foot))
	c.line(centre, st.on(plumb), st.on(foot))
	c.line(narrow, st.on(hole), st.on(plumb))
	c.put(ring{ink, st.on(hole), 3})
	c.put(ring{ink, st.on(foot), 3})
	side := geom.Vec{X: foot.X, Z: -g.height}
	c.pointOut(st.on(between(plumb, side)), pt{0, 1}, "foot_rake")
	c.pointOut(st.on(between(side, foot)), pt{1, 1}, "foot_splay")
	c.pointOut(st.on(between(hole, plumb)), pt{-1, 0}, "height")
	c.pointOut(st.on(between(hole, foot)), pt{1, 0}, "leg_length")
	c.nameOut(st.on(hole), pt{0, -1}, "hole")
	c.nameOut(st.on(foot), pt{1, 1}, "foot")
	v := c.view("figure-box", "", "the leg as the diagonal of a box")
	v.Title = "The leg as the diagonal of a box"
	v.Desc = "The box is as high as the seat stands, as deep as the rake takes the foot and as wide as the splay does. The leg runs from corner to opposite corner; the diagonal of the floor is the sightline."
	return v
}
