// Package joint is the catalogue of joints: what a student is given, what is
// asked, which blanks are possible, and what numbers as submitted would make
// at the bench.
//
// One file holds one [Family]. Its quantities are built from planes and
// points in three dimensions with package geom, never from closed formulas:
// those are taught in package grading, and a property test holds the two
// against each other.
//
// Numbers cross this package's boundary as [Values]: millimetres, degrees,
// square millimetres or plain numbers by the [Unit] of their id.
package joint
