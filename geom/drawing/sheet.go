package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"arrisbook/geom/joint"
)

// painter draws one family.
type painter struct {
	sheet    func(l joint.Layout, s Sheet) []sheetView
	fit      func(l joint.Layout, w fitDrawing) []View
	figures  []string
	figure   func(f *joint.Family, l joint.Layout, name string) (View, error)
	problems func(l joint.Layout) error
	// scale is what a millimetre of the fit pictures is on paper.
	scale func(l joint.Layout) float64
	// template draws the full-size layouts; nil where no face takes one. The
	// layout is that of a blank that can be built.
	template func(l joint.Layout) []Flat
}

// painters hold one line a family.
var painters = map[string]painter{
	"head-v-joint":     headVPainter,
	"head-scarf":       scarfPainter,
	"splayed-box":      boxPainter,
	"coopered-vessel":  vesselPainter,
	"splayed-leg":      legPainter,
	"hip-rafter":       hipPainter,
	"through-dovetail": dovetailPainter,
	"lapped-dovetail":  dovetailPainter,
	"angled-lap":       lapPainter,
	"unequal-mitre":    mitrePainter,
	"angled-tenon":     tenonPainter,
}

// paint finds a family's painter and lays the joint out on a blank.
func paint(f *joint.Family, blank joint.Values) (painter, joint.Layout, error) {
	p, ok := painters[f.ID]
	if !ok {
		return painter{}, joint.Layout{}, fmt.Errorf("there is no drawing for %s yet", f.ID)
	}
	l, err := f.Layout(blank)
	if err != nil {
		return painter{}, joint.Layout{}, fmt.Errorf("draw %s: %w", f.ID, err)
	}
	return p, l, p.problems(l)
}

// sheetView is a view on its way: what it shows besides its marks.
type sheetView struct {
	*canvas
	View
}

// SheetViews draws the views of a family's sheet in reading order: those that
// carry givens always, the others only where a number is asked on them. Only
// asked quantities get balloons.
func SheetViews(f *joint.Family, s Sheet) ([]View, error) {
	p, l, err := paint(f, s.Blank)
	if err != nil {
		return nil, err
	}
	var views []View
	for _, v := range p.sheet(l, s) {
		if len(v.given) == 0 && len(v.asked) == 0 {
			continue
		}
		v.View.Desc = v.View.Desc + describe(f, v.canvas)
		views = append(views, v.View)
	}
	return views, nil
}

// describe tells the givens and what is asked; an answer has no place here.
func describe(f *joint.Family, c *canvas) string {
	var b strings.Builder
	for i, id := range c.given {
		b.WriteString([]string{" Given: ", ", "}[min(i, 1)])
		name := id
		if p, ok := f.Parameter(id); ok {
			name = p.Name
		}
		b.WriteString(lowerFirst(name) + " " + c.sheet.Given[id])
	}
	if len(c.given) > 0 {
		b.WriteString(".")
	}
	asked := slices.SortedFunc(slices.Values(c.asked), func(a, b Balloon) int { return a.Number - b.Number })
	for i, a := range asked {
		b.WriteString([]string{" Asked: ", "; "}[min(i, 1)])
		b.WriteString(strconv.Itoa(a.Number) + ", " + lowerFirst(a.Name))
	}
	if len(c.asked) > 0 {
		b.WriteString(".")
	}
	return b.String()
}

// lowerFirst turns "Half angle" into "half angle" and leaves "V length" alone.
func lowerFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	second, _ := utf8.DecodeRuneInString(s[n:])
	if n == 0 || !unicode.IsLower(second) {
		return s
	}
	return string(unicode.ToLower(first)) + s[n:]
}
