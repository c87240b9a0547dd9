package grading

import (
	"arrisbook/geom/joint"
)

// Reading is how an entry was understood.
type Reading struct {
	// Value is in the step's unit: millimetres, degrees.
	Value float64    `json:"value"`
	Unit  joint.Unit `json:"unit"`
	// Says is the reading in words for the page: "24.2°", "13.5 mm",
	// "2 3/64 in (52.0 mm)".
	Says string `json:"-"`
	// Half is half the last written digit (or finest step) in the step's unit:
	// the answer stands for anything from Value−Half to Value+Half. Of working
	// it is a billionth: working is exact.
	Half float64 `json:"-"`
	// Working is the formula text when the answer was given as working, in a
	// form that formula.Parse reads. Its numbers and lengths are in the unit
	// the answer was given in, which in an inch class is inches.
	Working string `json:"-"`
}

// InputError is an entry that cannot be read. Reason is a sentence for the
// person who wrote it and says what would be understood. Field is set by
// whoever knows it.
type InputError struct {
	Field, Text, Reason string
}

func (e *InputError) Error() string {
	if e.Field == "" {
		return e.Reason
	}
	return e.Field + ": " + e.Reason
}

// Read understands one entry for a number of the given unit. A length without
// a unit is in the class's units; slopes (1:6, 1 in 6, 18/40) are read where
// an angle is asked. names gives values for working (ids allowed in it), in
// millimetres and degrees whatever the class writes, and may be nil. The error
// is always an *InputError.
func Read(text string, unit joint.Unit, units Units, names func(id string) (float64, bool)) (Reading, error) {
	return Asked{Unit: unit, Units: units, Names: names}.Read(text)
}

// Asked is what an entry answers: Read with everything that can be said.
type Asked struct {
	Unit  joint.Unit
	Units Units
	// Names gives values for working, in the catalogue's units.
	Names func(id string) (float64, bool)
	// UnitOf tells the unit of a name in working; nil asks the catalogue of
	// joints. An exercise over its own givens has to tell.
	UnitOf func(id string) (joint.Unit, bool)
}

// longest is how much text one entry may have, in characters.
const longest = 200

// Read understands one entry. The error is always an *InputError.
func (a Asked) Read(text string) (Reading, error) {
	r, reason := a.read(text)
	if reason != "" {
		return Reading{}, &InputError{Text: text, Reason: reason}
	}
	return r, nil
}

// notation is one way to write an entry. ok is false when the text has another
// form; a reason refuses it.
type notation func(e entry) (r Reading, reason string, ok bool)

// notations lists for each unit the ways to write it; the first that fits wins,
// and working comes after all of them.
var notations = map[joint.Unit][]notation{
	joint.Deg: {lengthForAngle, degreesMinutes, minutesOnly, slope, degreeFraction, ratio, mixedDegrees, otherAngleUnit, plain, twoNumbers},
	joint.MM:  {angleForOther, slopeForOther, feet, shopFraction, hyphenFraction, lengthWithUnit, plain, twoNumbers},
	joint.MM2: {angleForOther, slopeForOther, areaWithUnit, lengthForArea, plain, twoNumbers},
	joint.One: {angleForOther, slopeForOther, lengthForNumber, mixedNumber, plain, twoNumbers},
}

func (a Asked) read(text string) (Reading, string) {
	if isPlainly(text) {
		v, places := decimal(text)
		return settle(quantity(v, places, entry{Asked: a}.classUnit()), a)
	}
	e, reason := newEntry(text, a)
	if reason != "" {
		return Reading{}, reason
	}
	for _, n := range notations[a.Unit] {
		if r, reason, ok := n(e); reason != "" {
			return Reading{}, reason
		} else if ok {
			return settle(r, a)
		}
	}
	r, reason := working(e)
	if reason != "" {
		return Reading{}, reason
	}
	return settle(r, a)
}

// settle puts the last touches to a reading and holds it to its range.
func settle(r Reading, a Asked) (Reading, string) {
	r.Unit = a.Unit
	if r.Value == 0 {
		r.Value = 0 // no negative nothing
	}
	if limit := limits[a.Unit]; !(r.Value >= -limit && r.Value <= limit) {
		return Reading{}, outOfRange(a)
	}
	return r, ""
}

// limits are far beyond anything in a shop; they stop slips of the keyboard
// and keep the geometry in numbers it can handle.
var limits = map[joint.Unit]float64{joint.Deg: 360, joint.MM: 100000, joint.MM2: 1e8, joint.One: 1e6}

func outOfRange(a Asked) string {
	limit := limits[a.Unit]
	switch a.Unit {
	case joint.Deg:
		return "This is out of range: an angle here lies between −360° and 360°."
	case joint.MM:
		if a.Units == Inches {
			return "This is out of range: a length here lies between −3937 in and 3937 in."
		}
		return "This is out of range: a length here lies between −100000 mm and 100000 mm."
	case joint.MM2:
		return "This is out of range: an area here lies between " + digits(-limit, 0) + " mm² and " + digits(limit, 0) + " mm²."
	}
	return "This is out of range: a number here lies between " + digits(-limit, 0) + " and " + digits(limit, 0) + "."
}
