// Package paper composes what a class needs on paper into one PDF: the class
// on one page, the key for the instructor, and for every student, by bench, a
// sheet to write on and full-size templates. It draws and sets type and knows
// neither the database nor the clock; the same [Order] gives the same bytes.
//
// # What may be printed when
//
// A sheet whose key is not out shows the family's house blank, not to scale,
// with the student's own sizes as texts: a true shape on paper can be measured
// with a protractor. A template is the key, so a sheet gets one only where
// [Sheet.MayHaveTemplate] says so, whatever was ordered.
//
//	pdf, err := paper.Compose(ctx, paper.Order{Class: class, Sheets: sheets, Parts: paper.Parts{Sheets: true}}, nil)
package paper
