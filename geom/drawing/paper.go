package drawing

import "strings"

// Paper is a size of paper in millimetres, upright.
type Paper struct {
	Name string // as people say it
	W, H float64
}

// The papers that printers in schools hold: ISO 216, and ANSI/ASME Y14.1.
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"Letter", 215.9, 279.4}
)

// PaperNamed finds a paper by its name, in any case.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range []Paper{A4, Letter} {
		if strings.EqualFold(p.Name, name) {
			return p, true
		}
	}
	return Paper{}, false
}

// Across is the same paper lying on its long side.
func (p Paper) Across() Paper { return Paper{p.Name, p.H, p.W} }
