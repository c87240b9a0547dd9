package joint

import (
	"strconv"
	"unicode"
	"unicode/utf8"
)

// plain writes a limit for a sentence.
func plain(x float64, u Unit) string {
	s := strconv.FormatFloat(x, 'g', -1, 64)
	switch u {
	case Deg:
		return s + "°"
	case One:
		return s
	}
	return s + " " + string(u)
}

// lower writes a label inside a sentence: "Head angle" as "head angle", but
// "V length" as it is.
func lower(label string) string {
	first, n := utf8.DecodeRuneInString(label)
	second, _ := utf8.DecodeRuneInString(label[n:])
	if !unicode.IsLower(second) {
		return label
	}
	return string(unicode.ToLower(first)) + label[n:]
}
