package drawing

import (
	"fmt"
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// mitreFigure draws one lesson figure: a view of the sheet, the two triangles
// on the mitre line, or what equal mitres make of unequal boards.
func mitreFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	switch name {
	case "triangles":
		return newMitre(l).triangles(&canvas{sheet: Sheet{Given: labels(f, l)}}), nil
	case "equal-mitres":
		return equalMitres(f, l)
	}
	return sheetFigure(mitreSheet)(f, l, name)
}

// triangles are the two right-angled triangles that share the mitre line: each
// has a board's width for the leg square to its edges.
func (g mitre) triangles(c *canvas) View {
	k := fitTo(max(g.widthA, g.widthB), 110, g.length, 170)
	p := g.places(k)
	// From the outer corner square to either inner edge, carried on.
	footA := pt{p.outer.x, 0}
	footB := p.outer.onLine(pt{}, p.alongB)
	c.line(narrow, p.innerA, p.inner, p.innerB)
	c.line(narrow, p.outerA, p.outer, p.outerB)
	c.line(centre, p.inner, footA)
	c.line(centre, p.inner, footB)
	c.line(visible, p.outer, footA)
	c.line(visible, p.outer, footB)
	c.line(visible, p.inner, p.outer)
	c.squareMark(footA, p.outer, p.inner)
	c.squareMark(footB, p.outer, p.inner)
	c.mark(ruler{from: p.outer, to: footA, out: pt{-1, 0}, off: 24}, c.of("width_a").text)
	c.mark(ruler{from: p.outer, to: footB, out: footB.sub(p.inner).unit(), off: 24}, c.of("width_b").text)
	c.mark(ruler{from: p.outer, to: p.inner, out: p.outer.unit().left(), off: 20}, c.of("mitre_length").text)
	v := c.view("figure-triangles", "", "the two right-angled triangles on the mitre line")
	v.Title = "The two right-angled triangles on the mitre line"
	v.Desc = "From the outer corner a line runs square to each inner edge, carried on past the inner corner where it must. Each is as long as its board is wide. Both triangles have the mitre line for their longest side."
	return v
}

// squareMark marks a right angle at p between directions to a and b.
func (c *canvas) squareMark(p, a, b pt) {
	if p.to(a) < 12 || p.to(b) < 12 {
		return
	}
	u, w := a.sub(p).unit().times(9), b.sub(p).unit().times(9)
	c.line(narrow, p.add(u), p.add(u).add(w), p.add(w))
}

// equalMitres shows the boards cut at half the corner each, built from those
// numbers and held at the corner.
func equalMitres(f *joint.Family, l joint.Layout) (View, error) {
	half := l.Parameters["corner_angle"] / 2
	parts, err := f.MadePieces(l.Parameters, joint.Values{"mitre_a": half, "mitre_b": half})
	if err != nil {
		return View{}, fmt.Errorf("draw %s: %w", f.ID, err)
	}
	g := newMitre(l)
	shown := 1.7 * g.length
	sin, cos := geom.Deg(half).SinCos()
	bisector := geom.Vec{X: cos, Y: sin}
	parts = cutTo(parts, geom.Plane{N: bisector, D: shown})
	c := &canvas{}
	s := stage{fromFace, scale{k: roomFor(parts, fromFace, 300, 260)}}
	c.surface(s, parts)
	w := newWood(parts, fromFace)
	for _, p := range parts {
		c.name(s.on(w.frontOf(p)), p.Name[len("board "):])
	}
	wider := "a"
	if g.widthB > g.widthA {
		wider = "b"
	}
	toe := g.longerToe()
	c.label(s.on(toe), pt{-1, 1}, "the cut of "+wider+" is longer")
	v := c.view("figure-equal-mitres", "", "boards of different width, both cut at half the corner")
	v.Title = "Boards of different width, both cut at half the corner"
	v.Desc = "The cuts lie along one another, but that of the wider board is longer: its outer corner stands out."
	return v, nil
}

// longerToe is the outer end of the wider board's cut at half the corner.
func (g mitre) longerToe() geom.Vec {
	sin, cos := math.Sincos(g.corner / 2)
	long := math.Max(g.widthA, g.widthB) / sin
	return geom.Vec{X: -long * cos, Y: -long * sin}
}
