package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// tailNumbers are the numbers that the tails are made from.
type tailNumbers struct {
	length, first, second, last, width, narrow float64
	slope, bevel                               geom.Angle
}

// tailNumbersOf takes the numbers from the quantities; trouble says why no
// tails can be made from them.
func tailNumbersOf(q Values) (n tailNumbers, trouble string) {
	for _, id := range [...]string{"slope_angle", "bevel_from_end", "tail_width", "tail_at_baseline", "tail_baseline", "first_tail_start", "last_tail_end"} {
		if _, ok := q[id]; !ok {
			return n, "On this blank there is no joint to close."
		}
	}
	n = tailNumbers{
		length: q["tail_baseline"], first: q["first_tail_start"], second: q["second_tail_start"], last: q["last_tail_end"],
		width: q["tail_width"], narrow: q["tail_at_baseline"],
		slope: geom.Deg(q["slope_angle"]), bevel: geom.Deg(q["bevel_from_end"]),
	}
	switch {
	case n.length <= 0:
		trouble = "With this baseline there are no tails."
	case n.width <= 0 || n.narrow <= 0:
		trouble = "With this width there are no tails."
	case n.slope <= -geom.Right || n.slope >= geom.Right || n.bevel <= 0 || n.bevel >= 2*geom.Right:
		trouble = "With this angle the sides of the tails never reach the baseline."
	}
	return n, trouble
}

// dovetailMade are the tails as made, driven home.
type dovetailMade struct {
	dovetail
	row     row
	numbers tailNumbers
	// baseline and tips are the planes where the made tails begin and end.
	baseline, tips geom.Plane
	proud          float64
}

// makeDovetail drives the tail board home: as far as its shoulders let it, and
// in the lapped joint as far as the lap lets the tails.
func makeDovetail(p, q Values) (m dovetailMade, trouble string) {
	m.dovetail = dovetailOf(p)
	var ok bool
	if m.row, ok = m.dovetail.row(); !ok || m.depth <= 0 {
		return m, "On this blank there is no joint to close."
	}
	if m.numbers, trouble = tailNumbersOf(q); trouble != "" {
		return m, trouble
	}
	m.tips = geom.Plane{N: m.ahead, D: m.numbers.length}
	m.proud = m.floor.Dist(m.tips.Foot(geom.Vec{}))
	back := 0.0
	if m.lapped {
		back = max(0, m.proud)
	}
	m.tips = m.tips.Shift(-back)
	m.baseline = geom.Plane{N: m.ahead, D: -back}
	return m, ""
}

// startMark is where the start of tail k is marked on the tail board's end.
func (m *dovetailMade) startMark(k int) geom.Vec {
	edge := m.nearEdge.Foot(m.tips.Foot(geom.Vec{}))
	switch k {
	case 0:
		return geom.Along(edge, m.numbers.first, m.across)
	case 1:
		return geom.Along(edge, m.numbers.second, m.across)
	}
	return m.tips.Foot(m.row.start(k))
}

// endMarks are where the end of tail k is marked: one width from its start,
// and for the last tail where last_tail_end has it.
func (m *dovetailMade) endMarks(k int, start geom.Vec) (marks [2]geom.Vec, count int) {
	marks[0] = geom.Along(start, m.numbers.width, m.across)
	if k < m.tails-1 {
		return marks, 1
	}
	marks[1] = geom.Along(m.nearEdge.Foot(start), m.numbers.last, m.across)
	return marks, 2
}

// atBaseline are the three points of the baseline that a side may run to: by
// the bevel, by the slope's angle, and by the tail's width there. turn is 1
// for the near side, which runs away from the reference edge, -1 for the far.
func (m *dovetailMade) atBaseline(mark, middle geom.Vec, turn float64) (to [3]geom.Vec, ok bool) {
	sinB, cosB := m.numbers.bevel.SinCos()
	sinA, cosA := m.numbers.slope.SinCos()
	byBevel := geom.Line{At: mark, Dir: geom.Vec{X: -sinB, Y: turn * cosB}}
	byAngle := geom.Line{At: mark, Dir: geom.Vec{X: -cosA, Y: turn * sinA}}
	var okBevel, okAngle bool
	to[0], okBevel = byBevel.Pierce(m.baseline)
	to[1], okAngle = byAngle.Pierce(m.baseline)
	to[2] = geom.Along(m.baseline.Foot(middle), -turn*m.numbers.narrow/2, m.across)
	return to, okBevel && okAngle
}

// closeSides looks at every side of every tail, in every way the numbers tell
// it, against the pin's side that it should lie on. ok is false where a side
// never reaches the baseline.
func (m *dovetailMade) closeSides(w *worstSide) (ok bool) {
	for k := range m.tails {
		start := m.startMark(k)
		ends, count := m.endMarks(k, start)
		wallNear, okNear := side(m.row.start(k), m.near())
		wallFar, okFar := side(m.row.end(k), m.far())
		if !okNear || !okFar {
			return false
		}
		wallFar = wallFar.Flip() // into the pin beyond
		for _, end := range ends[:count] {
			middle := r3.Scale(0.5, r3.Add(start, end))
			near, okNear := m.atBaseline(start, middle, 1)
			far, okFar := m.atBaseline(end, middle, -1)
			if !okNear || !okFar {
				return false
			}
			for i := range near {
				w.meet(m, start, near[i], wallNear)
				w.meet(m, end, far[i], wallFar)
			}
		}
	}
	return true
}

// worstSide is the largest gap and the largest interference so far.
type worstSide struct{ gap, interference float64 }

// meet takes in one side, from its end mark to its point on the baseline,
// through the board's thickness, as far as it lies in the pin board.
func (w *worstSide) meet(m *dovetailMade, mark, base geom.Vec, wall geom.Plane) {
	var corners [2][8]geom.Vec
	face := append(geom.Polygon(corners[0][:0]), mark, base, m.end.Foot(base), m.end.Foot(mark))
	inside := face.Clip(corners[1][:0], m.floor, exact)
	inside = inside.Clip(face[:0], m.inner, exact)
	if g := (mating{face: inside, wall: wall}).gap(geom.Vec{}); g.Has {
		w.gap, w.interference = max(w.gap, g.Value.Max), max(w.interference, -g.Value.Min)
	}
}

// fitDovetail sets gap, interference and proud.
func fitDovetail(p, q Values, out []Made) string {
	m, trouble := makeDovetail(p, q)
	if trouble != "" {
		return trouble
	}
	var w worstSide
	if !m.closeSides(&w) {
		return "With this angle the sides of the tails never reach the baseline."
	}
	out[0], out[1], out[2] = number(w.gap), number(w.interference), number(m.proud)
	return ""
}
