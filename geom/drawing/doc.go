// Package drawing turns the joints of the catalogue into workshop drawings: a
// display list in millimetres of paper, from which an SVG writer (and later a
// PDF writer) puts out the same picture.
//
// Line types follow ISO 128 (wide continuous for visible edges, narrow dashed
// hidden, long-dash dot centre lines, long-dash double-dot for wood that
// goes), dimensions ISO 129-1, the projection symbol ISO 5456-2.
package drawing
