package drawing

import "math"

const pi = math.Pi

// Places of the joined view: the shoulder line's station on the neck's face,
// the neck's and the head's breaks and the dimensions outside them.
const (
	joinX        = 98.0
	joinBreak    = 44.0
	joinThickCol = 22.0
	joinReach    = 208.0 // from the shoulder line to the head's break, along the head
)

// joinedView is view A: neck and head joined, seen on the reference edge, the
// head to the right. The head's near wood hides the tongue below its face.
func (g headV) joinedView(s Sheet) sheetView {
	c := &canvas{sheet: s}
	m := scale{pt{joinX, 0}, g.k}
	j := g.joinedPoints(m)
	g.joinedOutline(c, j)
	c.edgeMark(j.neckTop.add(pt{22, 0}), pt{0, 1})

	c.dimension(dimension{from: j.neckFoot, to: j.neckTop, line: pt{joinThickCol, 0}, along: pt{0, 1}, loose: true}, c.of("thickness"))
	g.headThicknessDim(c, j)
	g.tiltAngle(c, j)
	g.tipDimensions(c, j, g.backShiftDim(c, j))
	if s.shows("half_angle", "mouth_near", "mouth_far", "cheek_length", "v_length", "v_width", "width") {
		g.seenFrom(c, j)
	}

	v := c.view("joined", "A", s.said("head and neck joined, seen on the reference edge", g.k))
	v.Title = "Head and neck joined, seen on the reference edge"
	v.Desc = "The head tilts back from the neck’s face. The tongue runs through the head; its tip stands proud of the head’s face."
	return sheetView{c, v}
}

// joinedPoints are the corners of the joined view on the paper.
type joinedPoints struct {
	o, back                   pt // shoulder line on face and back
	tip, tipFoot, tipOnFace   pt // the tip's line: at the neck's face, at its back, at the head's face
	neckTop, neckFoot         pt // at the break
	headTop, headFoot, planed pt // at the break: face, back, back when planed
	along, square             pt
}

func (g headV) joinedPoints(m scale) joinedPoints {
	j := joinedPoints{along: g.along(), square: g.square()}
	j.o, j.back = m.at(0, 0), m.at(-g.backShift, -g.thickness)
	j.tip, j.tipFoot = m.at(g.faceV, 0), m.at(g.faceV-g.backShift, -g.thickness)
	j.tipOnFace = j.o.add(j.along.times(g.vLength * g.k))
	j.neckTop, j.neckFoot = pt{joinBreak, j.o.y}, pt{joinBreak, j.back.y}
	j.headTop = j.o.add(j.along.times(joinReach))
	down := j.square.times(-1)
	j.planed = j.headTop.add(down.times(g.headThickness * g.k))
	j.headFoot = j.headTop.add(down.times(j.o.to(j.back)))
	return j
}

func (g headV) joinedOutline(c *canvas, j joinedPoints) {
	c.line(visible, j.neckTop, j.tip, j.tipOnFace)
	c.line(visible, j.neckFoot, j.back, j.o)
	c.line(visible, j.headTop, j.o)
	c.line(visible, j.back, j.headFoot)
	c.line(hidden, j.back, j.tipFoot, j.tipOnFace)
	c.breakLine(j.neckTop, j.neckFoot)
	c.breakLine(j.headTop, j.headFoot)
	atEnd := j.o.toward(j.back, g.headThickness*g.k)
	c.line(phantom, atEnd, j.planed)
}

// headThicknessDim measures the finished head beyond its break.
func (g headV) headThicknessDim(c *canvas, j joinedPoints) {
	c.dimension(dimension{
		from: j.planed, to: j.headTop, line: j.headTop.add(j.along.times(26)), along: j.square, text: beyondFrom,
	}, c.of("head_thickness"))
}

// tiltAngle marks the head angle between the neck's face carried on and the
// head's face, and beside it the largest one the blank allows.
func (g headV) tiltAngle(c *canvas, j joinedPoints) {
	t, most := c.of("head_angle"), c.of("max_head_angle")
	if t.empty() && most.empty() {
		return
	}
	r := joinReach - 16.0
	c.line(narrow, j.tip.add(pt{extGap, 0}), j.o.add(pt{r + 6, 0}))
	d := angleArc{corner: j.o, r: r, a: -g.head, b: 0}
	c.angle(d)
	if t.text != "" {
		c.write(onCircle(j.o, r+10, -g.head/2).add(pt{0, 5}), start, t.text)
	}
	if most.ball != nil {
		from := onCircle(j.o, r, 0)
		ball := from.add(pt{4, -36})
		c.callout(from, ball, tag{ball: most.ball}, start)
		words := "at most"
		if most.text != "" {
			words += " " + most.text
		}
		c.note(pt{Width - 6, ball.y - ringRadius - 6}, end, words)
	}
}

// tipDimensions measure the tip's line square to the head's face: what stands
// proud above it, and what reaches below. Both balloons stand on the
// dimension line carried on, above and below the wood, the lower one clear of
// the back shift's.
func (g headV) tipDimensions(c *canvas, j joinedPoints, shiftBall pt) {
	line := j.tip.add(j.along.times(15))
	down := j.square.times(-1)
	c.dimensionAside(dimension{
		from: j.tipOnFace, to: j.tip, line: line, along: j.square, off: true, reach: 34, bareFrom: true,
	}, c.of("tip_proud"), end)
	a := j.tipFoot.onLine(line, j.square)
	reach := a.to(meet(a, down, j.headFoot, j.along)) + 30
	for shiftBall != (pt{}) && a.add(down.times(reach)).to(shiftBall) < 2*hitRadius+2 {
		reach += 4
	}
	c.dimensionAside(dimension{
		from: j.tipOnFace, to: j.tipFoot, line: line, along: down, off: true, reach: reach, bareFrom: true,
	}, c.of("tip_depth"), start)
}

// backShiftDim measures how far the shoulder line lies farther from the end
// on the back, and says where its balloon went.
func (g headV) backShiftDim(c *canvas, j joinedPoints) pt {
	y := j.back.y + 36
	return c.dimension(dimension{from: j.o, to: j.back, line: pt{0, y}, along: pt{1, 0}, text: beyondTo, ball: beyondFrom, off: true, reach: 30}, c.of("back_shift"))
}

// seenFrom is the arrow that says from where view C is seen.
func (g headV) seenFrom(c *canvas, j joinedPoints) {
	p := j.o.add(j.along.times((j.o.to(j.tipOnFace) + joinReach) / 2)).add(j.square.times(3))
	c.viewArrow(p, j.square.times(-1), 38, "C")
}

// asks says whether a quantity is asked on the sheet.
func (c *canvas) asks(id string) bool {
	for _, b := range c.sheet.Asked {
		if b.Quantity == id {
			return true
		}
	}
	return false
}

// shows says whether the sheet has anything to say about one of the ids.
func (s Sheet) shows(ids ...string) bool {
	c := &canvas{sheet: s}
	for _, id := range ids {
		if !c.of(id).empty() {
			return true
		}
	}
	return false
}
