package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// mitreTemplate is each board's end, laid out on its face.
func mitreTemplate(l joint.Layout) []Flat {
	g := newMitre(l)
	return []Flat{mitreFlat("a", g.widthA, g.mitreA, 1), mitreFlat("b", g.widthB, g.mitreB, -1)}
}

func mitreFlat(name string, width, angle, turn float64) Flat {
	f := newFlat()
	const more = 30.0
	shift := width / math.Tan(angle)
	at := func(x, y float64) pt { return f.at(turn*x, y) }
	blank, far := math.Min(0, -shift)-6, math.Max(0, -shift)+more
	f.waste([]pt{at(blank, 0), at(0, 0), at(-shift, -width), at(blank, -width)})
	f.outline(narrow, at(blank, 0), at(far, 0), at(far, -width), at(blank, -width))
	f.line(visible, at(0, 0), at(-shift, -width))
	f.note(at((far-math.Max(0, -shift))/2+math.Max(0, -shift), -4), middle, "inner edge")
	return f.finish("board-"+name, "The end of board "+name,
		"Lay it on the face of board "+name+" with the line named inner edge on the arris of the inner edge. Saw in the hatched waste.")
}
