package server

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Passwords are the only factor here, so they are long: at least 15 characters,
// as NIST SP 800-63B-4 asks, without rules about which. Refused is what a
// guesser tries first: patterns, and little more than words that stand near.
const (
	passwordLeast = 15
	passwordMost  = 128
	// passwordOwn is how many characters must be left beside known words.
	passwordOwn = 8
	// passwordSigns is how many different characters there must be.
	passwordSigns = 5
)

// usualWords stand in most lists of common passwords. From memory.
var usualWords = []string{
	"arrisbook", "password", "passwort", "passphrase", "motdepasse", "contrasena", "wachtwoord",
	"letmein", "welcome", "iloveyou", "sunshine", "princess", "football", "baseball", "dragon", "monkey",
	"admin", "administrator", "instructor", "teacher", "student", "school", "changeme", "secret", "qwerty",
	"workshop", "joinery", "woodwork",
}

// runs are the orders in which characters lie on keyboards and in the alphabet.
var runs = []string{
	"abcdefghijklmnopqrstuvwxyz", "01234567890",
	"qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop", "yxcvbnm", "azertyuiop", "qsdfghjklm", "wxcvbn",
}

// tidyPassword is the form in which a password is hashed: one spelling of
// composed letters, so that another keyboard still matches. Nothing is cut.
func tidyPassword(text string) string { return norm.NFC.String(text) }

// passwordFault says why a password is refused; "": it is not. near are words
// that a guesser knows: the person's name and e-mail, the class.
func passwordFault(password string, near ...string) string {
	password = tidyPassword(password)
	n := utf8.RuneCountInString(password)
	switch {
	case !utf8.ValidString(password):
		return "This password has characters that cannot be read. Type it again."
	case n < passwordLeast:
		return fmt.Sprintf("At least %d characters are needed; these are %d. A short sentence is easy to keep in mind.", passwordLeast, n)
	case n > passwordMost:
		return fmt.Sprintf("At most %d characters can be kept; these are %d.", passwordMost, n)
	}
	plain := []rune(strings.ToLower(password))
	if signs(plain) < passwordSigns {
		return fmt.Sprintf("It has fewer than %d different characters. Guessers try that first.", passwordSigns)
	}
	if repeats(plain) {
		return "It repeats one short piece. Guessers try that first."
	}
	if inRuns(plain)*2 > len(plain) {
		return "Most of it is a row of the alphabet, of figures or of the keyboard. Guessers try that first."
	}
	if word := madeOf(string(plain), append(usualWords, nearWords(near)...)); word != "" {
		return fmt.Sprintf("It is little more than “%s” and other words that are easily guessed here. Add some of your own.", word)
	}
	return ""
}

func signs(text []rune) int {
	seen := map[rune]bool{}
	for _, r := range text {
		seen[r] = true
	}
	return len(seen)
}

// repeats says whether the text is a piece of at most half its length, over
// and over (the last time maybe cut short).
func repeats(text []rune) bool {
	for period := 1; period <= len(text)/2; period++ {
		same := true
		for i := period; i < len(text) && same; i++ {
			same = text[i] == text[i-period]
		}
		if same {
			return true
		}
	}
	return false
}

// inRuns counts the characters that stand in a row of four or more out of runs,
// forwards or backwards, or in a row of one and the same.
func inRuns(text []rune) int {
	count := 0
	for at := 0; at < len(text); {
		end := at + 1
		for end < len(text) && neighbours(text[at:end+1]) {
			end++
		}
		if end-at >= 4 {
			count += end - at
			at = end
			continue
		}
		at++
	}
	return count
}

// neighbours says whether the whole piece lies in one run.
func neighbours(piece []rune) bool {
	text := string(piece)
	if strings.Count(text, string(piece[:1])) == len(piece) {
		return true
	}
	back := make([]rune, len(piece))
	for i, r := range piece {
		back[len(piece)-1-i] = r
	}
	for _, run := range runs {
		if strings.Contains(run, text) || strings.Contains(run, string(back)) {
			return true
		}
	}
	return false
}

// nearWords takes the words of at least three letters out of names.
func nearWords(texts []string) []string {
	var words []string
	for _, text := range texts {
		for _, w := range strings.FieldsFunc(strings.ToLower(norm.NFC.String(text)), notLetter) {
			if utf8.RuneCountInString(w) >= 3 {
				words = append(words, w)
			}
		}
	}
	return words
}

func notLetter(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }

// madeOf gives the longest known word of a text that has too little beside
// known words; "" when it has enough, or no known word.
func madeOf(text string, words []string) string {
	longest := ""
	for {
		word := longestIn(text, words)
		if word == "" {
			break
		}
		if longest == "" {
			longest = word
		}
		text = strings.ReplaceAll(text, word, " ")
	}
	own := strings.Map(func(r rune) rune {
		if notLetter(r) {
			return -1
		}
		return r
	}, text)
	if longest != "" && utf8.RuneCountInString(own) < passwordOwn {
		return longest
	}
	return ""
}

func longestIn(text string, words []string) string {
	longest := ""
	for _, w := range words {
		if len(w) > len(longest) && strings.Contains(text, w) {
			longest = w
		}
	}
	return longest
}
