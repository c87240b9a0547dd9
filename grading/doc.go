// Package grading makes exercises, hands out blanks, reads what people write,
// and judges it: right, near, follows, wrong; by which slip; and how it would
// fit at the bench. Everything here is a pure function of its arguments: no
// clock, no global randomness, no input or output.
//
//	ex, faults := grading.NewExercise(spec)
//	sheet, err := grading.Generate(ex, seed, grading.DefaultShop())
//	result := grading.Grade(ex, sheet, answers, grading.Millimetres)
//
// # Numbers
//
// Lengths are millimetres, angles degrees, at every boundary. The right number
// is what the catalogue builds from planes and points; the formula as it is
// taught (taught_*.go, one file a family) is held to it by a test and is what
// slips are made from.
//
// # Slips
//
// A slip is a rewriting of the formula, as taught or written out in givens, or
// of the answer: the table kinds in patterns.go has one line for each. A blank
// is handed out only if every slip of every asked number lands outside twice
// that number's tolerance, so no wrong method passes by luck; exceptions are
// declared harmless by the exercise, one by one.
//
// # For ever
//
// The same exercise version, seed and shop give the same sheet for ever. The
// test data hold a few sheets to it. Sheets are stored whole all the same.
package grading
