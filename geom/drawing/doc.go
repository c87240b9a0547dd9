// Package drawing turns the joints of the catalogue into workshop drawings: a
// display list on paper, from which an SVG writer and a PDF writer put out the
// same picture. All geometry comes from package joint; nothing is
// traced by hand.
//
// Line types follow ISO 128 (wide continuous for visible edges, narrow dashed
// hidden, long-dash dot centre lines, long-dash double-dot for wood that
// goes), dimensions ISO 129-1, the projection symbol ISO 5456-2.
//
// # Paper
//
// The unit of the display list is a quarter of a millimetre of paper, x to the
// right and y down. A full view is [Width] = 354 units wide: 88.5 mm on paper,
// and on a phone, where it fills the screen, one unit is one CSS pixel.
// Lettering is 13 units and more, wide lines are 2 units and narrow ones 1, and
// a balloon takes a finger within 24 units of its middle.
//
// # What may be shown when
//
// A drawing of somebody's own blank in its true shape gives the numbers away:
// it can be measured. Before the key is released a [Sheet] is therefore drawn
// from the family's house blank, with the student's givens as texts, and fits
// are drawn by [FitViews] from bands. Two students' drawings then differ in
// their texts only. [ReleasedFitViews], [Figure] and sheets with Answers show
// true shapes and figures.
//
// # Wood
//
// A camera looks at the solids of a joint along one direction, square to a
// face or from a corner, and project gives what it sees: every arris, visible
// or hidden. What lies behind convex pieces is found exactly, as intervals
// along each line; seams between pieces of one part are left out. A section
// cuts the solids and hatches what was cut. After the release views are drawn
// at a standard scale (ISO 5455), which their captions state.
//
// # Room
//
// A view draws its wood first and asks for its dimensions, angles, names and
// balloons, which are placed when the view closes: each tries the usual places
// first and takes the one that costs least, where nothing stands on anything;
// what finds no clear place gets the first choice, and all are placed anew. A
// given's text gets as much room as the longest of its kind before the
// release, so that no student's drawing differs from another's but in texts.
//
// # Another family
//
// A family is one line in painters and its own files, named after it: a scale
// for its blanks, one function a view, fit pictures, lesson figures and
// templates; one line in seating says how its parts are pulled apart. Tests
// hold every view of every family to what a draughtsman would, on two hundred
// shipped blanks.
//
//	views, err := drawing.SheetViews(family, drawing.Sheet{
//		Blank: family.House,
//		Given: map[string]string{"thickness": "26"},
//		Asked: []drawing.Balloon{{Number: 1, Quantity: "tip_depth", Name: "Tip depth"}},
//	})
//	svg := views[0].SVG()
package drawing
