package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// dovetail are the givens of a dovetailed corner, through or lapped; a through
// one has no lap.
//
// Frame, in assembled pose: the tail board's reference face, inside the
// corner, is z = 0, wood below; the reference edges are y = 0; x = 0 is the
// inner face of the pin board, where the tails begin, and +x leads to the tail
// board's end. The pin board stands on the tail board and reaches down between
// the tails to z = -T₁. The sides of tails and pins stand square to z = 0.
//
// Tails are made from the submitted numbers, pins and sockets are as designed.
// The reference edges are held in one plane and the tail board is driven home
// until its shoulders meet the pin board's inner face. Starts are marked as
// submitted, the third and further ones, which nobody asks, where they belong;
// an end lies one tail width from its start, the last one also where
// last_tail_end has it. From the end marks a side runs back at bevel_from_end,
// or at slope_angle, or to a mark that leaves tail_at_baseline in the tail's
// middle. Whoever saws follows one of these, so all of them count: gap and
// interference are the largest over every side of every tail in every way that
// the numbers tell it, square to the side, within the pin board. proud is how
// far the tails' ends stand above the pin board's outer face, negative if shy.
// The other numbers (pin_wide, pin_baseline) belong to the pins.
//
// In the lapped joint the ends of the tails have a mate, the lap: proud is
// then how far they would stand into it. Tails that are too long keep the
// shoulders off by that much, too short they leave a hollow, so there proud
// counts for the fit word beside gap and interference. In the through joint
// it does not, for what is proud is planed off.
type dovetail struct {
	width, pin, halfPin, slope        float64
	tails                             int
	face, outer, inner, end           geom.Plane
	nearEdge, farEdge                 geom.Plane
	floor                             geom.Plane // where tails should end: the pin board's outer face, or its lap
	ahead, across                     geom.Vec
	tailBoard, pinBoard, depth        float64
	lapped                            bool
	tailsAreWhole, hasSlope, hasWidth bool
}

// mostTails is more than any board is wide enough for.
const mostTails = 1000

func dovetailOf(p Values) dovetail {
	lap, lapped := p["lap"]
	g := dovetail{
		width: p["width"], pin: p["pin"], halfPin: p["half_pin"], slope: p["slope"],
		tailBoard: p["tail_thickness"], pinBoard: p["pin_thickness"], lapped: lapped,
		ahead: geom.Vec{X: 1}, across: geom.Vec{Y: 1},
	}
	n := p["tails"]
	g.tailsAreWhole = n == math.Trunc(n) && n >= 1 && n <= mostTails
	if g.tailsAreWhole {
		g.tails = int(n)
	}
	g.hasSlope, g.hasWidth = g.slope > 0, g.width > 0 && g.tailBoard > 0 && g.pinBoard > 0
	g.face = geom.Plane{N: geom.Vec{Z: 1}}
	g.end = geom.Plane{N: geom.Vec{Z: -1}, D: g.tailBoard} // of the pin board; the tail board's outer face
	g.inner = geom.Plane{N: geom.Vec{X: -1}}
	g.outer = geom.Plane{N: g.ahead, D: g.pinBoard}
	g.floor = g.outer.Shift(-lap)
	g.nearEdge = geom.Plane{N: geom.Vec{Y: -1}}
	g.farEdge = geom.Plane{N: g.across, D: g.width}
	g.depth = -g.floor.Dist(g.inner.Foot(geom.Vec{}))
	return g
}

// row are the marks on the tail board's end. Each tail and the pin after it
// fill one of n equal steps between the first half-pin and a point one pin
// beyond the start of the last.
type row struct {
	first geom.Vec
	step  geom.Vec
	pin   geom.Vec
}

// row divides the end. ok is false where there is no whole number of tails.
func (g dovetail) row() (r row, ok bool) {
	if !g.tailsAreWhole || !g.hasWidth || !g.hasSlope {
		return row{}, false
	}
	edge := g.nearEdge.Foot(g.floor.Foot(geom.Vec{}))
	farEdge := g.farEdge.Foot(edge)
	r.pin = r3.Scale(g.pin, g.across)
	r.first = geom.Along(edge, g.halfPin, g.across)
	beyond := r3.Add(geom.Along(farEdge, -g.halfPin, g.across), r.pin)
	r.step = r3.Scale(1/float64(g.tails), r3.Sub(beyond, r.first))
	return r, true
}

// start is where tail k (from 0) starts, end is where it ends.
func (r row) start(k int) geom.Vec { return geom.Along(r.first, float64(k), r.step) }
func (r row) end(k int) geom.Vec   { return r3.Sub(r.start(k+1), r.pin) }

// near and far run from an end mark along the sides of a tail that leans as
// designed, toward the baseline.
func (g dovetail) near() geom.Vec { return geom.Vec{X: -g.slope, Y: 1} }
func (g dovetail) far() geom.Vec  { return geom.Vec{X: -g.slope, Y: -1} }

// side is the plane of a tail's or pin's side: from a mark on the end along a
// line, square to the face. Its normal points toward -y for a line that runs
// to the baseline.
func side(mark, along geom.Vec) (geom.Plane, bool) {
	return geom.NewPlane(geom.Cross(along, geom.Vec{Z: -1}), mark)
}

// dovetailQuantities are the quantities of both dovetails. What the tails'
// length means differs.
func dovetailQuantities(lengthMeans, lengthFrom string) []Quantity {
	return []Quantity{
		{ID: "slope_angle", Name: "Slope angle", Symbol: "α", Unit: Deg,
			Means: "How far the side of a tail leans.",
			From:  "Between the side of a tail and a line square to the end."},
		{ID: "bevel_from_end", Name: "Bevel from the end", Symbol: "β", Unit: Deg,
			Means: "The bevel's setting for the sides of the tails.",
			From:  "Between the side of a tail and the tail board's end."},
		{ID: "tail_width", Name: "Tail width", Symbol: "b", Unit: MM,
			Means: "The width of each tail at its wide end.",
			From:  "From side to side, along the tail board's end."},
		{ID: "tail_at_baseline", Name: "Tail at the baseline", Symbol: "b′", Unit: MM,
			Means: "The width of each tail where it begins, a check on the bevel.",
			From:  "From side to side, along the baseline."},
		{ID: "pin_wide", Name: "Wide pin", Symbol: "p′", Unit: MM,
			Means: "A pin's wide width, on the inner face of the pin board.",
			From:  "From side to side, where the tails have their baseline."},
		{ID: "tail_baseline", Name: "Tail baseline", Symbol: "g₁", Unit: MM,
			Means: lengthMeans, From: lengthFrom},
		{ID: "pin_baseline", Name: "Pin baseline", Symbol: "g₂", Unit: MM,
			Means: "How long the pins are: they reach through the tail board.",
			From:  "From the pin board's end."},
		{ID: "first_tail_start", Name: "First tail's start", Symbol: "a₁", Unit: MM,
			Means: "Where the first tail starts, on the tail board's end.",
			From:  "From the reference edge, along the end."},
		{ID: "last_tail_end", Name: "Last tail's end", Symbol: "e", Unit: MM,
			Means: "Where the last tail ends, on the tail board's end.",
			From:  "From the reference edge, along the end."},
		{ID: "second_tail_start", Name: "Second tail's start", Symbol: "a₂", Unit: MM,
			Means: "Where the second tail starts, on the tail board's end.",
			From:  "From the reference edge, along the end."},
	}
}

// dovetailConsequences are the consequences of both. Where the ends of the
// tails have a mate, how far they stand out is a gap like the others.
func dovetailConsequences(endsMeet bool) []Consequence {
	proud := "How far the tails' ends stand above the pin board's outer face; negative where they are shy."
	if endsMeet {
		proud = "How far the tails' ends would stand into the lap, which keeps the shoulders off by as much; negative where they do not reach it."
	}
	return []Consequence{
		{ID: "gap", Name: "gap beside the tails", Unit: MM, Gap: true,
			Means: "The largest gap between the sides of tails and pins, square to the side."},
		{ID: "interference", Name: "interference beside the tails", Unit: MM, Gap: true,
			Means: "How deep, at most, the side of a tail would have to go into a pin, square to the side."},
		{ID: "proud", Name: "end of the tails", Unit: MM, Gap: endsMeet, Means: proud},
	}
}
