package paper

import (
	"arrisbook/geom/drawing"
	"arrisbook/grading"
)

// Order is everything that goes into one PDF.
type Order struct {
	Class Class
	Title string // of the assignment
	Date  string // as it is to be printed
	// Exercise is what the sheets were made from.
	Exercise *grading.Exercise
	Sheets   []Sheet // in the order in which they are wanted: by bench
	Parts    Parts
}

// Class is what a class decides about its paper.
type Class struct {
	Name   string
	Units  grading.Units
	Method drawing.Angle
	Paper  drawing.Paper
}

// Parts says what is wanted. Parts stand in this order; sheets and templates
// of one student stand together.
type Parts struct {
	Overview  bool // the class on one page, for the instructor
	Key       bool // the right numbers, for the instructor
	Sheets    bool
	Templates bool
}

// Sheet is one student's sheet.
type Sheet struct {
	No, Bench int
	Student   string
	Sheet     grading.Sheet // that counts now
	Measured  bool          // on the wood as measured
	Code      string        // to be typed, in groups
	Link      [][]bool      // the square that leads to the sheet: rows of dark modules
	Large     bool          // large print
	// Released says that the student may see the key; Cleared who gave leave to
	// cut and when ("Ada Moss, 25 Nov 14:20"), "" for none.
	Released bool
	Cleared  string
	State    State
}

// State is how a sheet stands, for the overview.
type State struct {
	Says     string // "waits", "3 of 6 right"
	Attempts int
	Verdicts map[string]grading.Verdict // by step; none before the first attempt
}

// MayHaveTemplate says whether a template of a sheet may be printed: it gives
// the key away, so only where the key is released or the student is cleared.
func (s Sheet) MayHaveTemplate() bool { return s.Released || s.Cleared != "" }

// Templates counts the sheets that get a template.
func Templates(sheets []Sheet) int {
	n := 0
	for _, s := range sheets {
		if s.MayHaveTemplate() {
			n++
		}
	}
	return n
}
