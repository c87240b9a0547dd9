// Package grading makes exercises, hands out blanks, reads what people write,
// and judges it: right, near, follows, wrong; by which slip; and how it would
// fit at the bench. Everything here is a pure function of its arguments: no
// clock, no global randomness, no input or output.
//
//	ex, faults := grading.NewExercise(spec)
//	sheet, err := grading.Generate(ex, seed, grading.DefaultShop())
//	result := grading.Grade(ex, sheet, answers, grading.Millimetres)
//	result = grading.Weigh(ex, result, history)
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
// declared harmless by the exercise, one by one. Two slips that come together
// are found as well (pairs.go), after all single ones.
//
// # What is named
//
// An answer stands for everything that rounds to it. A slip is named only where
// few of the numbers round about would be explained as simply, so that at most
// one random number in a hundred is accused when it is written to hundredths,
// and one in twenty, in weaker words, when it is written to tenths (chance.go).
// Where that is more, the slips that are possible are listed and none is named.
// Typed working is also held against the formulas as a tree (form.go).
//
// [Grade] knows nothing of anybody. [Weigh] puts the slips that fit in the order
// that the class's and the student's earlier numbers make likely, and keeps that
// evidence in the result; it adds none and takes none away.
//
// # Following
//
// A step builds on the earlier steps that its formula names. A wrong number that
// is what the student's own earlier numbers lead to follows; so a mistake counts
// once. A slip made on the way on from own numbers is found as well.
//
// # For ever
//
// The same exercise version, seed and shop give the same sheet for ever. The
// test data hold a few sheets to it. Sheets are stored whole all the same.
package grading
