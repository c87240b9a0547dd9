// Package formula is the workbook's one language for mathematics: worked
// solutions, authored exercises, students' own working, error patterns and
// findings are all written in it.
//
// It is plain infix arithmetic: numbers, pi, names, + - * / ^, parentheses and
// sin cos tan asin acos atan sqrt hypot, with angles in degrees. Every name has
// a [Dim]; [Formula.Check] refuses a length plus an angle and points at the
// column.
//
//	f, err := formula.Parse("atan((v_width/2)/v_length)")
//	d, err := f.Check(dims)
//	v, err := f.Eval(values)
package formula
