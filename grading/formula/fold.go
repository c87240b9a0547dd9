package formula

import "strings"

// Fold replaces each character that people's keyboards put for a plain one:
// full-width digits and signs, no-break and thin spaces, the minus sign and
// the dashes, the signs for times and divided by, typographic quotes. One
// character becomes one character, so columns stay.
func Fold(text string) string { return strings.Map(fold, text) }

func fold(r rune) rune {
	switch {
	case r >= '！' && r <= '～': // the full-width copy of ASCII
		return r - '！' + '!'
	case r >= 0x2000 && r <= 0x200A, r == 0xA0, r == 0x202F, r == 0x205F, r == 0x3000, r == '\t', r == '\n', r == '\r':
		return ' '
	case r >= 0x2010 && r <= 0x2015, r == '−', r == '﹣':
		return '-'
	}
	if plain, ok := folded[r]; ok {
		return plain
	}
	return r
}

var folded = map[rune]rune{
	'×': '*', '·': '*', '⋅': '*', '∙': '*', '•': '*', '∗': '*', '✕': '*',
	'÷': '/', '∕': '/', '⁄': '/', '∶': ':',
	'‘': '\'', '’': '\'', '′': '\'', '´': '\'', 'ʹ': '\'', '`': '\'', '‵': '\'',
	'“': '"', '”': '"', '″': '"', 'ʺ': '"', '〃': '"', '‶': '"',
	'º': '°', '˚': '°', '∘': '°',
	'，': ',', '。': '.', '．': '.', '、': ',',
}
