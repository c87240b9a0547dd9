// Package fonts holds the lettering of printed drawings, so that paper looks
// the same whatever the machine has, and says how wide a text comes out.
// Liberation Sans is under the SIL Open Font License 1.1: see LICENSE.txt.
package fonts

import (
	_ "embed" // the two files below
	"sync"
)

// Regular and Bold are the files themselves, in TrueType. They must not be
// changed.
var (
	//go:embed LiberationSans-Regular.ttf
	Regular []byte
	//go:embed LiberationSans-Bold.ttf
	Bold []byte
)

// Metrics are the advance widths of one file's letters.
type Metrics struct {
	widths map[rune]float64 // in ems; what is not here has no letter
}

var (
	regular = sync.OnceValue(func() *Metrics { return read(Regular) })
	bold    = sync.OnceValue(func() *Metrics { return read(Bold) })
)

// Of gives the metrics of the regular or of the bold file. They are read at
// the first call and may be used by several goroutines.
func Of(isBold bool) *Metrics {
	if isBold {
		return bold()
	}
	return regular()
}

// Width is how wide a text is, in ems. A letter the font lacks counts as a
// question mark, which [Metrics.Printable] puts in its place.
func (m *Metrics) Width(text string) float64 {
	w := 0.0
	for _, r := range text {
		one, ok := m.widths[r]
		if !ok {
			one = m.widths['?']
		}
		w += one
	}
	return w
}

// Has says whether the font has every letter of a text.
func (m *Metrics) Has(text string) bool {
	for _, r := range text {
		if _, ok := m.widths[r]; !ok {
			return false
		}
	}
	return true
}

// Printable is the text with a question mark for every letter that the font
// lacks.
func (m *Metrics) Printable(text string) string {
	if m.Has(text) {
		return text
	}
	out := make([]rune, 0, len(text))
	for _, r := range text {
		if _, ok := m.widths[r]; !ok {
			r = '?'
		}
		out = append(out, r)
	}
	return string(out)
}
