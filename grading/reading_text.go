package grading

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// entry is a text ready to be matched: plain characters, small letters, single
// spaces.
type entry struct {
	Asked
	text string
	// trueMinus says that a minus sign was typed as such (U+2212), which is
	// never the hyphen of 3-5/16.
	trueMinus bool
	// vulgar says that a fraction was typed as one character.
	vulgar bool
}

// newEntry makes plain text of what was typed, or says why it cannot.
func newEntry(text string, a Asked) (entry, string) {
	e := entry{Asked: a, trueMinus: strings.ContainsRune(text, '−')}
	if utf8.RuneCountInString(text) >= longest || len(text) > 4*longest {
		return e, "This is too long for one number: write the number, or its working in fewer than 200 characters."
	}
	if !utf8.ValidString(text) {
		return e, "Some of these characters cannot be read: type the number again."
	}
	t := formula.Fold(text)
	if written := writeOutFractions(t); written != t {
		t, e.vulgar = written, true
	}
	t = strings.ToLower(strings.Join(strings.Fields(t), " "))
	t = strings.ReplaceAll(t, "''", `"`)
	t = strings.TrimSpace(strings.TrimPrefix(t, "="))
	e.text = t
	if t == "" {
		return e, "Nothing is written here yet. " + e.example()
	}
	return e, e.notANumber()
}

// notANumber refuses what looks like a number and is none.
func (e entry) notANumber() string {
	for _, r := range e.text {
		if unicode.Is(unicode.Nd, r) && r > '9' {
			return "Write the number with the digits 0 to 9."
		}
	}
	switch strings.TrimLeft(e.text, "+-") {
	case "inf", "infinity", "∞", "nan":
		return "This is not a number that can be set on a tool. " + e.example()
	}
	if m := thousands.FindString(e.text); m != "" && !strings.Contains(e.text, "hypot") {
		return m + " has more than one point or comma: write one decimal point and nothing between the thousands, such as 1234.5."
	}
	if m := spacedThousands.FindString(e.text); m != "" {
		return "Write " + m + " without a space: " + strings.ReplaceAll(strings.ReplaceAll(m, " ", ""), ",", ".") + "."
	}
	if exponent.MatchString(e.text) {
		return "Write the number out in full, without e."
	}
	if !strings.Contains(e.text, "hypot") {
		for _, m := range threeDigits.FindAllString(e.text, -1) {
			if reason := commaReason(m); reason != "" {
				return reason
			}
		}
	}
	return ""
}

var (
	thousands       = regexp.MustCompile(`\d+[.,]\d+[.,][\d.,]*`)
	spacedThousands = regexp.MustCompile(`^\d{1,3}( \d{3})+([.,]\d+)?`)
	exponent        = regexp.MustCompile(`^[-+]? ?[\d.,]+e[-+]?\d+`)
	threeDigits     = regexp.MustCompile(`\d*,\d+`)
)

// commaReason refuses a comma before exactly three digits, which for some
// people parts thousands and for others is the decimal point.
func commaReason(number string) string {
	whole, part, found := strings.Cut(number, ",")
	if !found || len(part) != 3 {
		return ""
	}
	if strings.Trim(whole, "0") == "" {
		return "A comma before three digits is not read, because it can mean two things: write 0." + part + "."
	}
	return number + " can mean two numbers: write " + whole + "." + part + " or " + whole + part + "."
}

// example shows what would be understood.
func (e entry) example() string {
	switch e.Unit {
	case joint.Deg:
		return "Write an angle such as 24.2 or 14° 30'."
	case joint.MM:
		if e.Units == Inches {
			return "Write a length such as 3 5/16 or 2.05."
		}
		return "Write a length such as 13.5."
	case joint.MM2:
		return "Write an area such as 1250."
	}
	return "Write a number such as 2.5."
}

// vulgarFractions are the fractions that are one character.
var vulgarFractions = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅓': "1/3", '⅔': "2/3", '⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5",
	'⅙': "1/6", '⅚': "5/6", '⅐': "1/7", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅑': "1/9", '⅒': "1/10",
}

// writeOutFractions writes ½ as 1/2, and 2½ as 2 1/2.
func writeOutFractions(text string) string {
	var b strings.Builder
	for _, r := range text {
		if f, ok := vulgarFractions[r]; ok {
			b.WriteString(" " + f)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// numeral is an unsigned decimal number as a pattern part: "14", "14.5",
// "14,5", ".5", "14.".
const numeral = `(\d+(?:[.,]\d*)?|[.,]\d+)`

const aSign = `([-+]?) ?`

// exactly compiles a pattern for a whole entry; " ?" in it is an optional
// space, since an entry holds single spaces only.
func exactly(pattern string) *regexp.Regexp { return regexp.MustCompile(`^` + pattern + `$`) }

// decimal gives the value of a text that matched numeral and how many decimals
// it has.
func decimal(text string) (value float64, places int) {
	text = strings.Replace(text, ",", ".", 1)
	if dot := strings.IndexByte(text, '.'); dot >= 0 {
		places = len(text) - dot - 1
	}
	value, _ = strconv.ParseFloat(text, 64) // out of range gives Inf, which settle refuses
	return value, places
}

// signed applies a matched sign.
func signed(sign string, v float64) float64 {
	if sign == "-" {
		return -v
	}
	return v
}

// halfOf is half the last of so many decimals.
func halfOf(places int) float64 {
	half := 0.5
	for ; places > 0; places-- {
		half /= 10
	}
	return half
}
