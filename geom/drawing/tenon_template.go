package drawing

import "arrisbook/geom/joint"

// tenonTemplate is the rail's two ends: the top between the two faces.
func tenonTemplate(l joint.Layout) []Flat {
	g := newTenon(l)
	return []Flat{
		g.endFlat("front-shoulder", "front", -1),
		g.endFlat("back-shoulder", "back", 1),
	}
}

// endFlat is one end of the right-hand rail: the outer face above its top, the
// inner face below it. Way is -1 where the tenon points left, to the front.
func (g tenon) endFlat(id, name string, way float64) Flat {
	f := newFlat()
	const face, body = 26.0, 46.0
	tenon := 2 * g.leg / 3
	half, cheek, shift := g.rail/2, g.thick/2, g.shift/2
	at := func(y float64) float64 { return -shift * y / half } // of the shoulder, over the top
	end, far := way*(tenon+shift), -way*body
	f.waste(
		[]pt{f.at(at(half), half+face), f.at(end, half+face), f.at(end, half), f.at(at(half), half)},
		[]pt{f.at(at(half), half), f.at(end, half), f.at(end, cheek), f.at(at(cheek), cheek)},
		[]pt{f.at(at(-half), -half), f.at(end, -half), f.at(end, -cheek), f.at(at(-cheek), -cheek)},
		[]pt{f.at(at(-half), -half-face), f.at(end, -half-face), f.at(end, -half), f.at(at(-half), -half)})
	f.line(visible, f.at(at(half), half+face), f.at(at(half), half), f.at(at(-half), -half), f.at(at(-half), -half-face))
	f.line(visible, f.at(at(cheek), cheek), f.at(end, cheek))
	f.line(visible, f.at(at(-cheek), -cheek), f.at(end, -cheek))
	f.line(hidden, f.at(end, half), f.at(far, half))
	f.line(hidden, f.at(end, -half), f.at(far, -half))
	f.outline(narrow, f.at(end, half+face), f.at(far, half+face), f.at(far, -half-face), f.at(end, -half-face))
	middleX := far / 2
	f.note(f.at(middleX, half+face-5), middle, "outer face")
	f.note(f.at(middleX, -1.2), middle, "top")
	f.note(f.at(middleX, -half-face+2), middle, "inner face")
	return f.finish(id, "The "+name+" end of the right-hand rail: outer face, top and inner face",
		"Fold along the two dashed lines over the rail’s top, the outer face to the outer face. For the left-hand rail use it from the other side, as a mirror image. Saw in the hatched waste.")
}
