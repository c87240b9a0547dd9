package grading

import "strings"

var areaForm = exactly(aSign + numeral + ` ?(sq\.? ?(?:mm|cm|in)|(?:mm|cm|in) ?(?:²|\^?2)|square (?:` + wordsMM + `|` + wordsCM + `|in\.?|inch(?:es)?))`)

// areaWithUnit reads "1250 mm2", "12.5 cm²", "2 sq in".
func areaWithUnit(e entry) (Reading, string, bool) {
	m := areaForm.FindStringSubmatch(e.text)
	if m == nil {
		return Reading{}, "", false
	}
	v, places := decimal(m[2])
	return quantity(signed(m[1], v), places, areaWord(m[3])), "", true
}

// areaWord finds the unit that a word stands for.
func areaWord(word string) unit {
	word = strings.TrimPrefix(strings.TrimPrefix(word, "square"), "sq")
	switch lengthWord(strings.TrimLeft(word, ". ")) {
	case inMM:
		return inMM2
	case inCM:
		return inCM2
	}
	return inIn2
}
