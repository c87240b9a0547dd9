package drawing

import (
	"math"
	"strings"

	"arrisbook/geom/joint"
)

// Places of the fit pictures.
const (
	fitHeadEnd   = 112.0
	fitHeadBreak = 346.0
	fitNeckBreak = 22.0
)

func headVFit(l joint.Layout, d fitDrawing) []View {
	g := newHeadV(l)
	return []View{g.shoulderFit(d), g.faceFit(d)}
}

// shoulderFit is the shoulder beside the tongue, seen on the reference edge.
// Both shoulders lie in one plane; the one that stands off more is drawn.
func (g headV) shoulderFit(d fitDrawing) View {
	c := &canvas{}
	a := d.face("near_shoulder")
	if far := d.face("far_shoulder"); far.most > a.most {
		a = far
	}
	k := 96 / g.thickness
	m := scale{pt{178, 0}, k}
	face, back := m.at(0, 0), m.at(-g.backShift, -g.thickness)
	along := g.along()
	level := 1 / math.Cos(g.head)
	neckFace := face.sub(pt{a.at("face") * level, 0})
	neckBack := back.sub(pt{a.at("back") * level, 0})

	headTop, headFoot := face.add(along.times(146)), back.add(along.times(146))
	c.line(visible, headTop, face, back, headFoot)
	c.breakLine(headTop, headFoot)
	c.line(visible, pt{fitNeckBreak, face.y}, neckFace, neckBack, pt{fitNeckBreak, back.y})
	c.breakLine(pt{fitNeckBreak, face.y}, pt{fitNeckBreak, back.y})
	c.note(pt{fitNeckBreak + 24, face.y + 54}, start, "neck")
	c.note(face.add(along.times(96)).mid(back.add(along.times(96))), middle, "head")

	c.gapAcross(neckFace, face, -24, a.says("face"))
	c.gapAcross(neckBack, back, 24, a.saysOther("back", "face"))
	v := c.view("fit-shoulder", "A", "the shoulder beside the tongue, seen on the reference edge. "+d.note)
	v.Title = "How the shoulder would meet the head’s end, seen on the reference edge"
	v.Desc = d.tells
	return v
}

// says is what is said of the gap at a corner: its word where it is the least
// or the most, or the same all along.
func (a fitFace) says(corner ...string) string {
	switch {
	case a.leastAt == "" || a.mostAt == "" || within(a.mostAt, corner):
		return a.mostSays
	case within(a.leastAt, corner):
		return a.leastSays
	}
	return ""
}

// saysOther is what is said at a corner unless the same is said at another one
// already.
func (a fitFace) saysOther(corner, other string) string {
	if a.leastAt == "" || a.mostAt == "" {
		return ""
	}
	if s := a.says(corner); s != a.says(other) {
		return s
	}
	return ""
}

// wordsOver is how far words stand over a dimension line whose extension lines
// are closer together than the words are long.
const wordsOver = 8.0

// gapAcross dimensions a gap between two corners on an edge of the wood: away
// is how far from the edge, negative above it. Words stand beyond the
// dimension line; where nothing is left between the corners a dot marks the
// contact.
func (c *canvas) gapAcross(from, to pt, away float64, words string) {
	if words == "" {
		return
	}
	under := 0.0
	if away > 0 {
		under = wordsOver + 16
	}
	m := from.mid(to)
	if from.to(to) < 1 {
		c.put(ring{ink, m, 3.5})
		y := m.y + away
		c.line(narrow, m, pt{m.x, y})
		c.write(pt{m.x, y - wordsOver + under}, middle, words)
		return
	}
	c.dimension(dimension{from: from, to: to, line: pt{0, m.y + away}, along: pt{1, 0}, bare: true}, tag{})
	c.write(pt{m.x, m.y + away - wordsOver + under}, middle, words)
}

// faceFit is tongue and socket, seen square on the head's face. What differs
// on the back is dashed.
func (g headV) faceFit(d fitDrawing) View {
	c := &canvas{}
	m := scale{pt{fitHeadEnd, g.width * g.k}, g.k}
	s := g.socket(m)
	t, b := g.tongue(s, d, "face"), g.tongue(s, d, "back")

	c.line(visible, pt{fitHeadBreak, s.top.y}, s.top, s.far, s.tip, s.near, s.foot, pt{fitHeadBreak, s.foot.y})
	c.breakLine(pt{fitHeadBreak, s.top.y}, pt{fitHeadBreak, s.foot.y})
	c.line(visible, pt{fitNeckBreak, s.top.y}, t.top, t.far, t.tip, t.near, t.foot, pt{fitNeckBreak, s.foot.y})
	c.breakLine(pt{fitNeckBreak, s.top.y}, pt{fitNeckBreak, s.foot.y})
	c.line(centre, pt{fitNeckBreak - 8, s.tip.y}, pt{fitHeadBreak + 6, s.tip.y})
	if b.near.to(t.near)+b.far.to(t.far)+b.tip.to(t.tip) > 3 {
		c.line(hidden, b.far, b.tip, b.near)
	}
	c.note(pt{fitNeckBreak + 22, s.top.y + 24}, start, "neck")

	c.gapAcross(t.top, s.top, -24, d.face("far_shoulder").says("face"))
	c.gapAcross(t.foot, s.foot, 24, d.face("near_shoulder").says("face"))
	c.cheekMarks(d.face("near_cheek"), [3]pt{s.near, t.near, b.near}, [3]pt{s.tip, t.tip, b.tip}, 1)
	c.cheekMarks(d.face("far_cheek"), [3]pt{s.far, t.far, b.far}, [3]pt{s.tip, t.tip, b.tip}, -1)
	v := c.view("fit-face", "C", "tongue and socket, seen square on the head’s face. "+d.note)
	v.Title = "How the tongue would lie in the socket, seen square on the head’s face"
	v.Desc = d.tells
	return v
}

// vOutline is a V between two edges: the socket's or the tongue's.
type vOutline struct{ foot, near, tip, far, top pt }

func (g headV) socket(m scale) vOutline {
	return vOutline{
		foot: m.at(0, 0), near: m.at(0, g.near), tip: m.at(g.vLength, (g.near+g.far)/2),
		far: m.at(0, g.far), top: m.at(0, g.width),
	}
}

// tongue is the neck's outline in the socket, on the face or the back: every
// line as far off its wall, at both ends, as the gap is drawn there.
func (g headV) tongue(s vOutline, d fitDrawing, level string) vOutline {
	line := func(face string, mouth, in pt) (p, u pt) {
		a := d.face(face)
		p = mouth.add(in.times(a.at("mouth", level)))
		return p, s.tip.add(in.times(a.at("tip", level))).sub(p)
	}
	p, u := line("near_cheek", s.near, s.tip.sub(s.near).unit().left())
	q, v := line("far_cheek", s.far, s.tip.sub(s.far).unit().right())
	t := vOutline{tip: meet(p, u, q, v)}
	t.foot = s.foot.sub(pt{d.face("near_shoulder").at(level), 0})
	t.top = s.top.sub(pt{d.face("far_shoulder").at(level), 0})
	t.near = meet(p, u, t.foot, pt{0, 1})
	t.far = meet(q, v, t.top, pt{0, 1})
	return t
}

// cheekMarks says at a cheek where it touches and where it stands off, its
// words in the head's wood right of the tip: below for the near cheek (side
// 1), above for the far one (side -1). Mouth and tip are those of the wall, of
// the tongue on its face and of the tongue on its back.
func (c *canvas) cheekMarks(a fitFace, mouth, tip [3]pt, side float64) {
	row := tip[0].add(pt{24, side*30 + 5})
	mark := func(at float64, place, words string) {
		if words == "" {
			return
		}
		level := 1
		if strings.Contains(place, "back") {
			level = 2
		}
		c.gapMark(gapPlace{
			wall: mouth[0].add(tip[0].sub(mouth[0]).times(at)), along: tip[0].sub(mouth[0]).unit(),
			tongue: mouth[level], tongueAlong: tip[level].sub(mouth[level]), side: side,
		}, row, words)
		row.y += side * 22
	}
	if a.leastAt == "" || a.mostAt == "" {
		mark(0.35, "", a.mostSays)
		return
	}
	most, least := station(a.mostAt, a.most, 0.58), station(a.leastAt, a.least, 0.3)
	if most > least {
		mark(most, a.mostAt, a.mostSays)
		mark(least, a.leastAt, a.leastSays)
		return
	}
	mark(least, a.leastAt, a.leastSays)
	mark(most, a.mostAt, a.mostSays)
}

// station is where along a V line, from the mouth, a place is marked: a
// contact at the very corner, a gap where it is well seen.
func station(place string, gap, otherwise float64) float64 {
	in := 0.16
	if gap == 0 {
		in = 0
	}
	switch {
	case strings.Contains(place, "mouth"):
		return in
	case strings.Contains(place, "tip"):
		return 1 - in
	}
	return otherwise
}
