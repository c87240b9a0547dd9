package joint

import "math"

// Word is the shop's word for how a joint closes. The limits are common
// practice; no single source fixes them.
type Word int

// The fit words, best first.
const (
	Tight  Word = iota // to 0.10 mm
	Close              // to 0.25 mm
	Open               // to 0.50 mm
	Failed             // beyond
)

var wordNames = [...]string{"tight", "close", "open", "failed"}

// String gives the word itself.
func (w Word) String() string {
	if w < Tight || w > Failed {
		return "no fit word"
	}
	return wordNames[w]
}

// Limit is the largest gap in millimetres that still bears the word; there is
// none for Failed.
func (w Word) Limit() float64 {
	switch w {
	case Tight:
		return 0.10
	case Close:
		return 0.25
	case Open:
		return 0.50
	}
	return math.Inf(1)
}

// WordOf names a gap in millimetres.
func WordOf(gap float64) Word {
	for w := Tight; w < Failed; w++ {
		if gap <= w.Limit()+gapNoise {
			return w
		}
	}
	return Failed
}

// gapNoise is far below what anybody can measure and far above rounding.
const gapNoise = 1e-9

// ParseWord reads a fit word.
func ParseWord(s string) (Word, bool) {
	for i, n := range wordNames {
		if n == s {
			return Word(i), true
		}
	}
	return Tight, false
}
