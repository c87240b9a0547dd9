package formula

import (
	"strconv"
	"strings"
	"unicode"
)

// Limits on the text of one formula. They are far above anything that is
// taught, keep the work of reading one below a millisecond, and bound how deep
// brackets can go.
const (
	maxBytes = 500
	maxNodes = 200
)

// token is one piece of the text. kind is the operator or bracket itself, or
// one of the letters below.
type token struct {
	kind byte
	text string
	val  float64
	col  int
}

const (
	tokNumber byte = 'n'
	tokName   byte = 'i'
	tokEnd    byte = 'e'
	tokDegree byte = 'd' // a degree sign
	tokInv    byte = 'v' // a raised minus one, as on calculator keys
)

// raised turns a raised digit into the digit.
var raised = map[rune]string{
	'⁰': "0", '¹': "1", '²': "2", '³': "3", '⁴': "4", '⁵': "5", '⁶': "6", '⁷': "7", '⁸': "8", '⁹': "9",
}

// lex cuts the text into tokens, the last of kind tokEnd.
func lex(src string) ([]token, *Error) {
	if len(src) > maxBytes {
		return nil, errorAt(1, "This is too long: %d characters is the most that can be read.", maxBytes)
	}
	runes := []rune(src)
	for i, r := range runes {
		runes[i] = unicode.ToLower(fold(r))
	}
	l := lexer{in: runes}
	for l.at < len(l.in) {
		if err := l.next(); err != nil {
			return nil, err
		}
	}
	l.add(tokEnd, "")
	return l.out, nil
}

type lexer struct {
	in  []rune
	at  int
	out []token
}

func (l *lexer) add(kind byte, text string) {
	l.out = append(l.out, token{kind: kind, text: text, col: l.at + 1})
}

func (l *lexer) peek(ahead int) rune {
	if l.at+ahead < len(l.in) {
		return l.in[l.at+ahead]
	}
	return 0
}

func (l *lexer) next() *Error {
	r := l.in[l.at]
	switch {
	case r == ' ':
		l.at++
	case isDigit(r), r == '.' && isDigit(l.peek(1)):
		return l.number()
	case isLetter(r):
		l.name()
	case r == '*' && l.peek(1) == '*':
		return errorAt(l.at+1, "Write a power with ^, for instance 12^2.")
	case strings.ContainsRune("+-*/^(),=", r):
		l.one(byte(r), string(r))
	case r == ':':
		l.one('/', ":")
	case r == ';':
		l.one(',', ";")
	case r == '[', r == '{':
		l.one('(', string(r))
	case r == ']', r == '}':
		l.one(')', string(r))
	case r == '°':
		l.one(tokDegree, "°")
	case r == 'π':
		l.one(tokName, pi)
	case r == '√':
		l.one(tokName, "sqrt")
	case r == '⁻' && l.peek(1) == '¹':
		l.add(tokInv, "⁻¹")
		l.at += 2
	case raised[r] != "":
		l.power(raised[r])
	default:
		return unknownCharacter(r, l.at+1)
	}
	return nil
}

func (l *lexer) one(kind byte, text string) {
	l.add(kind, text)
	l.at++
}

// power reads a raised digit as ^ and the digit.
func (l *lexer) power(digit string) {
	l.add('^', "^")
	l.add(tokNumber, digit)
	l.out[len(l.out)-1].val = float64(digit[0] - '0')
	l.at++
}

func unknownCharacter(r rune, col int) *Error {
	switch r {
	case '\'', '"':
		return errorAt(col, "Minutes and inch marks are not read inside working: write 14.5 for 14° 30'.")
	case '.':
		return errorAt(col, "A dot stands inside a number only: write 0.5.")
	case '%':
		return errorAt(col, "Write a part of something as a fraction or a decimal, not in per cent.")
	}
	return errorAt(col, "The character %q is not read here: write numbers, names and + - * / ^ ( ).", string(r))
}

func (l *lexer) number() *Error {
	from := l.at
	dots := 0
	for isDigit(l.peek(0)) || l.peek(0) == '.' {
		if l.peek(0) == '.' {
			dots++
		}
		l.at++
	}
	text := string(l.in[from:l.at])
	if dots > 1 {
		return errorAt(from+1, "%s has more than one dot: a dot is the decimal point.", text)
	}
	if l.peek(0) == 'e' && (isDigit(l.peek(1)) || (l.peek(1) == '-' || l.peek(1) == '+') && isDigit(l.peek(2))) {
		return errorAt(from+1, "Write the number out in full, without e.")
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return errorAt(from+1, "This number is too large.")
	}
	l.out = append(l.out, token{kind: tokNumber, text: text, val: v, col: from + 1})
	return nil
}

func (l *lexer) name() {
	from := l.at
	for isLetter(l.peek(0)) || isDigit(l.peek(0)) || l.peek(0) == '_' {
		l.at++
	}
	l.out = append(l.out, token{kind: tokName, text: string(l.in[from:l.at]), col: from + 1})
}

func isDigit(r rune) bool  { return r >= '0' && r <= '9' }
func isLetter(r rune) bool { return r >= 'a' && r <= 'z' }
