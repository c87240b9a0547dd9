package server

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentence joins clauses with commas and an "and" and ends them.
func sentence(parts []string) string { return upperFirst(list(parts)) + "." }

// list joins words: "a", "a and b", "a, b and c".
func list(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	last := len(parts) - 1
	return strings.Join(parts[:last], ", ") + " and " + parts[last]
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

var numberWords = [...]string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// inWords writes a small count as a word and a larger one in figures.
func inWords(n int) string {
	if n >= 0 && n < len(numberWords) {
		return numberWords[n]
	}
	return strconv.Itoa(n)
}

// lowerFirst writes a name in the middle of a sentence: "Half angle" becomes
// "half angle", while "V length" stays.
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[n:]); n == 0 || !unicode.IsLower(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}
