package drawing

import (
	"fmt"
	"slices"

	"arrisbook/geom/joint"
)

var headVFigureNames = []string{"head", "neck", "section", "cheek", "copied-bevel", "settings"}

func headVFigure(f *joint.Family, l joint.Layout, name string) View {
	return View{ID: name, W: Width, H: 100}
}

// FigureNames lists the lesson figures of a family, in teaching order.
func FigureNames(f *joint.Family) []string { return painters[f.ID].figures }

// Figure draws a lesson figure of a family on a blank. Lessons may show true
// shapes and figures.
func Figure(f *joint.Family, view string, sizes joint.Values) (View, error) {
	p, l, err := paint(f, sizes)
	if err != nil {
		return View{}, err
	}
	if !slices.Contains(p.figures, view) {
		return View{}, fmt.Errorf("%s has no figure %s: it has %v", f.ID, view, p.figures)
	}
	return p.figure(f, l, view), nil
}
