package grading

import (
	"fmt"
	"math"
	"strconv"

	"arrisbook/geom/joint"
)

// plainTolerance is what a number takes that no gap depends on: a tenth of a
// millimetre or of a degree, the step of a calliper or a good protractor.
const plainTolerance = 0.1

// limits are what the shop allows for a unit: never below floor, never above
// most.
func (s Shop) limits(u joint.Unit) (floor, most float64) {
	switch u {
	case joint.MM:
		return s.LengthStep / 2, max(s.LengthMost, s.LengthStep/2)
	case joint.Deg:
		return s.AngleStep / 2, max(s.AngleMost, s.AngleStep/2)
	}
	return 0, math.Inf(1)
}

// ShopFor is the default shop of a class that writes lengths in these units.
// A rule in sixty-fourths is the finest that an inch class sets.
func ShopFor(u Units) Shop {
	s := DefaultShop()
	if u == Inches {
		s.Units, s.LengthStep = Inches, inch/64
	}
	return s
}

// tolerance finds how far a number may be off, and why.
//
// The value comes from the fit: the largest deviation that keeps every gap
// within the shop's word, cut to two figures, which never takes a tenth of it:
// 1.1 times the tolerance is beyond what the fit allows.
func (m *model) tolerance(ex *Exercise, blank *joint.Blank, givens joint.Values, d *definition, shop Shop) (float64, string) {
	if d.step != nil && d.step.Tolerance > 0 {
		return d.step.Tolerance, "The exercise sets " + shop.written(d.step.Tolerance, d.unit) + " for this number."
	}
	floor, most := shop.limits(d.unit)
	if blank != nil {
		// An id that is no quantity of the family is an error here, and takes
		// the plain tolerance as well.
		if slack, ok, err := blank.Slack(d.id, shop.Word); err == nil && ok {
			return shop.fromSlack(slack, d.unit, ex.gapName(slack.Gap), floor, most)
		}
	}
	t := m.plain(d, givens, floor, most)
	return t, "No gap depends on this number: " + shop.written(t, d.unit) + " is as fine as it is marked."
}

func (s Shop) fromSlack(slack joint.Slack, u joint.Unit, gap string, floor, most float64) (float64, string) {
	t := twoFigures(slack.Deviation)
	switch {
	case t > most && slack.Gap == "":
		return most, s.written(most, u) + " is the most this shop allows; the joint would stay " + s.Word.String() + " with more."
	case t > most:
		return most, fmt.Sprintf("%s is the most this shop allows; the %s would stay %s with a little more.", s.written(most, u), gap, s.Word)
	case t < floor:
		return floor, fmt.Sprintf("The shop's tools set no finer than %s; the %s would ask for less.", s.written(floor, u), gap)
	}
	return t, fmt.Sprintf("%s keeps the %s %s.", s.written(t, u), gap, s.Word)
}

// twoFigures cuts a number under 10 down to two figures, but not below a
// thousandth.
func twoFigures(v float64) float64 {
	step := 100.0
	if v < 0.1 {
		step = 1000
	}
	return math.Floor(v*step+1e-6) / step
}

// plain is the tolerance where no gap decides. For an area it is what a tenth
// of a millimetre on both sides of a square of that area makes.
func (m *model) plain(d *definition, blank joint.Values, floor, most float64) float64 {
	if d.unit == joint.MM2 {
		v := math.Abs(m.values(blank)[d.slot])
		if finite(v) && v > 0 {
			return math.Max(0.1, math.Floor(2*plainTolerance*math.Sqrt(v)*10)/10)
		}
	}
	return min(max(plainTolerance, floor), most)
}

// bounds are what a tolerance can come to, before the fit is worked out.
func (m *model) bounds(ex *Exercise, blank joint.Values, d *definition, shop Shop) (least, most float64) {
	if d.step != nil && d.step.Tolerance > 0 {
		return d.step.Tolerance, d.step.Tolerance
	}
	floor, top := shop.limits(d.unit)
	plain := m.plain(d, blank, floor, top)
	if ex.Family == nil || d.unit == joint.MM2 || d.unit == joint.One {
		return plain, plain
	}
	return min(floor, plain), max(top, plain)
}

// written is a tolerance in words of its unit.
func (s Shop) written(t float64, u joint.Unit) string {
	switch {
	case u == joint.Deg:
		return strconv.FormatFloat(t, 'f', -1, 64) + "°"
	case u == joint.MM && s.Units == Inches:
		return strconv.FormatFloat(t/inch, 'f', 3, 64) + " in"
	case u == joint.MM:
		return shortest(t) + " mm"
	case u == joint.MM2:
		return shortest(t) + " mm²"
	}
	return shortest(t)
}

// shortest writes a number to a thousandth without idle noughts.
func shortest(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}

// gapName is a consequence inside a sentence: "near cheek".
func (ex *Exercise) gapName(id string) string {
	for _, c := range ex.Family.Consequences {
		if c.ID == id {
			return midSentence(c.Name)
		}
	}
	return id
}
