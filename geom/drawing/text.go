package drawing

import (
	"math"
	"strings"
	"unicode/utf8"
)

const radian = math.Pi / 180

// letterWidth is the width of a letter in ems that room is left for. The
// reader's own font is unknown; a wide one takes 0.64 for a figure and less
// for most letters.
const letterWidth = 0.62

func textWidth(s string, size float64) float64 {
	return letterWidth * size * float64(utf8.RuneCountInString(s))
}

// descent is how far a text reaches below its base line, in ems.
func descent(s string) float64 {
	if strings.ContainsAny(s, "gjpqy,()") {
		return 0.22
	}
	return 0.02
}
