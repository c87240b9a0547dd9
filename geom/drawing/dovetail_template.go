package drawing

import "arrisbook/geom/joint"

// templateBoard is how much of a board a template shows behind its joint, in
// millimetres.
const templateBoard = 24.0

func dovetailTemplate(l joint.Layout) []Flat {
	g := newDovetail(l)
	return []Flat{g.tailFlat(), g.pinFlat()}
}

// tailFlat is the tail board's face, end and back in one strip: the end's two
// arrises are folds.
func (g dovetail) tailFlat() Flat {
	f := newFlat()
	t, foot, d := g.tailBoard, g.length+templateBoard, g.offset()
	var waste [][]pt
	for _, r := range g.rooms() {
		face := []pt{f.at(r.from, 0), f.at(r.to, 0), f.at(r.baseTo, -g.length), f.at(r.baseFrom, -g.length)}
		end := []pt{f.at(r.from, 0), f.at(r.to, 0), f.at(r.to, t), f.at(r.from, t)}
		back := []pt{f.at(r.from, t), f.at(r.to, t), f.at(r.baseTo, t+g.length), f.at(r.baseFrom, t+g.length)}
		waste = append(waste, face, end, back)
		f.line(visible, face[3], face[2])
		f.line(visible, back[3], back[2])
	}
	f.waste(waste...)
	for k := range g.tails {
		from, to := g.start(k), g.end(k)
		f.line(visible, f.at(from+d, -g.length), f.at(from, 0), f.at(from, t), f.at(from+d, t+g.length))
		f.line(visible, f.at(to-d, -g.length), f.at(to, 0), f.at(to, t), f.at(to-d, t+g.length))
		f.line(narrow, f.at(from+d, -g.length), f.at(to-d, -g.length))
		f.line(narrow, f.at(from+d, t+g.length), f.at(to-d, t+g.length))
	}
	g.strip(f, -foot, t+foot, 0, t)
	f.note(f.at(g.width/2, -foot+4), middle, "reference face")
	f.note(f.at(g.width/2, t+foot-7), middle, "back")
	return f.finish("tail-board", "The tail board’s face, end and back",
		"Fold along the two dashed lines about the end. The edge named reference edge lies on the board’s reference edge. Saw in the hatched waste.")
}

// pinFlat is the pin board's inner face, end and outer face in one strip.
func (g dovetail) pinFlat() Flat {
	f := newFlat()
	t, foot, d, floor := g.pinBoard, g.pinLength+templateBoard, g.offset(), g.length
	var waste [][]pt
	for k := range g.tails {
		from, to := g.start(k), g.end(k)
		end := []pt{f.at(from+d, 0), f.at(to-d, 0), f.at(to, floor), f.at(from, floor)}
		face := []pt{f.at(from+d, 0), f.at(to-d, 0), f.at(to-d, -g.pinLength), f.at(from+d, -g.pinLength)}
		waste = append(waste, end, face)
		f.line(visible, face[0], face[3], face[2], face[1])
		f.line(visible, end[0], end[3])
		f.line(visible, end[1], end[2])
		if g.lapped {
			f.line(visible, end[3], end[2])
			continue
		}
		back := []pt{f.at(from, t), f.at(to, t), f.at(to, t+g.pinLength), f.at(from, t+g.pinLength)}
		waste = append(waste, back)
		f.line(visible, back[0], back[3], back[2], back[1])
	}
	f.waste(waste...)
	upper := t
	says := "Fold along the dashed line about the end’s inner arris. The edge named reference edge lies on the board’s reference edge. The hatched sockets stop at the lap."
	if !g.lapped {
		upper += foot
		says = "Fold along the two dashed lines about the end. The edge named reference edge lies on the board’s reference edge. Saw in the hatched waste."
		g.strip(f, -foot, upper, 0, t)
		f.note(f.at(g.width/2, upper-7), middle, "outer face")
	} else {
		g.strip(f, -foot, upper, 0)
	}
	f.note(f.at(g.width/2, -foot+4), middle, "inner face, the reference face")
	return f.finish("pin-board", "The pin board’s inner face and end", says)
}

// strip is the outline of a strip that is folded about the board's end, its
// folds, and the name of the reference edge.
func (g dovetail) strip(f *flat, foot, top float64, folds ...float64) {
	f.outline(narrow, f.at(0, foot), f.at(g.width, foot), f.at(g.width, top), f.at(0, top))
	for _, y := range folds {
		f.line(hidden, f.at(0, y), f.at(g.width, y))
	}
	f.along(f.at(0, foot), f.at(0, top), "reference edge")
}
