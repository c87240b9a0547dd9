package drawing

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A document asks the print dialog to keep its size, and is still a whole PDF
// to a strict reader.
func TestPDFAsksNotToBeScaled(t *testing.T) {
	p := NewPage(A4)
	p.Write(20, 20, Lettering{Points: 12}, "Half angle α = 25.9°, Žofie Łucja")
	pdf := document(t, []*Page{p, NewPage(Letter)})
	if n := bytes.Count(pdf, []byte("/PrintScaling /None")); n != 1 {
		t.Errorf("PrintScaling stands %d times in the document, want once", n)
	}
	tool, err := exec.LookPath("pdfinfo")
	if err != nil {
		t.Skip("pdfinfo (poppler-utils) is not installed")
	}
	file := filepath.Join(t.TempDir(), "p.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-f", "1", "-l", "2", file).CombinedOutput()
	text := string(out)
	if err != nil || strings.Contains(text, "Error") || !strings.Contains(text, "Pages:           2") {
		t.Errorf("pdfinfo: %v: %s", err, text)
	}
	sizes := regexp.MustCompile(`size: +([0-9.]+ x [0-9.]+)`).FindAllStringSubmatch(text, -1)
	if len(sizes) != 2 || sizes[0][1] != "595.28 x 841.89" || sizes[1][1] != "612 x 792" {
		t.Errorf("page sizes %v, want A4 and Letter in points", sizes)
	}
	xref, err := exec.Command("pdftotext", file, "-").Output()
	if err != nil || !strings.Contains(string(xref), "Žofie Łucja") {
		t.Errorf("the text reads %q, %v", xref, err)
	}
}

// The table of objects points at its objects: what a reader that does not
// repair files relies on.
func TestPDFTableIsInPlace(t *testing.T) {
	pdf := document(t, []*Page{NewPage(A4)})
	m := regexp.MustCompile(`startxref\n([0-9]+)\n%%EOF\n$`).FindSubmatch(pdf)
	if m == nil {
		t.Fatal("no startxref at the end")
	}
	at := 0
	for _, d := range m[1] {
		at = 10*at + int(d-'0')
	}
	if !bytes.HasPrefix(pdf[at:], []byte("xref\n")) {
		t.Fatalf("startxref points at %q", pdf[at:at+20])
	}
	for n, row := range regexp.MustCompile(`(?m)^([0-9]{10}) 00000 n`).FindAllSubmatch(pdf[at:], -1) {
		place := 0
		for _, d := range row[1] {
			place = 10*place + int(d-'0')
		}
		if want := regexp.MustCompile(`^[0-9]+ 0 obj`); !want.Match(pdf[place:]) {
			t.Errorf("object %d is not at %d: %q", n+1, place, pdf[place:place+12])
		}
	}
}

// Arcs and circles in a PDF keep to their radius, as measured in ink.
func TestArcsAreRound(t *testing.T) {
	p := NewPage(A4)
	centre, r := pt{100, 100}, 40.0
	on := func(a float64) pt { return onCircle(centre.times(unitsPerMM), r*unitsPerMM, a) }
	for _, turn := range []struct{ a, b float64 }{{0.1, 1.2}, {1.3, 1.3 + 3.1}, {6.1, 4.7}} {
		p.items = append(p.items, stroke{narrow, []step{
			{op: 'M', p: on(turn.a)}, {op: 'A', p: on(turn.b), r: r * unitsPerMM, clockwise: turn.b < turn.a},
		}})
	}
	p.items = append(p.items, ring{narrow, pt{100 * unitsPerMM, 220 * unitsPerMM}, r * unitsPerMM})
	pic := printed(t, []*Page{p})[0]
	for _, a := range []float64{0.2, 0.5, 0.9, 1.15, 1.5, 2.4, 3.3, 4.2, 4.9, 5.5, 6.0} {
		for _, c := range []pt{centre, {100, 220}} {
			at := onCircle(c, r, a)
			if off, ok := pic.inkNear(at.x, at.y, heading(a), 1); !ok || off > 0.05 || off < -0.05 {
				t.Errorf("at %.1f of the circle about %v the line is %.3f mm off (%v), want within 0.05", a, c, off, ok)
			}
		}
	}
}
