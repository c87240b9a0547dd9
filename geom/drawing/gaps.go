package drawing

import (
	"fmt"
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
	for _, o := range fit.Outcomes {
		if !o.Gap {
			continue
		}
		least, most := max(0, o.Value.Min), max(0, o.Value.Max)
		gaps = append(gaps, Gap{
			Consequence: o.ID, Least: joint.WordOf(least), Most: joint.WordOf(most),
			Touches: least <= touching, LeastAt: places[o.ID].Least, MostAt: places[o.ID].Most,
		})
	}
	return gaps, nil
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
			out = append(out, strings.ToUpper(c.Name[:1])+c.Name[1:]+": "+a.tell()+".")
		}
	}
	return out
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
