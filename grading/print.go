package grading

import (
	"math"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
)

// Print writes a value as a class writes it, always with the unit: 40 mm,
// 59.5 mm, 24.2°, 2 3/64 in.
//
// Millimetres and degrees get one decimal. A value that has two or three
// decimals and no more, as a given size may have, keeps them; trailing zeros
// go. Lengths in inches are fractions to 1/64 in lowest terms with the whole
// part before them, areas square inches to 0.01, plain numbers to 0.001. Minus
// is the minus sign, which [Read] takes as well. Reading what was printed
// gives the value back, to half of the last step printed.
func Print(value float64, unit joint.Unit, units Units) string {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return "no value"
	}
	switch unit {
	case joint.Deg:
		return oneDecimalOrGiven(value) + "°"
	case joint.MM:
		if units == Inches {
			return inchFraction(value) + " in"
		}
		return oneDecimalOrGiven(value) + " mm"
	case joint.MM2:
		if units == Inches {
			return digitsUpTo(value/(25.4*25.4), 2) + " in²"
		}
		return oneDecimalOrGiven(value) + " mm²"
	}
	return digitsUpTo(value, 3)
}

// oneDecimalOrGiven writes one decimal, or two or three where they are the
// whole of the number.
func oneDecimalOrGiven(v float64) string {
	// A given size is a decimal number as somebody wrote it, so it is within
	// rounding of one; a computed value is so about twice in a million times.
	const rounding = 1e-9
	if thousandth := math.Round(v*1000) / 1000; math.Abs(v-thousandth) <= rounding {
		return digitsUpTo(v, 3)
	}
	return digitsUpTo(v, 1)
}

// inchFraction writes millimetres as inches to the nearest 1/64.
func inchFraction(mm float64) string {
	sixtyFourths := math.Round(math.Abs(mm) * 640 / 254)
	whole := math.Floor(sixtyFourths / 64)
	over, under := sixtyFourths-64*whole, 64.0
	for over > 0 && math.Mod(over, 2) == 0 {
		over, under = over/2, under/2
	}
	var text string
	switch {
	case over == 0:
		text = digits(whole, 0)
	case whole == 0:
		text = digits(over, 0) + "/" + digits(under, 0)
	default:
		text = digits(whole, 0) + " " + digits(over, 0) + "/" + digits(under, 0)
	}
	if mm < 0 && sixtyFourths > 0 {
		return "−" + text
	}
	return text
}

// digits writes so many decimals, with the minus sign of print.
func digits(v float64, places int) string {
	return strings.Replace(plainDigits(v, places), "-", "−", 1)
}

// plainDigits writes so many decimals; nothing has no sign.
func plainDigits(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// digitsUpTo writes at most so many decimals, without zeros at the end.
func digitsUpTo(v float64, places int) string {
	s := digits(v, places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
