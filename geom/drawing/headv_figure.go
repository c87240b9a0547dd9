package drawing

import (
	"fmt"

	"arrisbook/geom/joint"
)

var headVFigureNames = []string{"head", "neck", "section", "cheek", "copied-bevel", "settings"}

// headVFigure draws one lesson figure.
func headVFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	g := newHeadV(l)
	c := &canvas{sheet: Sheet{Given: labels(f, l)}}
	switch name {
	case "head":
		return g.headFigure(c), nil
	case "neck":
		return g.neckFigure(c), nil
	case "section":
		return g.sectionFigure(c), nil
	case "cheek":
		v := g.endView(c.sheet).View
		v.ID, v.Letter = "figure-cheek", ""
		return v, nil
	case "settings":
		return g.settingsFigure(c), nil
	}
	return copiedBevel(f, l)
}

// copiedBevel shows what the head's bevel makes of the tongue when it is not
// reset for the neck: the parts are built with it and slid home.
func copiedBevel(f *joint.Family, l joint.Layout) (View, error) {
	fit, err := f.Fit(l.Parameters, joint.Values{"face_half_angle": l.Quantities["half_angle"]})
	if err != nil {
		return View{}, fmt.Errorf("draw %s: %w", f.ID, err)
	}
	g := newHeadV(l)
	d, err := measuredFit(f, l, fit, g.k)
	if err != nil {
		return View{}, err
	}
	v := g.faceFit(d)
	v.ID, v.Letter = "figure-copied-bevel", ""
	v.Title = "A tongue marked with the head’s bevel, seen square on the head’s face"
	return v, nil
}

// headFigure is the head's face, and below it the cut end with the face up.
func (g headV) headFigure(c *canvas) View {
	foot := g.drawHead(c)
	left := headEnd + 30.0
	top := foot + 62
	at := func(y, z float64) pt { return pt{left + y*g.k, top - z*g.k} }
	t := -g.thickness
	c.hatch([]pt{at(g.near, 0), at(g.far, 0), at(g.far, t), at(g.near, t)})
	c.outline(visible, at(0, 0), at(g.width, 0), at(g.width, t), at(0, t))
	for _, y := range []float64{g.near, g.far} {
		c.line(visible, at(y, 0), at(y, t))
	}
	axis := (g.near + g.far) / 2
	c.line(centre, at(axis, 0).add(pt{0, -8}), at(axis, t).add(pt{0, 8}))
	c.note(at(0, t/2).add(pt{-8, 5}), end, "cut end")
	c.note(at(g.width, t/2).add(pt{12, 5}), start, "waste")
	c.line(narrow, at(g.width, t/2).add(pt{10, 0}), at(g.far, t/2).add(pt{-8, 2}))
	v := c.view("figure-head", "", "the head’s face, and its cut end with the face up")
	v.Title = "The head’s face and its cut end"
	v.Desc = "On the face a V runs from two mouth points on the cut end to its tip on the centre line. On the end the mouth points and the centre line are squared down; the waste between them is hatched."
	return v
}
