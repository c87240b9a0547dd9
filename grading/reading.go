package grading

import "arrisbook/geom/joint"

// Reading is how an entry was understood.
type Reading struct {
	// Value is in the step's unit: millimetres, degrees.
	Value float64    `json:"value"`
	Unit  joint.Unit `json:"unit"`
	// Says is the reading in words for the page: "24.2°", "13.5 mm",
	// "2 3/64 in (52.0 mm)".
	Says string `json:"-"`
	// Half is half the last written digit (or finest step) in the step's unit:
	// the answer stands for anything from Value−Half to Value+Half.
	Half float64 `json:"-"`
	// Working is the formula text when the answer was given as working.
	Working string `json:"-"`
}

// InputError is an entry that cannot be read. Reason is a sentence for the
// person who wrote it and says what would be understood.
type InputError struct {
	Field, Text, Reason string
}

func (e *InputError) Error() string { return e.Field + ": " + e.Reason }

// Read understands one entry for a number of the given unit. A length without
// a unit is in the class's units; slopes (1:6, 1 in 6, 18/40) are read where
// an angle is asked. names gives values for working (ids allowed in it), and
// may be nil. The error is always an *InputError.
func Read(text string, unit joint.Unit, units Units, names func(id string) (float64, bool)) (Reading, error) {
	panic("unwritten")
}

// Print writes a value as a class writes it: millimetres to 0.1, inches as
// fractions to 1/64, degrees to 0.1 (or as many decimals as given values
// need), always with the unit.
func Print(value float64, unit joint.Unit, units Units) string { panic("unwritten") }
