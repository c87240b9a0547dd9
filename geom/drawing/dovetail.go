package drawing

import (
	"math"
	"strconv"

	"arrisbook/geom/joint"
)

// dovetail is a dovetailed corner, through or lapped, laid out on one blank.
// Lengths are millimetres; offsets along the ends are from the reference edge.
type dovetail struct {
	width, tailBoard, pinBoard, lap float64
	pin, pinWide, halfPin           float64
	tail, narrow                    float64 // a tail at the end and at the baseline
	length, pinLength               float64 // the two baselines
	first                           float64
	angle                           float64 // of a flank from square, radians
	tails                           int
	lapped                          bool
}

func newDovetail(l joint.Layout) dovetail {
	p, q := l.Parameters, l.Quantities
	lap, lapped := p["lap"]
	return dovetail{
		width: p["width"], tailBoard: p["tail_thickness"], pinBoard: p["pin_thickness"], lap: lap, lapped: lapped,
		pin: p["pin"], halfPin: p["half_pin"], tails: int(p["tails"]),
		pinWide: q["pin_wide"], tail: q["tail_width"], narrow: q["tail_at_baseline"],
		length: q["tail_baseline"], pinLength: q["pin_baseline"], first: q["first_tail_start"],
		angle: q["slope_angle"] * radian,
	}
}

// start and end are where tail k, from 0, starts and ends on the end.
func (g dovetail) start(k int) float64 { return g.first + float64(k)*(g.tail+g.pin) }
func (g dovetail) end(k int) float64   { return g.start(k) + g.tail }

// offset is how far a flank goes across from the end to the baseline.
func (g dovetail) offset() float64 { return (g.tail - g.narrow) / 2 }

// room is one of the gaps between tails that are sawn out for the pins: from
// and to on the end, and at the baseline.
type room struct{ from, to, baseFrom, baseTo float64 }

// rooms lists them from the reference edge, half-pins first and last.
func (g dovetail) rooms() []room {
	d := g.offset()
	rs := []room{{0, g.start(0), 0, g.start(0) + d}}
	for k := range g.tails - 1 {
		rs = append(rs, room{g.end(k), g.start(k + 1), g.end(k) - d, g.start(k+1) + d})
	}
	last := g.end(g.tails - 1)
	return append(rs, room{last, g.width, last - d, g.width})
}

var dovetailPainter = painter{
	sheet:   dovetailSheet,
	fit:     dovetailFit,
	figures: []string{"tail-board", "tail", "triangle", "flank", "pin-board", "section"},
	figure:  dovetailFigure,
	scale:   func(l joint.Layout) float64 { return newDovetail(l).fitScale() },
	problems: needs([]string{
		"width", "pin", "half_pin", "tail_thickness", "pin_thickness", "tail_width", "tail_at_baseline", "pin_wide", "tail_baseline", "pin_baseline",
	}, "slope_angle", "tails", "first_tail_start"),
	template: dovetailTemplate,
}

func dovetailSheet(l joint.Layout, s Sheet) []sheetView {
	g := newDovetail(l)
	return []sheetView{g.sectionView(s), g.pinsView(s), g.flankView(s), g.tailView(s), g.faceView(s)}
}

// drawnTails says how many tails are drawn where the sheet's own number is
// another one.
func (g dovetail) drawnTails(s Sheet) string {
	n, err := strconv.Atoi(s.Given["tails"])
	if err != nil || n == g.tails {
		return ""
	}
	return "; drawn with another number of tails than yours"
}

// fitTo is the scale that draws every size within its room: sizes and rooms
// alternate.
func fitTo(pairs ...float64) float64 {
	k := math.Inf(1)
	for i := 0; i+1 < len(pairs); i += 2 {
		k = math.Min(k, pairs[i+1]/pairs[i])
	}
	return k
}
