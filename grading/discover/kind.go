package discover

import (
	"strings"

	"arrisbook/geom/joint"
)

// kind is what a number of the bank is. It keeps senseless formulas out: the
// sum of a length and an angle, a ratio of two angles.
type kind uint8

const (
	length kind = iota
	angle
	plain // a function of angles, or a given without a unit
	ratio // of two lengths
	count // a given that counts things
	area
	kinds
)

// letters are how a [signature] writes the kinds.
const letters = "LANRCQ"

// signature is the kinds of an exercise's givens in a fixed order, one letter
// each: exercises with the same signature share a bank.
type signature string

// signatureOf gives the signature of the givens, and for each letter of it the
// place of the given that stands there.
func signatureOf(sizes []joint.Parameter) (s signature, places []int) {
	var b strings.Builder
	for k := range kinds {
		for i, p := range sizes {
			if kindOf(p) == k {
				b.WriteByte(letters[k])
				places = append(places, i)
			}
		}
	}
	return signature(b.String()), places
}

func kindOf(p joint.Parameter) kind {
	switch p.Unit {
	case joint.MM:
		return length
	case joint.Deg:
		return angle
	case joint.MM2:
		return area
	}
	if p.Whole {
		return count
	}
	return plain
}

// kinds gives the kinds back.
func (s signature) kinds() []kind {
	out := make([]kind, len(s))
	for i := range s {
		out[i] = kind(strings.IndexByte(letters, s[i]))
	}
	return out
}
