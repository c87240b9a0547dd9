package drawing

import "arrisbook/geom/joint"

// headVTemplate is the neck's four faces unrolled, and the head's face with
// its cut end.
func headVTemplate(l joint.Layout) []Flat {
	g := newHeadV(l)
	return []Flat{g.neckFlat(), g.headFlat()}
}

// neckFlat is the neck's end: from the top the far edge, the face, the
// reference edge and the back. x leads from the shoulder line on the face
// toward the blank's end.
func (g headV) neckFlat() Flat {
	f := newFlat()
	const more = 22.0
	t, w, bs, tip, axis := g.thickness, g.width, g.backShift, g.faceV, (g.near+g.far)/2
	left, end := -bs-more, g.shoulder
	face := []pt{f.at(0, 0), f.at(0, g.near), f.at(tip, axis), f.at(0, g.far), f.at(0, w)}
	back := []pt{f.at(-bs, -t), f.at(-bs, -t-g.near), f.at(tip-bs, -t-axis), f.at(-bs, -t-g.far), f.at(-bs, -t-w)}
	f.waste(
		append([]pt{f.at(end, 0), f.at(end, w)}, reversed(face)...),
		append([]pt{f.at(end, -t), f.at(end, -t-w)}, reversed(back)...),
		[]pt{face[0], back[0], f.at(end, -t), f.at(end, 0)},
		[]pt{face[4], f.at(-bs, w+t), f.at(end, w+t), f.at(end, w)})
	f.line(visible, face...)
	f.line(visible, back...)
	f.line(visible, face[0], back[0])
	f.line(visible, face[4], f.at(-bs, w+t))
	f.line(centre, f.at(left, axis), f.at(end, axis))
	f.line(centre, f.at(left, -t-axis), f.at(end, -t-axis))
	for _, y := range []float64{w, 0, -t} {
		f.line(hidden, f.at(left, y), f.at(end, y))
	}
	f.outline(narrow, f.at(left, w+t), f.at(end, w+t), f.at(end, -t-w), f.at(left, -t-w))
	f.note(f.at(left+1.5, w+t/2-1), start, "far edge")
	f.note(f.at(left+1.5, w-5), start, "face")
	f.note(f.at(left+1.5, -t/2-1), start, "reference edge")
	f.note(f.at(left+1.5, -t-5), start, "back")
	return f.finish("neck", "The neck: far edge, face, reference edge and back",
		"Fold along the three dashed lines over the arrises, the face to the face, and bring the right-hand side level with the blank’s end. Saw in the hatched waste.")
}

// headFlat is the head's cut end beside its face.
func (g headV) headFlat() Flat {
	f := newFlat()
	const more = 18.0
	t, w, tip, axis := g.thickness, g.width, g.vLength, (g.near+g.far)/2
	f.waste(
		[]pt{f.at(0, g.near), f.at(tip, axis), f.at(0, g.far)},
		[]pt{f.at(0, g.near), f.at(0, g.far), f.at(-t, g.far), f.at(-t, g.near)})
	f.line(visible, f.at(-t, g.near), f.at(0, g.near), f.at(tip, axis), f.at(0, g.far), f.at(-t, g.far))
	f.line(centre, f.at(-t, axis), f.at(tip+more, axis))
	f.line(hidden, f.at(0, 0), f.at(0, w))
	f.outline(narrow, f.at(-t, 0), f.at(tip+more, 0), f.at(tip+more, w), f.at(-t, w))
	f.along(f.at(0, 0), f.at(tip+more, 0), "reference edge")
	f.note(f.at(tip+more-1.5, w-5), end, "face")
	f.note(f.at(-t+1, w-5), start, "cut end")
	return f.finish("head", "The head’s face and its cut end",
		"Fold along the dashed line over the cut end. The edge named reference edge lies on the blank’s reference edge. Saw in the hatched waste.")
}

func reversed(ps []pt) []pt {
	out := make([]pt, len(ps))
	for i, p := range ps {
		out[len(ps)-1-i] = p
	}
	return out
}
