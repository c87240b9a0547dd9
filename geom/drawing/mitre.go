package drawing

import (
	"math"

	"arrisbook/geom/joint"
)

// mitre is the corner of two boards of different width, laid out on one blank:
// the inner corner at the origin, board a along x with its wood below, board b
// leaving at the corner angle with its wood on the left.
type mitre struct {
	widthA, widthB, length float64
	corner, mitreA, mitreB float64 // radians
}

func newMitre(l joint.Layout) mitre {
	p, q := l.Parameters, l.Quantities
	return mitre{
		widthA: p["width_a"], widthB: p["width_b"], length: q["mitre_length"],
		corner: p["corner_angle"] * radian, mitreA: q["mitre_a"] * radian, mitreB: q["mitre_b"] * radian,
	}
}

var mitrePainter = painter{
	sheet:    mitreSheet,
	fit:      mitreFit,
	figures:  []string{"corner", "board-a", "board-b", "triangles", "equal-mitres"},
	figure:   mitreFigure,
	problems: needs([]string{"width_a", "width_b", "corner_angle", "mitre_a", "mitre_b", "mitre_length"}),
	scale:    func(l joint.Layout) float64 { return newMitre(l).most() },
	template: mitreTemplate,
}

func mitreSheet(l joint.Layout, s Sheet) []sheetView {
	g := newMitre(l)
	return []sheetView{g.cornerView(s), g.boardView(s, "a"), g.boardView(s, "b")}
}

// most is the scale that leaves the corner room for its dimensions.
func (g mitre) most() float64 { return fitTo(math.Max(g.widthA, g.widthB), 96, g.length, 150) }

// mitrePlaces are the corners of the joined boards on the paper, and their
// breaks.
type mitrePlaces struct {
	inner, outer                   pt
	innerA, outerA, innerB, outerB pt // at the breaks
	alongB                         pt
}

func (g mitre) places(k float64) mitrePlaces {
	p := mitrePlaces{alongB: heading(g.corner)}
	p.outer = heading(g.mitreA + pi).times(g.length * k)
	endA := math.Max(118, p.outer.x+40)
	p.innerA, p.outerA = pt{endA, 0}, pt{endA, g.widthA * k}
	left := p.alongB.left()
	endB := math.Max(104, p.outer.dot(p.alongB)+40)
	p.innerB = p.alongB.times(endB)
	p.outerB = p.innerB.add(left.times(g.widthB * k))
	return p
}

// cornerView is view A: the boards joined, seen on their faces.
func (g mitre) cornerView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	k := s.scaled(g.most())
	p := g.places(k)
	c.line(visible, p.innerA, p.inner, p.innerB)
	c.line(visible, p.outerA, p.outer, p.outerB)
	c.line(visible, p.inner, p.outer)
	c.breakLine(p.innerA, p.outerA)
	c.breakLine(p.innerB, p.outerB)

	c.measure(ruler{from: p.outerA, to: p.innerA, out: pt{1, 0}, off: 24}, "width_a")
	c.measure(ruler{from: p.outerB, to: p.innerB, out: p.alongB, off: 24}, "width_b")
	c.spread(opening{corner: p.inner, a: 0, b: g.corner, sideA: p.innerA.x, sideB: p.innerB.length(), r: 34}, "corner_angle")
	if !c.asks("mitre_length") { // else it is measured on board a
		c.measure(ruler{from: p.outer, to: p.inner, out: p.outer.unit().left(), off: 22, inside: []float64{34, -22, -34}}, "mitre_length")
	}
	c.name(p.innerA.mid(p.outerA).add(pt{-20, 5}), "a")
	c.name(p.innerB.mid(p.outerB).sub(p.alongB.times(18)).add(pt{0, 5}), "b")
	v := c.view("corner", "A", s.said("the corner, seen on the faces", k))
	v.Title = "The corner, seen on the faces"
	v.Desc = "Two boards of different width meet on the mitre line, which runs from the inner corner to the outer corner."
	return sheetView{c, v}
}

// boardView is one board marked out on its face, the inner edge uppermost: a
// with its cut at the left, b with its cut at the right, as in the corner.
func (g mitre) boardView(s Sheet, name string) sheetView {
	c := &canvas{sheet: s}
	width, angle, turn, letter := g.widthA, g.mitreA, 1.0, "B"
	if name == "b" {
		width, angle, turn, letter = g.widthB, g.mitreB, -1, "C"
	}
	shift := width / math.Tan(angle) // how far the line goes past the inner corner
	k := s.scaled(fitTo(width, 104, math.Abs(shift), 150))
	x := func(x float64) float64 { return turn * x }
	foot := width * k
	toe := pt{x(-shift * k), foot}
	blank, far := math.Min(0, -shift*k)-16, math.Max(0, -shift*k)+150
	waste := []pt{{x(blank), 0}, {}, toe, {x(blank), foot}}
	c.hatch(waste)
	c.line(phantom, waste[1], waste[0], waste[3], waste[2])
	c.line(visible, pt{x(far), 0}, pt{}, toe, pt{x(far), foot})
	c.breakLine(pt{x(far), 0}, pt{x(far), foot})

	c.faceMark(pt{x(far - 24), 0}, pt{0, 1})
	up := pt{}.sub(toe).unit()
	c.line(narrow, up.times(extGap), up.times(74))
	if turn > 0 {
		c.spread(opening{corner: pt{}, a: 0, b: angle, sideA: far, sideB: 74, r: 44}, "mitre_"+name)
	} else {
		c.spread(opening{corner: pt{}, a: pi - angle, b: pi, sideA: 74, sideB: far, r: 44}, "mitre_"+name)
	}
	if name == "a" {
		c.measure(ruler{from: toe, to: pt{}, out: up.right(), off: 22, inside: []float64{34, 48, -22}}, "mitre_length")
	}
	c.name(pt{x(far - 62), foot/2 + 5}, "board "+name)
	c.nameOut(pt{x(far - 14), 0}, pt{-turn, -1}, "inner edge")
	v := c.view("board-"+name, letter, s.said("board "+name+" marked out, seen on its face", k))
	v.Title = "Board " + name + " marked out, seen on its face"
	v.Desc = "The inner edge, the reference edge, is uppermost. The mitre line leaves it at the inner corner; what lies beyond is waste and hatched. The mitre is measured between the inner edge and the line, which is carried on above the edge."
	return sheetView{c, v}
}
