// Package grading makes exercises, hands out blanks, reads what people write,
// and judges it: right, near, follows, wrong; by which slip; and how it would
// fit at the bench. Everything here is a pure function of its arguments: no
// clock, no global randomness, no input or output.
package grading
