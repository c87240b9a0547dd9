package fonts

import (
	"math"
	"testing"

	"codeberg.org/go-pdf/fpdf"
)

// The widths are the ones that the PDF library, which reads the file by code
// of its own, works with.
func TestWidthsAreThoseOfTheFile(t *testing.T) {
	for _, face := range []struct {
		style string
		file  []byte
		bold  bool
	}{{"", Regular, false}, {"B", Bold, true}} {
		pdf := fpdf.New("P", "mm", "A4", "")
		pdf.AddUTF8FontFromBytes("sans", face.style, face.file)
		pdf.SetFont("sans", face.style, 72)
		m := Of(face.bold)
		for r := range m.widths {
			want := pdf.GetStringWidth(string(r)) / (72 * 25.4 / 72)
			if got := m.Width(string(r)); m.widths[r] > 0 && math.Abs(got-want) > 0.0006 {
				t.Errorf("style %q: Width(%q) = %.4f, want %.4f", face.style, r, got, want)
			}
		}
		if n := len(m.widths); n < 2000 {
			t.Errorf("style %q: %d letters, want over 2000", face.style, n)
		}
	}
}

// What drawings and sheets say can be printed; what cannot is made plain.
func TestPrintable(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Half angle α′ = 25.89°, m₁ 3 5/16 × ½ ± 0.1", "Half angle α′ = 25.89°, m₁ 3 5/16 × ½ ± 0.1"},
		{"Žofie Ångström Łucja", "Žofie Ångström Łucja"},
		{"木 and 🪵", "? and ?"},
		{"", ""},
	} {
		if got := Of(false).Printable(c.text); got != c.want {
			t.Errorf("Printable(%q) = %q, want %q", c.text, got, c.want)
		}
		if got := Of(false).Has(c.text); got != (c.text == c.want) {
			t.Errorf("Has(%q) = %v, want %v", c.text, got, c.text == c.want)
		}
	}
}
