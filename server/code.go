package server

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// codeLetters are the 32 letters and figures of codes: those left when what
// is easily taken for something else (0 and O, 1 and I) is gone. Five bits
// each.
const codeLetters = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"

const (
	classCodeLen    = 8  // 40 bits: too many to guess a class
	personalCodeLen = 10 // 50 bits, of which the head finds the student
	codeHeadLen     = 3
)

// newCode draws a code.
func newCode(letters int) string {
	raw := make([]byte, letters)
	rand.Read(raw) // never fails: see crypto/rand
	for i, b := range raw {
		raw[i] = codeLetters[b%32]
	}
	return string(raw)
}

// readCode brings a typed code into the printed form: capitals without spaces
// and strokes, and for a sign that no code has the one it was misread from.
// ok is false when something else stands in it.
func readCode(text string) (code string, ok bool) {
	var b strings.Builder
	for _, r := range strings.ToUpper(norm.NFKC.String(text)) {
		switch {
		case strings.ContainsRune(" \t\r\n-–—_./·", r):
		case r == '0' || r == 'O':
			b.WriteByte('Q')
		case r == '1' || r == 'I' || r == '|':
			b.WriteByte('L')
		case strings.ContainsRune(codeLetters, r):
			b.WriteRune(r)
		default:
			return "", false
		}
	}
	return b.String(), b.Len() > 0
}

// groups spells a code in groups that the eye can hold.
func groups(code string) string {
	switch len(code) {
	case classCodeLen:
		return code[:4] + " " + code[4:]
	case personalCodeLen:
		return code[:3] + " " + code[3:6] + " " + code[6:]
	}
	return code
}

// newToken draws 192 bits for a link and gives them with the hash that is kept.
func newToken() (token string, hash []byte) {
	raw := make([]byte, 24)
	rand.Read(raw)
	token = base64.RawURLEncoding.EncodeToString(raw)
	return token, tokenHash(token)
}

// tokenHash is what is stored of a link: with that many random bits a plain
// SHA-256 cannot be turned round.
func tokenHash(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}
