package server

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// shortName is how a student is called where others can read along: the first
// name and the first letter of the last.
func shortName(name string) string {
	words := strings.Fields(name)
	if len(words) < 2 {
		return name
	}
	last := words[len(words)-1]
	for _, r := range last {
		if unicode.IsLetter(r) {
			return words[0] + " " + string(unicode.ToUpper(r)) + "."
		}
	}
	return words[0] + " " + last
}

// tidyName brings a typed name into one form: composed accents, single
// spaces, nothing that cannot be seen.
func tidyName(text string) string {
	text = norm.NFC.String(strings.ToValidUTF8(text, ""))
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == '\u200c' || r == '\u200d':
			return r // joiners are letters' business in several scripts
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// sameName is the form in which two spellings of one name are alike.
func sameName(name string) string { return strings.ToLower(norm.NFKC.String(name)) }
