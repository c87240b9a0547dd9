package drawing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"arrisbook/geom/drawing/fonts"
	"arrisbook/geom/joint"
)

// drawn are the families that have a painter.
func drawnFamilies() []*joint.Family {
	return slices.DeleteFunc(joint.All(), func(f *joint.Family) bool { _, ok := painters[f.ID]; return !ok })
}

// Every name that is offered draws a view, and only those do.
func TestEveryViewNameDraws(t *testing.T) {
	for _, f := range drawnFamilies() {
		names := ViewNames(f)
		if len(names) < 2 {
			t.Errorf("ViewNames(%s) = %v, want at least two", f.ID, names)
		}
		for _, name := range names {
			v, err := OneView(f, f.House, name)
			if err != nil || len(v.items) == 0 {
				t.Errorf("OneView(%s, %s) = %d marks, %v, want a drawing", f.ID, name, len(v.items), err)
			}
		}
		var unknown *NameError
		if _, err := OneView(f, f.House, "nothing"); !errors.As(err, &unknown) || !slices.Equal(unknown.Known, names) {
			t.Errorf("OneView(%s, nothing) = %v, want a *NameError that knows %v", f.ID, err, names)
		}
	}
}

// A plate says every number of the blank and keeps to its frame, on sheets of
// paper as on one roll.
func TestPlates(t *testing.T) {
	for _, f := range drawnFamilies() {
		l, err := f.Layout(f.House)
		if err != nil {
			t.Fatal(err)
		}
		for _, paper := range []Paper{A4, Letter, {"roll", A4.W, 0}} {
			pages, err := Plate{Family: f, Blank: f.House, Method: FirstAngle}.Pages(paper)
			if err != nil {
				t.Errorf("%s on %s: %v", f.ID, paper.Name, err)
				continue
			}
			if paper.H == 0 && len(pages) != 1 {
				t.Errorf("%s: a roll has %d pages, want one", f.ID, len(pages))
			}
			words := ""
			for _, p := range pages {
				words += wordsOf(p.items)
				if lo, hi := printedExtent(p.items); lo.x < 15*unitsPerMM || lo.y < 9*unitsPerMM || hi.x > (p.Paper.W-8)*unitsPerMM || hi.y > (p.Paper.H-9)*unitsPerMM {
					t.Errorf("%s on %s: marks from %v to %v, want them within the frame", f.ID, paper.Name, lo, hi)
				}
			}
			for _, q := range f.Quantities {
				if _, ok := l.Quantities[q.ID]; ok && !strings.Contains(words, q.Name) {
					t.Errorf("%s on %s: %s is not told", f.ID, paper.Name, q.Name)
				}
			}
		}
	}
}

// printedExtent is the rectangle that holds all marks, texts as wide as the
// embedded lettering makes them.
func printedExtent(items []item) (lo, hi pt) {
	lo, hi = pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	for _, i := range items {
		reach := i.reach()
		if t, ok := i.(text); ok && t.turn == 0 {
			w := fonts.Of(t.face == strong).Width(t.words) * t.size
			left := t.at.x - map[anchor]float64{middle: 0.5, start: 0, end: 1}[t.anchor]*w
			reach = []pt{{left, t.at.y}, {left + w, t.at.y}}
		}
		for _, p := range reach {
			lo = pt{min(lo.x, p.x), min(lo.y, p.y)}
			hi = pt{max(hi.x, p.x), max(hi.y, p.y)}
		}
	}
	return lo, hi
}

func wordsOf(items []item) string {
	var b strings.Builder
	for _, i := range items {
		if t, ok := i.(text); ok {
			b.WriteString(t.words + "\n")
		}
	}
	return b.String()
}

// Words wrap into their column, and only a word that is longer alone stands
// over.
func TestWrap(t *testing.T) {
	l := Lettering{Points: 10}
	for _, c := range []struct {
		words string
		width float64
		want  []string
	}{
		{"", 50, nil},
		{"one", 50, []string{"one"}},
		{"one two three", l.Width("one two"), []string{"one two", "three"}},
		{"immeasurable it is", l.Width("it is"), []string{"immeasurable", "it is"}},
	} {
		if got := l.Wrap(c.words, c.width); !slices.Equal(got, c.want) {
			t.Errorf("Wrap(%q, %.1f) = %q, want %q", c.words, c.width, got, c.want)
		}
	}
}

func TestShorten(t *testing.T) {
	l := Lettering{Points: 10}
	if got := Shorten("reference edge", l, 100); got != "reference edge" {
		t.Errorf("Shorten = %q, want it whole", got)
	}
	got := Shorten("reference edge", l, l.Width("reference"))
	if !strings.HasSuffix(got, "…") || l.Width(got) > l.Width("reference") || len(got) < 6 {
		t.Errorf("Shorten = %q (%.1f mm), want as much as goes into %.1f mm and an ellipsis", got, l.Width(got), l.Width("reference"))
	}
}

// A flow sets blocks in order: in the shorter column, wide ones under both,
// and on the next page what does not fit.
func TestFlow(t *testing.T) {
	var got []string
	block := func(name string, wide bool, h float64) Block {
		return Block{Wide: wide, H: h, Draw: func(p *Page, x, y float64) {
			got = append(got, name+" "+mm(x*unitsPerMM)+" "+mm(y*unitsPerMM))
		}}
	}
	f := Flow{Columns: 2, Gap: 10, Start: func(int) (*Page, Room) { return NewPage(A4), Room{X: 10, Y: 20, W: 110, H: 100} }}
	f.Rest = func(_ *Page, left Room) { got = append(got, fmt.Sprintf("rest %g %g", left.Y, left.H)) }
	pages := f.Pages([]Block{
		block("a", false, 40), block("b", false, 20), block("c", false, 10), block("d", true, 30),
		block("e", true, 40), block("f", false, 200), block("g", false, 10),
	})
	want := []string{
		"a 10mm 20mm", "b 70mm 20mm", "c 70mm 40mm", "d 10mm 60mm",
		"e 10mm 20mm", "f 10mm 20mm", "g 70mm 20mm", "rest 220 -100",
	}
	if !slices.Equal(got, want) || len(pages) != 3 {
		t.Errorf("Flow set %d pages: %q, want 3: %q", len(pages), got, want)
	}
}
