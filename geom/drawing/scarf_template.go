package drawing

import "arrisbook/geom/joint"

// scarfTemplate is the reference edge with the cut on it, between a strip of
// the face and one of the back that fold over the arrises.
func scarfTemplate(l joint.Layout) []Flat {
	g := newScarf(l)
	f := newFlat()
	const strip, before = 14.0, 25.0
	end := g.run + g.slot + 25
	f.line(hidden, f.at(-before, 0), f.at(end, 0))
	f.line(hidden, f.at(-before, -g.thickness), f.at(end, -g.thickness))
	f.line(visible, f.at(0, strip), f.at(0, 0), f.at(g.run, -g.thickness), f.at(g.run, -g.thickness-strip))
	f.line(narrow, f.at(g.slot, strip), f.at(g.slot, 0), f.at(g.run+g.slot, -g.thickness), f.at(g.run+g.slot, -g.thickness-strip))
	for _, x := range []float64{-before, end} {
		f.line(narrow, f.at(x, strip), f.at(x, -g.thickness-strip))
	}
	f.waste([]pt{f.at(0, 0), f.at(g.slot, 0), f.at(g.run+g.slot, -g.thickness), f.at(g.run, -g.thickness)})
	f.note(f.at(-before+2, strip-5), start, "face")
	f.note(f.at(-before+2, -g.thickness-strip+3), start, "back")
	f.note(f.at(-before+2, -g.thickness/2-1), start, "reference edge")
	f.note(f.at(g.run*0.75, -g.thickness*0.3), start, "head piece")
	return []Flat{f.finish("cut", "The cut on the reference edge",
		"Fold the strips over the face and the back along the dashed lines. The cut’s full line starts on the face where the neck ends; the saw’s slot lies on its far side.")}
}
