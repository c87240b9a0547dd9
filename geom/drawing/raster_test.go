package drawing

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// raster is a page as a printer would get it: grey values, 0 black, at a
// number of dots for a millimetre.
type raster struct {
	w, h  int
	grey  []byte
	perMM float64
}

// printed renders a document's pages with poppler at 254 dpi: ten dots for a
// millimetre.
func printed(t *testing.T, pages []*Page) []raster {
	t.Helper()
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		if strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "pdf") {
			t.Fatal("pdftoppm (poppler-utils) is not installed")
		}
		t.Skip("pdftoppm (poppler-utils) is not installed")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "pages.pdf")
	if err := os.WriteFile(file, document(t, pages), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, "-r", "254", "-gray", file, filepath.Join(dir, "p")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "p-*.pgm"))
	if len(names) != len(pages) {
		t.Fatalf("%d pages came out, want %d", len(names), len(pages))
	}
	var all []raster
	for _, name := range names {
		all = append(all, readPGM(t, name))
	}
	return all
}

func document(t *testing.T, pages []*Page) []byte {
	t.Helper()
	d := NewPDF("Pages")
	for _, p := range pages {
		d.Add(p)
	}
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func readPGM(t *testing.T, name string) raster {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r, most := raster{perMM: 10}, 0
	if _, err := fmt.Sscanf(string(b[:min(len(b), 40)]), "P5\n%d %d\n%d", &r.w, &r.h, &most); err != nil || most != 255 {
		t.Fatalf("%s is no grey picture: %v", name, err)
	}
	r.grey = b[len(b)-r.w*r.h:]
	return r
}

// dark is how black the dot nearest to a place in dots is, from 0 to 1.
func (r raster) dark(x, y float64) float64 {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	if i < 0 || j < 0 || i >= r.w || j >= r.h {
		return 0
	}
	return 1 - float64(r.grey[j*r.w+i])/255
}

// inkNear finds the middle of the ink on a short line through a place in
// millimetres along the direction u, in millimetres from that place. ok is
// false where there is no ink within reach.
func (r raster) inkNear(x, y float64, u pt, reach float64) (off float64, ok bool) {
	const steps = 8 // samples for a dot
	sum, moment := 0.0, 0.0
	n := int(reach * r.perMM * steps)
	for k := -n; k <= n; k++ {
		d := float64(k) / steps / r.perMM
		dark := r.dark((x+u.x*d)*r.perMM, (y+u.y*d)*r.perMM)
		sum, moment = sum+dark, moment+dark*d
	}
	if sum < steps/2 {
		return 0, false
	}
	return moment / sum, true
}
