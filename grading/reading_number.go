package grading

import (
	"strconv"

	"arrisbook/geom/joint"
)

var (
	plainForm  = exactly(aSign + numeral)
	twoForm    = exactly(aSign + numeral + ` ` + numeral)
	mixedForm  = exactly(aSign + `(\d+) (\d+) ?/ ?(\d+)`)
	angleMarks = exactly(aSign + numeral + ` ?(?:°|deg(?:ree)?s?\.?)(?: ?` + numeral + `.*)?`)
	slopeForm  = exactly(aSign + numeral + ` ?(?::|in|to) ?` + numeral)
)

// plain reads a bare number in the unit that is asked, or for a length in the
// unit the class writes.
func plain(e entry) (Reading, string, bool) {
	m := plainForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	v, places := decimal(m[2])
	return quantity(signed(m[1], v), places, e.classUnit()), "", true
}

// isPlainly finds the entry that almost everybody writes, digits with at most
// one dot: it needs no search through the notations, which is most of the
// time that reading takes.
func isPlainly(text string) bool {
	dots := 0
	for i := range len(text) {
		switch c := text[i]; {
		case c == '.' && i > 0:
			dots++
		case c < '0' || c > '9':
			return false
		}
	}
	return text != "" && len(text) <= 15 && dots <= 1
}

// quantity is a reading of a decimal number in a unit.
func quantity(v float64, places int, u unit) Reading {
	r := Reading{Value: u.toStep(v), Half: u.toStep(halfOf(places))}
	r.Half = max(r.Half, exactness(r.Value)) // digits that say no more than rounding
	if u.isInch() {
		r.Says = digits(v, places) + u.beside(r.Value)
		return r
	}
	r.Says = digits(r.Value, max(0, places-u.shift())) + u.suffix
	return r
}

// mixedNumber reads a plain number with a fraction.
func mixedNumber(e entry) (Reading, string, bool) {
	return mixedIn(e, "")
}

// mixedIn reads "24 1/4" in a unit that needs no conversion.
func mixedIn(e entry, suffix string) (Reading, string, bool) {
	m := mixedForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	f, reason := newFraction(m[1], m[2], m[3], m[4])
	if reason != "" {
		return Reading{}, reason, true
	}
	return Reading{Value: f.value(), Half: 0.5 / f.under, Says: f.String() + suffix}, "", true
}

// fraction is a whole number and a proper fraction, or a fraction alone.
type fraction struct {
	minus              bool
	whole, over, under float64
}

func newFraction(sign, whole, over, under string) (fraction, string) {
	f := fraction{minus: sign == "-"}
	f.whole, _ = strconv.ParseFloat("0"+whole, 64)
	f.over, _ = strconv.ParseFloat(over, 64)
	f.under, _ = strconv.ParseFloat(under, 64)
	text := over + "/" + under
	switch {
	case f.under == 0:
		return f, text + " has nothing below the line: write a fraction such as 3/8."
	case whole != "" && f.over >= f.under:
		return f, text + " is a whole or more: beside a whole number write a fraction under one."
	}
	return f, ""
}

// value is exact for the binary fractions of a rule.
func (f fraction) value() float64 {
	v := f.whole + f.over/f.under
	if f.minus {
		return -v
	}
	return v
}

// onRule says that the fraction is one that a rule has: a proper one in
// halves, quarters and so on to 128ths.
func (f fraction) onRule() bool {
	for d := 2.0; d <= 128; d *= 2 {
		if f.under == d {
			return f.over < f.under
		}
	}
	return false
}

// String is the fraction as written: "3 5/16".
func (f fraction) String() string {
	text := digits(f.over, 0) + "/" + digits(f.under, 0)
	if f.whole != 0 {
		text = digits(f.whole, 0) + " " + text
	}
	if f.minus {
		text = "−" + text
	}
	return text
}

// twoNumbers refuses two numbers side by side.
func twoNumbers(e entry) (Reading, string, bool) {
	m := twoForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	reason := "These are two numbers: write one, such as " + m[2] + "." + m[3] + ", or a fraction such as " + m[2] + " 3/8."
	if e.Unit == joint.Deg {
		reason = "These are two numbers: write " + m[2] + "° " + m[3] + "' for degrees and minutes, or one number such as " + m[2] + ".5."
	}
	return Reading{}, reason, true
}

// angleForOther refuses degrees where no angle is asked.
func angleForOther(e entry) (Reading, string, bool) {
	if angleMarks.MatchString(e.text) {
		return Reading{}, e.wrongKind("an angle"), true
	}
	return Reading{}, "", false
}

// slopeForOther refuses a slope where no angle is asked.
func slopeForOther(e entry) (Reading, string, bool) {
	if slopeForm.MatchString(e.text) {
		return Reading{}, e.wrongKind("a slope"), true
	}
	return Reading{}, "", false
}

// wrongKind says that the entry is something else than what is asked.
func (e entry) wrongKind(is string) string {
	return e.text + " is " + is + ", and " + DimOf(e.Unit).String() + " is asked here. " + e.example()
}
