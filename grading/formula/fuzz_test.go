package formula

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// FuzzParse: whatever is typed, nothing panics; what is read prints as a text
// that is read as the same tree; its value is a finite number or an error; its
// errors point into the text.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"atan((v_width/2)/v_length)", "=(70−36)÷2", "2^-3^x", "40/cos 10", "√(3²+4²)", "tan⁻¹(18/40)°",
		"hypot(a;b)", "((((", "1e9", "14° 30'", "a*-(b*-(c))", "--x^-y", "１８／４０", "\xff", strings.Repeat("-", 300) + "1",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, src string) {
		g, err := Parse(src)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Msg == "" || e.Col < 1 || e.Col > len([]rune(src))+1 {
				t.Fatalf("Parse(%q) = %#v, which points nowhere", src, err)
			}
			return
		}
		checkParsed(t, g)
	})
}

func checkParsed(t *testing.T, g Formula) {
	if g.Size() > maxNodes {
		t.Fatalf("%q has %d nodes", g, g.Size())
	}
	plain := g.Plain()
	if h, err := Parse(plain); len(plain) <= maxBytes && (err != nil || !Identical(g.Root(), h.Root())) {
		t.Fatalf("%q prints as %q, which reads as %q, %v", g, plain, h.Plain(), err)
	}
	values := func(id string) (float64, bool) { return float64(len(id)) - 2.5, id != "gone" }
	if v, err := g.Eval(values); math.IsNaN(v) || math.IsInf(v, 0) || err != nil && v != 0 {
		t.Fatalf("Eval(%q) = %v, %v", g, v, err)
	}
	dims := func(id string) (Dim, bool) { return Dim(len(id)%5 - 1), id != "gone" }
	if d, err := g.Check(dims); err == nil {
		if err := g.CheckAs(d, dims); err != nil {
			t.Fatalf("Check(%q) = %v, and CheckAs that gives %v", g, d, err)
		}
	}
	if !g.Equal(FromNode(g.Root())) {
		t.Fatalf("%q is not equal to itself", g)
	}
	if err := wellFormed(g.MathML("x", nil, false)); err != nil {
		t.Fatalf("MathML(%q): %v", g, err)
	}
	g.Speech("x", nil)
	g.Simplify()
}
