package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// lapTemplate is piece A's face with its two edges folded down, and piece B's
// back likewise.
func lapTemplate(l joint.Layout) []Flat {
	g := newLap(l)
	longB, runB := g.widthA/math.Sin(g.crossing), g.widthB/math.Tan(g.crossing)
	return []Flat{
		g.notchFlat("piece-a", "piece A", "face", g.widthA, g.spacing, g.skew),
		g.notchFlat("piece-b", "piece B", "back", g.widthB, longB, runB),
	}
}

// notchFlat is a face between its two edges. The shoulder lines leave the
// lower edge at 0 and at spacing, and have gone by skew at the upper one.
func (g lap) notchFlat(id, piece, face string, width, spacing, skew float64) Flat {
	f := newFlat()
	const more = 14.0
	t := g.thickness
	left, right := min(0, skew)-more, spacing+max(0, skew)+more
	f.waste(
		[]pt{f.at(0, 0), f.at(spacing, 0), f.at(spacing+skew, width), f.at(skew, width)},
		[]pt{f.at(0, 0), f.at(spacing, 0), f.at(spacing, -g.depth), f.at(0, -g.depth)},
		[]pt{f.at(skew, width), f.at(spacing+skew, width), f.at(spacing+skew, width+g.depth), f.at(skew, width+g.depth)})
	f.line(visible, f.at(0, -g.depth), f.at(0, 0), f.at(skew, width), f.at(skew, width+g.depth))
	f.line(visible, f.at(spacing, -g.depth), f.at(spacing, 0), f.at(spacing+skew, width), f.at(spacing+skew, width+g.depth))
	f.line(visible, f.at(0, -g.depth), f.at(spacing, -g.depth))
	f.line(visible, f.at(skew, width+g.depth), f.at(spacing+skew, width+g.depth))
	f.line(hidden, f.at(left, 0), f.at(right, 0))
	f.line(hidden, f.at(left, width), f.at(right, width))
	f.outline(narrow, f.at(left, -t), f.at(right, -t), f.at(right, width+t), f.at(left, width+t))
	lower := "reference edge"
	f.note(f.at(left+1, -t+1), start, lower)
	f.note(f.at(left+1, 2), start, face)
	return f.finish(id, "The notch of "+piece+": its "+face+" and both edges",
		"Lay it on the "+face+" of "+piece+" with the lower dashed line on the arris of the reference edge, and fold along both dashed lines. Saw in the hatched waste.")
}
