// Package joint is the catalogue of joints: what a student is given, what is
// asked, which blanks are possible, and what numbers as submitted would make
// at the bench.
//
// One file holds one [Family]; what grows too long moves to files with the
// same stem. Its quantities are built from planes and points in three
// dimensions with package geom, never from closed formulas: those are taught
// in package grading, and a property test holds the two against each other.
//
// Numbers cross this package's boundary as [Values]: millimetres, degrees,
// square millimetres or plain numbers by the [Unit] of their id.
//
// # Asking
//
// [Family.Layout] gives the key of a blank, [Family.Fit] what submitted
// numbers make of it, [Family.Slack] how far one number may be off. Whoever
// asks more than once about the same wood prepares a [Blank]:
//
//	f, _ := joint.Lookup("head-v-joint")
//	b, err := f.Prepare(parameters)
//	fit, err := b.Fit(joint.Values{"half_angle": 21})
//	s, ok, err := b.Slack("half_angle", joint.Tight)
//
// # Adding a family
//
// A family states its parameters, quantities, consequences and house blank,
// and three functions: layout sets the quantities that have a value and names
// the problems, fit sets the consequences, parts gives the pieces of wood.
// They are handed finite numbers of less than a million and need no further
// guard: a result that is no usable number is left out. Faces that meet are
// matings; [geom.SlideHome] seats them. One line in the registry does the rest.
// The tests want a line of their own for it (testFamilies) and numbers that
// somebody worked out elsewhere (checkValues).
package joint
