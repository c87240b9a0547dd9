package drawing

import (
	"math"
	"strconv"
	"strings"
)

// standardScale is the largest scale of ISO 5455 (1, 2 and 5 times a power of
// ten, and their inverses) that draws no millimetre longer than k units.
func standardScale(k float64) float64 {
	best := 0.0
	for power := -4; power <= 1; power++ {
		for _, n := range [...]float64{1, 2, 5} {
			ratio := n * math.Pow10(power)
			if ratio*unitsPerMM <= k*(1+1e-9) {
				best = ratio * unitsPerMM
			}
		}
	}
	return best
}

// unitsPerMM is how many units of a drawing are a millimetre of paper.
const unitsPerMM = 4.0

// scaleWords states a scale: "scale 1 : 5".
func scaleWords(k float64) string {
	ratio := k / unitsPerMM
	if ratio >= 1 {
		return "scale\u00a0" + strconv.FormatFloat(ratio, 'g', 4, 64) + "\u00a0:\u00a01"
	}
	return "scale\u00a01\u00a0:\u00a0" + strconv.FormatFloat(1/ratio, 'g', 4, 64)
}

// scaled is what a millimetre of wood is drawn as where k units are the most
// there is room for: a standard scale in drawings that are true to scale, the
// most there is room for in others.
func (s Sheet) scaled(k float64) float64 {
	if s.Answers == nil {
		return k
	}
	if standard := standardScale(k); standard > 0 {
		return standard
	}
	return k
}

// said adds the scale to a caption where the drawing is true to it.
func (s Sheet) said(caption string, k float64) string {
	if s.Answers == nil || standardScale(k) != k {
		return caption
	}
	return caption + ", " + scaleWords(k)
}

// roomForText is how wide a given's text may be on the sheets of its class:
// before the release all students get the same room for it, so that their
// drawings differ in the texts only.
func (s Sheet) roomForText(words string) float64 {
	letters := 6.0
	switch {
	case strings.HasSuffix(words, "°"):
		letters = 5
	case s.fractions():
		letters = 9 // 13 15/16
	}
	return letters * letterWidth * sizeText
}

// fractions says that some given is written as a fraction.
func (s Sheet) fractions() bool {
	for _, words := range s.Given {
		if strings.Contains(words, "/") {
			return true
		}
	}
	return false
}
