package grading

import (
	"math"
	"strings"
)

const (
	degreeMark = ` ?(?:°|deg(?:ree)?s?\.?)`
	minuteMark = ` ?(?:'|min(?:ute)?s?\.?)`
	secondMark = ` ?(?:"|sec(?:ond)?s?\.?)`
)

var (
	degreesForm = exactly(aSign + numeral + degreeMark +
		`(?: ?([-+]?)` + numeral + `(?:` + minuteMark + `)?(?: ?([-+]?)` + numeral + `(?:` + secondMark + `)?)?)?`)
	minutesForm   = exactly(aSign + numeral + minuteMark + `(?: ?` + numeral + secondMark + `)?`)
	ratioForm     = exactly(aSign + numeral + `(?: ?(mm|cm|in|"))? ?/ ?` + numeral + `(?: ?(mm|cm|in|"))?`)
	ofDegreesForm = exactly(aSign + numeral + ` ?/ ?` + numeral + degreeMark)
	mixedDegForm  = exactly(aSign + `(\d+) (\d+) ?/ ?(\d+)(?:` + degreeMark + `)?`)
	hyphenDegForm = exactly(aSign + `(\d+)-(\d+)/(\d+)(?:` + degreeMark + `)?`)
	radianForm    = exactly(aSign + numeral + ` ?(rad(?:ian)?s?|grad(?:ian)?s?|gon|%)`)
)

// degreesMinutes reads "14.5°", "14° 30'", "14 deg 30", "14°30'15\"".
func degreesMinutes(e entry) (Reading, string, bool) {
	m := degreesForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	if m[3] != "" || m[5] != "" {
		return Reading{}, "The sign stands before the degrees only: write minutes and seconds without one.", true
	}
	if m[4] == "" {
		v, places := decimal(m[2])
		return quantity(signed(m[1], v), places, inDeg), "", true
	}
	return sexagesimal(m[1], m[2], m[4], m[6])
}

// minutesOnly reads "30'" and "30' 15\"".
func minutesOnly(e entry) (Reading, string, bool) {
	m := minutesForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	return sexagesimal(m[1], "0", m[2], m[3])
}

// sexagesimal puts degrees, minutes and seconds together; seconds may be "".
func sexagesimal(sign, deg, minutes, seconds string) (Reading, string, bool) {
	d, degPlaces := decimal(deg)
	min, places := decimal(minutes)
	sec, secPlaces := 0.0, 0
	text := deg + "° " + minutes + "'"
	if seconds != "" {
		sec, secPlaces = decimal(seconds)
		text += " " + seconds + `"`
	}
	switch {
	case min >= 60:
		return Reading{}, "Minutes stay under 60: " + text + " is not an angle.", true
	case sec >= 60:
		return Reading{}, "Seconds stay under 60: " + text + " is not an angle.", true
	case degPlaces > 0:
		return Reading{}, "Before minutes the degrees are whole: write " + deg + "° alone, or whole degrees and minutes.", true
	case seconds != "" && places > 0:
		return Reading{}, "Before seconds the minutes are whole: " + text + " is not an angle.", true
	}
	half := halfOf(places) / 60
	says := digits(d, 0) + "° " + digits(min, places) + "′"
	if seconds != "" {
		half = halfOf(secPlaces) / 3600
		says += " " + digits(sec, secPlaces) + "″"
	}
	v := signed(sign, d+(min*60+sec)/3600)
	if sign == "-" {
		says = "−" + says
	}
	return Reading{Value: v, Half: half, Says: says + " (" + digitsUpTo(v, 4) + "°)"}, "", true
}

// slope reads "1:6" and "1 in 6": so much across in so much along.
func slope(e entry) (Reading, string, bool) {
	m := slopeForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	return slopeOf(m[1], m[2], m[3])
}

// slopeOf is the angle of a slope. It counts as working: both numbers are
// taken as exact.
func slopeOf(sign, across, along string) (Reading, string, bool) {
	a, aPlaces := decimal(across)
	b, bPlaces := decimal(along)
	if b == 0 {
		return Reading{}, "A slope over nothing is no angle: write it as across : along, such as 1:6.", true
	}
	v := signed(sign, math.Atan(a/b)*(180/math.Pi))
	minus := ""
	if sign == "-" {
		minus = "-"
	}
	return Reading{
		Value:   v,
		Half:    exactness(v),
		Says:    "a slope of " + strings.Replace(minus, "-", "−", 1) + digits(a, aPlaces) + " in " + digits(b, bPlaces) + " (" + digitsUpTo(v, 2) + "°)",
		Working: "atan(" + minus + plainDigits(a, aPlaces) + "/" + plainDigits(b, bPlaces) + ")",
	}, "", true
}

// ratio reads "18/40" as a slope. Parts of a circle are not slopes: whoever
// writes 180/7 may well mean degrees, and is asked.
func ratio(e entry) (Reading, string, bool) {
	m := ratioForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	if m[3] != m[5] {
		return Reading{}, "Both lengths of a slope are in one unit: write them without it, such as 18/40.", true
	}
	if e.vulgar {
		return Reading{}, "This can mean two things: write " + m[2] + "/" + m[4] + "° for a part of a degree, or " + m[2] + ":" + m[4] + " for a slope.", true
	}
	switch v, _ := decimal(m[2]); v {
	case 90, 180, 360:
		if m[3] == "" {
			text := m[2] + "/" + m[4]
			return Reading{}, text + " can mean two things: write (" + text + ")° for degrees, or " + m[2] + ":" + m[4] + " for a slope.", true
		}
	}
	return slopeOf(m[1], m[2], m[4])
}

// degreeFraction reads "1/2°": a part of a degree, not a slope.
func degreeFraction(e entry) (Reading, string, bool) {
	m := ofDegreesForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	a, aPlaces := decimal(m[2])
	b, bPlaces := decimal(m[3])
	if b == 0 {
		return Reading{}, "Division by nothing has no value here.", true
	}
	v := signed(m[1], a/b)
	w := plainDigits(a, aPlaces) + "/" + plainDigits(b, bPlaces)
	if m[1] == "-" {
		w = "-" + w
	}
	return Reading{Value: v, Half: exactness(v), Says: digitsUpTo(v, 4) + "°", Working: w}, "", true
}

// mixedDegrees reads "24 1/4°".
func mixedDegrees(e entry) (Reading, string, bool) {
	if m := hyphenDegForm.FindStringSubmatch(e.text); m != nil && !e.trueMinus {
		if f, reason := newFraction(m[1], "", m[3], m[4]); reason == "" && f.onRule() {
			return Reading{}, e.hyphenQuestion(m[2], m[3]+"/"+m[4]), true
		}
	}
	m := mixedDegForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	f, reason := newFraction(m[1], m[2], m[3], m[4])
	if reason != "" {
		return Reading{}, reason, true
	}
	return Reading{Value: f.value(), Half: 0.5 / f.under, Says: f.String() + "° (" + digitsUpTo(f.value(), 4) + "°)"}, "", true
}

// otherAngleUnit refuses radians, gons and per cent.
func otherAngleUnit(e entry) (Reading, string, bool) {
	if radianForm.MatchString(e.text) {
		return Reading{}, "Angles are in degrees here: " + e.text + " is not read. " + e.example(), true
	}
	return Reading{}, "", false
}
