package server

import (
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// errTooFewBlanks says that an exercise cannot make so many different blanks.
var errTooFewBlanks = errors.New("the exercise has too few different blanks")

// drawsForNew is how often a seed is drawn anew when its blank is somebody's
// already. Exercises have thousands of blanks: one that fails so often has
// hardly more of them than the class has students.
const drawsForNew = 50

// issue draws a sheet for each student, with a blank that nobody else of the
// assignment has: who copies a number copies a wrong one.
func issue(ex *grading.Exercise, students []store.Student, taken []joint.Values, shop grading.Shop, seed func() uint64) ([]store.NewSheet, error) {
	var sheets []store.NewSheet
	for _, st := range students {
		sheet, err := drawNew(ex, taken, shop, seed)
		if err != nil {
			return nil, err
		}
		taken = append(taken, sheet.Parameters)
		sheets = append(sheets, store.NewSheet{StudentNo: st.No, Sheet: sheet})
	}
	return sheets, nil
}

func drawNew(ex *grading.Exercise, taken []joint.Values, shop grading.Shop, seed func() uint64) (grading.Sheet, error) {
	for range drawsForNew {
		sheet, err := grading.Generate(ex, seed(), shop)
		if err != nil {
			return grading.Sheet{}, fmt.Errorf("draw a blank: %w", err)
		}
		if !contains(taken, sheet.Parameters) {
			return sheet, nil
		}
	}
	return grading.Sheet{}, errTooFewBlanks
}

func contains(all []joint.Values, v joint.Values) bool {
	for _, o := range all {
		if maps.Equal(o, v) {
			return true
		}
	}
	return false
}

// newSeed draws a seed that nobody can guess. It has 53 bits, so that every
// reader of JSON keeps it exactly.
func newSeed() uint64 {
	var b [8]byte
	// crypto/rand.Read never fails: it ends the program first.
	_, _ = rand.Read(b[:])
	return binary.BigEndian.Uint64(b[:]) >> 11
}
