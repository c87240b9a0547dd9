package drawing

import (
	"fmt"
	"slices"
	"strings"

	"arrisbook/geom/joint"
)

// Gaps tells how submitted numbers would close without a figure: per mating
// face the fit words where the gap is least and most, where that is, and
// whether the wood touches. It is empty where the parts cannot be made.
// Errors as for Layout.
func Gaps(f *joint.Family, parameters, submitted joint.Values) ([]Gap, error) {
	fit, err := f.Fit(parameters, submitted)
	if err != nil {
		return nil, err
	}
	places, err := f.Places(parameters, submitted)
	if err != nil {
		return nil, err
	}
	var gaps []Gap
	if !hasGaps(f) {
		return worstError(fit), nil
	}
	for _, o := range fit.Outcomes {
		if !o.Gap {
			continue
		}
		least, most, negative := sizeOf(o.Value)
		least = leastAt(o, places[o.ID], least)
		gaps = append(gaps, Gap{
			Consequence: o.ID, Least: joint.WordOf(least), Most: joint.WordOf(most), Negative: negative && most > touching,
			Touches: least <= touching, LeastAt: places[o.ID].Least, MostAt: places[o.ID].Most,
		})
	}
	return gaps, nil
}

func hasGaps(f *joint.Family) bool {
	return slices.ContainsFunc(f.Consequences, func(c joint.Consequence) bool { return c.Gap })
}

// worstError tells the fit of a family without gaps: its largest error in
// length bears the fit's word. To which side it is off is left out, for that
// is the way to the right number.
func worstError(fit joint.Fit) []Gap {
	var worst []Gap
	most := -1.0
	for _, o := range fit.Outcomes {
		if _, size, _ := sizeOf(o.Value); o.Unit == joint.MM && size > most {
			most = size
			worst = []Gap{{Consequence: o.ID, Least: fit.Word, Most: fit.Word, Touches: size <= touching}}
		}
	}
	return worst
}

// TellGaps says each face in a sentence, without a figure, in the family's
// order: "Near shoulder: touches on the back, close on the face."
func TellGaps(f *joint.Family, gaps []Gap) []string {
	d := fitDrawing{faces: map[string]fitFace{}}
	for _, g := range gaps {
		d.faces[g.Consequence] = banded(g)
	}
	return tellFaces(f, d)
}

func tellFaces(f *joint.Family, d fitDrawing) []string {
	var out []string
	for _, c := range f.Consequences {
		if a, ok := d.faces[c.ID]; ok {
			out = append(out, strings.ToUpper(c.Name[:1])+c.Name[1:]+": "+a.tellAs(faceSides[f.ID][c.ID])+".")
		}
	}
	return out
}

// sides are the words for a face whose gap is no gap between two surfaces only:
// for a size above zero, below it, and none.
type sides struct{ over, under, none string }

// faceSides are the faces with words of their own, by family and consequence.
var faceSides = map[string]map[string]sides{
	"through-dovetail": {
		"gap":          {over: "where it is widest", none: "none"},
		"interference": {over: "where it is deepest", none: "none"},
	},
	"lapped-dovetail": {
		"gap":          {over: "where it is widest", none: "none"},
		"interference": {over: "where it is deepest", none: "none"},
		"proud":        {over: "the tails stand into the lap", under: "the tails do not reach the lap", none: "at the lap line"},
	},
	"angled-lap": {
		"side_gap":    {over: "the notch is wider than piece B", under: "piece B does not enter", none: "piece B fills the notch"},
		"flush_error": {over: "piece B stands above A", under: "piece B lies below A", none: "the faces are flush"},
	},
	"unequal-mitre": {
		"length_step": {over: "board a’s cut is the longer one", under: "board b’s cut is the longer one", none: "the outer edges meet"},
	},
	"splayed-leg": {
		"foot_error":   {over: "off its place", under: "off its place", none: "in its place"},
		"height_error": {over: "off what it should be", under: "off what it should be", none: "as it should be"},
	},
	"hip-rafter": {
		"ridge_error": {over: "off its level", under: "off its level", none: "at its level"},
	},
	"head-scarf": {
		"tip_error": {over: "off its place", under: "off its place", none: "where it should be"},
	},
	"angled-tenon": {
		"length_error": {over: "the rail is too long", under: "the rail is too short", none: "the rail is as long as it should be"},
	},
}

// tellAs says a face's gap, in the words of its sides where it has some.
func (a fitFace) tellAs(s sides) string {
	switch {
	case s == sides{}:
		return a.tell()
	case a.most == 0:
		return s.none
	case a.negative:
		return a.mostSays + ", " + s.under
	}
	return a.mostSays + ", " + s.over
}

// tell says a face's gap in words.
func (a fitFace) tell() string {
	switch {
	case a.leastAt == "" || a.mostAt == "":
		return a.mostSays + " all along"
	case a.least == 0:
		return fmt.Sprintf("touches %s, %s %s", Place(a.leastAt), a.mostSays, Place(a.mostAt))
	case a.leastSays == a.mostSays:
		return fmt.Sprintf("%s all along, least %s", a.mostSays, Place(a.leastAt))
	}
	return fmt.Sprintf("%s %s, %s %s", a.leastSays, Place(a.leastAt), a.mostSays, Place(a.mostAt))
}
