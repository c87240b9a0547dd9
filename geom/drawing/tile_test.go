package drawing

import (
	"bytes"
	"math"
	"strings"
	"testing"
)

// plainFlat is a layout w by h millimetres with two lines to cut, a quarter of
// the way in from the left and from the top.
func plainFlat(id string, w, h float64) Flat {
	f := newFlat()
	f.outline(narrow, f.at(0, 0), f.at(w, 0), f.at(w, h), f.at(0, h))
	f.line(visible, f.at(w/4, 0), f.at(w/4, h))
	f.line(visible, f.at(0, h*0.75), f.at(w, h*0.75))
	return f.finish(id, "A board’s face", "Lay the long line on the reference edge.")
}

var someHead = TemplateHead{Title: "Template", Who: "bench 3", Says: "Only the instructor clears you to cut."}

// Every page of templates has four bars of true length, on either paper,
// upright or across.
func TestBarsMeasureTrue(t *testing.T) {
	flats := []Flat{plainFlat("a", 100, 60), plainFlat("b", 240, 60), plainFlat("c", 400, 300)}
	for _, paper := range []Paper{A4, Letter} {
		pages := TemplatePages(paper, someHead, flats)
		for n, r := range printed(t, pages) {
			p := pages[n].Paper
			foot := p.H - tileMargin
			for i, b := range checkBars {
				y := foot - barPitch - 4 + float64(i)*barPitch
				x := p.W - tileMargin - barPitch - 4 + float64(i)*barPitch
				top := p.H - tileMargin - tileFoot - barInch
				r.wantBar(t, paper.Name, b, tileMargin, y-barEnd+0.8, pt{1, 0})
				r.wantBar(t, paper.Name, b, x-barEnd+0.8, top, pt{0, 1})
			}
		}
	}
}

// wantBar measures a bar between the middles of its end marks.
func (r raster) wantBar(t *testing.T, paper string, b checkBar, x, y float64, u pt) {
	t.Helper()
	first, ok1 := r.inkNear(x, y, u, 1)
	last, ok2 := r.inkNear(x+u.x*b.long, y+u.y*b.long, u, 1)
	if got := b.long + last - first; !ok1 || !ok2 || math.Abs(got-b.long) > 0.1 || math.Abs(first) > 0.1 {
		t.Errorf("%s: a bar measures %.3f mm from %.3f, want %.3f ± 0.1 (%v, %v)", paper, got, first, b.long, ok1, ok2)
	}
}

// A layout larger than the paper comes out whole and in place: every page
// shows its part where the seams say, and every place is on some page.
func TestTilesCoverTheFlat(t *testing.T) {
	f := plainFlat("c", 400, 300)
	for _, paper := range []Paper{A4, Letter} {
		pages := TemplatePages(paper, someHead, []Flat{f})
		seen := map[string]int{}
		pics := printed(t, pages)
		for n, p := range pages {
			w := windowOf(t, p)
			origin := originOf(t, w) // of the flat, in millimetres of paper
			for _, c := range []struct {
				name string
				x, y float64
				u    pt
			}{
				{"upright cut", 100, 40, pt{1, 0}}, {"upright cut below", 100, 260, pt{1, 0}},
				{"level cut", 30, 75, pt{0, 1}}, {"level cut at the right", 380, 75, pt{0, 1}},
				{"left arris", 0, 150, pt{1, 0}}, {"right arris", 400, 130, pt{1, 0}},
				{"upper arris", 215, 0, pt{0, 1}}, {"lower arris", 215, 300, pt{0, 1}},
			} {
				x, y := origin.x+c.x, origin.y+c.y
				if x < w.lo.x/unitsPerMM+1 || y < w.lo.y/unitsPerMM+1 || x > w.hi.x/unitsPerMM-1 || y > w.hi.y/unitsPerMM-1 {
					// Lines on the very edge of the window show whole, too.
					if !(c.x == 0 || c.x == 400 || c.y == 0 || c.y == 300) || !w.holds(x, y) {
						continue
					}
				}
				off, ok := pics[n].inkNear(x, y, c.u, 0.6)
				if !ok || math.Abs(off) > 0.1 {
					t.Errorf("%s page %d: %s is %.3f mm out of place (ink: %v), want within 0.1", paper.Name, n+1, c.name, off, ok)
				}
				seen[c.name]++
			}
		}
		if len(seen) != 8 {
			t.Errorf("%s: %d of 8 lines were found on any of %d pages: %v", paper.Name, len(seen), len(pages), seen)
		}
	}
}

func (w window) holds(x, y float64) bool {
	p := onPaper(x, y)
	return p.x >= w.lo.x && p.x <= w.hi.x && p.y >= w.lo.y && p.y <= w.hi.y
}

func windowOf(t *testing.T, p *Page) window {
	t.Helper()
	for _, i := range p.items {
		if w, ok := i.(window); ok {
			return w
		}
	}
	t.Fatal("the page shows no flat")
	return window{}
}

// originOf finds where a plain flat's left upper corner lies on the paper.
func originOf(t *testing.T, w window) pt {
	t.Helper()
	c := canvas{items: w.marks}
	lo, _ := c.extent()
	return lo.times(1 / unitsPerMM)
}

// Marks of the same name lie at the same place of the wood on both pages.
func TestMatchMarksMeet(t *testing.T) {
	pages := TemplatePages(A4, someHead, []Flat{plainFlat("c", 400, 300)})
	places := map[string][]pt{}
	for _, p := range pages {
		origin := originOf(t, windowOf(t, p))
		for _, i := range p.items {
			if w, ok := i.(text); ok && strings.Contains(w.words, "–") {
				places[w.words] = append(places[w.words], w.at.times(1/unitsPerMM).sub(origin))
			}
		}
	}
	if len(places) < 4 {
		t.Fatalf("%d seams have names, want the seams of %d pages", len(places), len(pages))
	}
	for name, at := range places {
		if len(at) != 4 {
			t.Errorf("seam %s has %d marks, want two on each of two pages", name, len(at))
			continue
		}
		for k := range 2 {
			if d := at[k].to(at[k+2]); d > 1e-6 {
				t.Errorf("seam %s: mark %d lies %.3f mm apart on its two pages", name, k+1, d)
			}
		}
	}
}

// Small layouts share a page; each finds a page on which it stands whole.
func TestSmallFlatsShareAPage(t *testing.T) {
	small := []Flat{plainFlat("a", 100, 60), plainFlat("b", 120, 70)}
	if n := len(TemplatePages(A4, someHead, small)); n != 1 {
		t.Errorf("two small flats take %d pages, want 1", n)
	}
	tall := []Flat{plainFlat("a", 60, 180), plainFlat("b", 70, 120), plainFlat("c", 60, 180)}
	beside := TemplatePages(A4, someHead, tall)
	if len(beside) != 2 {
		t.Errorf("three tall flats take %d pages, want 2: two stand beside each other", len(beside))
	}
	var seen []window
	for _, i := range beside[0].items {
		if w, ok := i.(window); ok {
			seen = append(seen, w)
		}
	}
	if len(seen) != 2 || seen[1].lo.x < seen[0].hi.x+4*unitsPerMM || seen[1].hi.x > (A4.W-tileMargin)*unitsPerMM {
		t.Errorf("the flats of the first page show through %v, want two windows apart", seen)
	}
	wide := plainFlat("w", 230, 60)
	pages := TemplatePages(A4, someHead, []Flat{wide})
	if len(pages) != 1 || pages[0].Paper != A4.Across() {
		t.Errorf("a flat 230 wide takes %d pages on %v, want one across", len(pages), pages[0].Paper)
	}
	if n := len(TemplatePages(A4, someHead, nil)); n != 0 {
		t.Errorf("no flat takes %d pages, want none", n)
	}
}

// The same pages give the same bytes.
func TestSamePagesSameBytes(t *testing.T) {
	make := func() []byte {
		return document(t, TemplatePages(Letter, someHead, []Flat{plainFlat("c", 400, 300)}))
	}
	if a, b := make(), make(); !bytes.Equal(a, b) {
		t.Error("the same templates came out as different bytes")
	}
}

func TestTileName(t *testing.T) {
	for _, c := range []struct {
		col, row int
		want     string
	}{{0, 0, "A1"}, {2, 1, "C2"}, {25, 9, "Z10"}, {26, 0, "AA1"}} {
		if got := tileName(c.col, c.row); got != c.want {
			t.Errorf("tileName(%d, %d) = %q, want %q", c.col, c.row, got, c.want)
		}
	}
}
