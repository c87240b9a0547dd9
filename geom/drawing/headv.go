package drawing

import (
	"fmt"
	"math"

	"arrisbook/geom/joint"
)

// headV is the V joint of a tilted instrument head, laid out on one blank and
// given a scale. Wood is placed in the neck's frame: x toward the head from
// where the centre line meets the shoulder line, y from the reference edge, z
// up from the neck's face. Every point comes from the layout's quantities.
type headV struct {
	thickness, width, vLength, allowance, headThickness float64
	near, far                                           float64 // mouth points
	faceV, shoulder, backShift, depth, proud            float64
	half, faceHalf, head, tilt, most                    float64 // radians
	k                                                   float64 // paper units for a millimetre
}

// newHeadV reads a layout. The scale leaves the same room for every blank:
// the tongue as long as the paper allows beside its dimensions, the width no
// higher than a phone shows together with two fields.
func newHeadV(l joint.Layout) headV {
	p, q := l.Parameters, l.Quantities
	g := headV{
		thickness: p["thickness"], width: p["width"], vLength: p["v_length"],
		allowance: p["allowance"], headThickness: p["head_thickness"],
		near: q["mouth_near"], far: q["mouth_far"],
		faceV: q["face_v_length"], shoulder: q["shoulder_from_end"],
		backShift: q["back_shift"], depth: q["tip_depth"], proud: q["tip_proud"],
		half: q["half_angle"] * radian, faceHalf: q["face_half_angle"] * radian,
		head: p["head_angle"] * radian, tilt: q["cheek_tilt"] * radian, most: q["max_head_angle"] * radian,
	}
	g.k = math.Min(92/g.faceV, 146/g.width)
	return g
}

// headVNeeds are the quantities no drawing can do without.
var headVNeeds = []string{
	"half_angle", "mouth_near", "mouth_far", "face_v_length", "face_half_angle",
	"shoulder_from_end", "back_shift", "tip_proud", "tip_depth", "cheek_tilt",
}

var headVPainter = painter{
	sheet:    headVSheet,
	fit:      headVFit,
	figures:  headVFigureNames,
	template: headVTemplate,
	figure:   headVFigure,
	scale:    func(l joint.Layout) float64 { return newHeadV(l).k },
	problems: func(l joint.Layout) error {
		for _, id := range headVNeeds {
			if _, ok := l.Quantities[id]; !ok {
				return fmt.Errorf("%s has no value on this blank, so it cannot be drawn", id)
			}
		}
		return nil
	},
}

func headVSheet(l joint.Layout, s Sheet) []sheetView {
	g := newHeadV(l)
	if s.Answers != nil { // true to scale: a little more paper makes it 1 : 2 on the usual blanks
		g.k = s.scaled(math.Min(98/g.faceV, 166/g.width))
	}
	return []sheetView{g.headView(s), g.joinedView(s), g.neckView(s), g.endView(s)}
}

// along is the head's direction as seen on the reference edge, and square its
// face's normal.
func (g headV) along() pt  { return heading(-g.head) }
func (g headV) square() pt { return g.along().left() }
