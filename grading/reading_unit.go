package grading

import (
	"math"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// DimOf is the dimension that a number of a catalogue unit has in formulas.
func DimOf(u joint.Unit) formula.Dim {
	switch u {
	case joint.MM:
		return formula.Length
	case joint.Deg:
		return formula.Angle
	case joint.MM2:
		return formula.Area
	}
	return formula.Number
}

// unit is what one written number counts. Lengths are kept in tenths of a
// millimetre, so that 254 stands for the inch exactly.
type unit struct {
	tenths float64 // tenths of a millimetre in one, 0 where it is no length
	power  int     // 1 for a length, 2 for an area, 0 otherwise
	suffix string  // how a reading in it ends
}

const (
	millimetre    = 10
	centimetre    = 100
	tenthsPerInch = 254
)

var (
	inMM   = unit{millimetre, 1, " mm"}
	inCM   = unit{centimetre, 1, " mm"}
	inInch = unit{tenthsPerInch, 1, " in"}
	inMM2  = inMM.squared()
	inCM2  = inCM.squared()
	inIn2  = inInch.squared()
	inDeg  = unit{suffix: "°"}
	inOne  = unit{}
)

// isInch says that the unit is the inch or the square inch.
func (u unit) isInch() bool { return u.tenths == tenthsPerInch }

// squared is the unit of area that belongs to a unit of length.
func (u unit) squared() unit { return unit{u.tenths, 2, u.suffix + "²"} }

// toStep turns a number in this unit into millimetres, square millimetres,
// degrees or the plain number.
func (u unit) toStep(v float64) float64 {
	if u.power == 0 || u.tenths == millimetre {
		return v // in the step's unit already: every digit stays
	}
	for range u.power {
		v *= u.tenths / 10
	}
	// 2.05 in is 52.07 mm: what was typed has few digits, so a billionth takes
	// the rounding of the product away and nothing else.
	if r := math.Round(v*1e9) / 1e9; !math.IsInf(r, 0) {
		return r
	}
	return v
}

// fromStep turns a value in millimetres into this unit.
func (u unit) fromStep(v float64, d formula.Dim) float64 {
	switch {
	case u.tenths == 0:
		return v
	case d == formula.Length:
		return v * 10 / u.tenths
	case d == formula.Area:
		return v * 100 / (u.tenths * u.tenths)
	}
	return v
}

// beside ends a reading in inches: the unit, and millimetres in brackets.
func (u unit) beside(value float64) string {
	mm := inMM
	if u.power == 2 {
		mm = inMM2
	}
	return u.suffix + " (" + digits(value, 1) + mm.suffix + ")"
}

// shift is by how many places the decimal point moves on the way to
// millimetres.
func (u unit) shift() int {
	if u.tenths == centimetre {
		return u.power
	}
	return 0
}

// classUnit is the unit of a number written without one.
func (e entry) classUnit() unit {
	switch {
	case e.Unit == joint.MM && e.Units == Inches:
		return inInch
	case e.Unit == joint.MM:
		return inMM
	case e.Unit == joint.MM2 && e.Units == Inches:
		return inIn2
	case e.Unit == joint.MM2:
		return inMM2
	case e.Unit == joint.Deg:
		return inDeg
	}
	return inOne
}

// The words for units of length, as pattern parts.
const (
	wordsMM   = `mm\.?|millimet(?:er|re)s?`
	wordsCM   = `cm\.?|centimet(?:er|re)s?`
	wordsInch = `in\.?|inch(?:es)?|"`
)

// lengthWord finds the unit that a word stands for.
func lengthWord(word string) unit {
	switch {
	case strings.HasPrefix(word, "mm"), strings.HasPrefix(word, "mil"):
		return inMM
	case strings.HasPrefix(word, "c"):
		return inCM
	}
	return inInch
}
