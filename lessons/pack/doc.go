// Package pack reads and writes the two files that lessons travel in: one
// module with its pictures, and a whole course. Both are zip archives of plain
// files, so that they can be looked into with any tool.
//
// A module file holds
//
//	manifest.json   what it is, its author and its licence
//	module.md       the text, as lessons reads it
//	plan.png …      its pictures
//
// A course file holds
//
//	course.json             settings of the class and the plan of assignments
//	modules/ID/…            the files of each module that is not shipped
//
// and nothing about people. A folder of one module that somebody zipped by
// hand is read as a module file without a manifest.
//
//	file, faults := pack.Read("course.zip", body)
//	err := pack.WriteCourse(w, course)
//
// What comes in is not trusted: counts, sizes and names are checked before
// anything is unpacked, and every picture is decoded once and stripped of all
// that is no picture. Writing the same thing twice gives the same bytes.
package pack
