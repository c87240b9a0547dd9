// Package formula is the workbook's one language for mathematics: worked
// solutions, authored exercises, students' own working, error patterns and
// findings are all written in it.
//
// It is plain infix arithmetic: numbers, pi, names, + - * / ^, parentheses and
// sin cos tan asin acos atan sqrt hypot, with angles in degrees. Every name has
// a [Dim]; [Formula.Check] refuses a length plus an angle and points at the
// column. A number written in a formula adapts to what is needed beside it:
// 90 - x is an angle when x is one.
//
// A tree is never changed in place: [Formula.Substitute], [Edits] and
// [Formula.Simplify] give new ones. Two formulas are [Formula.Equal] whatever
// the order of their sums and products. Nothing here panics on what people
// type, and no value is ever NaN or infinite.
//
//	f, err := formula.Parse("atan((v_width/2)/v_length)")
//	d, err := f.Check(dims)
//	v, err := f.Eval(values)
package formula
