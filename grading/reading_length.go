package grading

import (
	"strings"

	"arrisbook/geom/joint"
)

const wordsLength = `(` + wordsMM + `|` + wordsCM + `|` + wordsInch + `)`

var (
	lengthForm   = exactly(aSign + numeral + ` ?` + wordsLength)
	fractionForm = exactly(aSign + `(?:(\d+) )?(\d+) ?/ ?(\d+)(?: ?` + wordsLength + `)?`)
	hyphenForm   = exactly(`([-+]?) ?(\d+)-(\d+)/(\d+)(?: ?` + wordsLength + `)?`)
	feetForm     = exactly(aSign + numeral + ` ?(?:'|ft\.?|feet|foot)(?: ?` + numeral + `.*)?`)
	metreForm    = exactly(aSign + numeral + ` ?(?:m|met(?:er|re)s?)`)
)

// lengthWithUnit reads "12 mm", "1.2 cm", "2.0467 in".
func lengthWithUnit(e entry) (Reading, string, bool) {
	if metreForm.MatchString(e.text) {
		return Reading{}, "Metres are not read here: write millimetres, such as 12 mm.", true
	}
	m := lengthForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	v, places := decimal(m[2])
	return quantity(signed(m[1], v), places, lengthWord(m[3])), "", true
}

// shopFraction reads "3 5/16", "5/16 in", "3/8". A bare division in
// millimetres, and one that no rule is marked in, is working.
func shopFraction(e entry) (Reading, string, bool) {
	m := fractionForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	return e.fractionIn(m[1], m[2], m[3], m[4], m[5])
}

// fractionIn is the reading of a fraction with its unit's word ("" for none).
func (e entry) fractionIn(sign, whole, over, under, word string) (Reading, string, bool) {
	f, reason := newFraction(sign, whole, over, under)
	if reason != "" {
		return Reading{}, reason, true
	}
	u := e.classUnit()
	if word != "" {
		u = lengthWord(word)
	}
	v := f.value()
	r := Reading{Value: u.toStep(v), Half: u.toStep(0.5 / f.under)}
	if whole == "" && (!u.isInch() || !f.onRule()) {
		r.Working = strings.TrimPrefix(sign, "+") + over + "/" + under
		r.Half = exactness(r.Value)
	}
	switch {
	case u.isInch() && r.Working == "":
		r.Says = f.String() + u.beside(r.Value)
	case u.isInch():
		r.Says = digitsUpTo(v, 4) + u.beside(r.Value)
	default:
		r.Says = digitsUpTo(r.Value, 4) + " mm"
	}
	return r, "", true
}

// hyphenFraction reads "3-5/16" as three and five sixteenths where inches are
// meant, and asks where a subtraction could be meant as well.
func hyphenFraction(e entry) (Reading, string, bool) {
	m := hyphenForm.FindStringSubmatch(e.text)
	if m == nil || e.trueMinus {
		return Reading{}, "", false
	}
	f, reason := newFraction(m[1], "", m[3], m[4])
	if reason != "" || !f.onRule() {
		return Reading{}, "", false // 70-36/2 is working
	}
	inches := e.Units == Inches
	if m[5] != "" {
		inches = lengthWord(m[5]) == inInch
	}
	if !inches {
		return Reading{}, e.hyphenQuestion(m[2], m[3]+"/"+m[4]), true
	}
	return e.fractionIn(m[1], m[2], m[3], m[4], m[5])
}

// hyphenQuestion asks which of two things was meant.
func (e entry) hyphenQuestion(whole, part string) string {
	return whole + "-" + part + " can mean two things: write " + whole + " " + part + " for the fraction, or " + whole + " - (" + part + ") for the difference."
}

// feet refuses feet.
func feet(e entry) (Reading, string, bool) {
	if feetForm.MatchString(e.text) {
		return Reading{}, "Feet are not read here: write it all in inches, such as 15 1/2 in.", true
	}
	return Reading{}, "", false
}

// lengthForArea refuses a length where an area is asked.
func lengthForArea(e entry) (Reading, string, bool) { return lengthInstead(e) }

// lengthForNumber refuses a length where a plain number is asked.
func lengthForNumber(e entry) (Reading, string, bool) { return lengthInstead(e) }

// lengthForAngle refuses a length where an angle is asked; 30" alone could be
// seconds.
func lengthForAngle(e entry) (Reading, string, bool) {
	if e.Unit == joint.Deg && strings.HasSuffix(e.text, `"`) && lengthForm.MatchString(e.text) {
		return Reading{}, e.text + " can mean seconds or inches, and an angle is asked here. " + e.example(), true
	}
	return lengthInstead(e)
}

func lengthInstead(e entry) (Reading, string, bool) {
	fraction := fractionForm.FindStringSubmatch(e.text)
	hyphen := hyphenForm.FindStringSubmatch(e.text)
	if lengthForm.MatchString(e.text) || fraction != nil && fraction[5] != "" || hyphen != nil && hyphen[5] != "" {
		return Reading{}, e.wrongKind("a length"), true
	}
	return Reading{}, "", false
}
