package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
)

// FigureNames lists the lesson figures of a family, in teaching order, and
// after them the pictures of its parts. There are none of a family that has no
// drawings.
func FigureNames(f *joint.Family) []string {
	p, ok := painters[f.ID]
	if !ok {
		return []string{}
	}
	return slices.Concat(p.figures, pictureNames(f))
}

// Figure draws a lesson figure of a family on a blank, labelled with symbols
// and values: lessons may show true shapes and figures.
func Figure(f *joint.Family, view string, sizes joint.Values) (View, error) {
	p, l, err := paint(f, sizes)
	if err != nil {
		return View{}, err
	}
	if hasPicture(f, view) {
		return picture(f, l, view)
	}
	if !slices.Contains(p.figures, view) {
		return View{}, fmt.Errorf("%s has no figure %q; its figures are %s", f.ID, view, strings.Join(FigureNames(f), ", "))
	}
	return p.figure(f, l, view)
}

// labels writes every size and quantity of a blank as symbol and value, for
// use as given texts: "L = 34", "α = 25.89°".
func labels(f *joint.Family, l joint.Layout) map[string]string {
	m := map[string]string{}
	label := func(symbol string, unit joint.Unit, x float64) string {
		s := symbol + " = " + strconv.FormatFloat(hundredth(x), 'f', -1, 64)
		if unit == joint.Deg {
			s += "°"
		}
		return s
	}
	for _, p := range f.Parameters {
		m[p.ID] = label(p.Symbol, p.Unit, l.Parameters[p.ID])
	}
	for _, q := range f.Quantities {
		if x, ok := l.Quantities[q.ID]; ok {
			m[q.ID] = label(q.Symbol, q.Unit, x)
		}
	}
	return m
}
