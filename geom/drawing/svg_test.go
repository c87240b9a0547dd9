package drawing

import (
	"encoding/xml"
	"errors"
	"io"
	"math/rand"
	"os"
	"regexp"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

// element is one start tag of an SVG.
type element struct {
	name string
	attr map[string]string
}

// parse reads an SVG as XML and lists its elements.
func parse(t testing.TB, svg string) []element {
	t.Helper()
	var out []element
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("not XML: %v\n%s", err, svg)
		}
		if s, ok := tok.(xml.StartElement); ok {
			e := element{s.Name.Local, map[string]string{}}
			for _, a := range s.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			out = append(out, e)
		}
	}
}

// everything is every view the package can draw of the house blank.
func everything(t testing.TB) []View {
	f := headFamily(t)
	l, err := f.Layout(f.House)
	if err != nil {
		t.Fatal(err)
	}
	views, err := SheetViews(f, Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, quantityIDs(f)...), Answers: answers(f, l, false)})
	if err != nil {
		t.Fatal(err)
	}
	submitted := joint.Values{"back_shift": 4, "face_half_angle": 23}
	gaps, err := Gaps(f, f.House, submitted)
	if err != nil {
		t.Fatal(err)
	}
	fits, err := FitViews(f, gaps)
	if err != nil {
		t.Fatal(err)
	}
	fit, err := f.Fit(f.House, submitted)
	if err != nil {
		t.Fatal(err)
	}
	released, err := ReleasedFitViews(f, f.House, fit)
	if err != nil {
		t.Fatal(err)
	}
	views = append(append(views, fits...), released...)
	for _, name := range FigureNames(f) {
		v, err := Figure(f, name, f.House)
		if err != nil {
			t.Fatal(err)
		}
		views = append(views, v)
	}
	worst := 0.18
	return append(views, FitRule(joint.Close, nil), FitRule(joint.Close, &worst),
		IntervalStrip(0.66, 0.97, 0.88, "88 of 100"), ProjectionSymbol(FirstAngle), ProjectionSymbol(ThirdAngle))
}

// Every SVG is well formed, has a name, carries no style and no script, and
// uses only classes that the style sheet knows.
func TestSVGSound(t *testing.T) {
	css, err := os.ReadFile("../../web/static/drawing.css")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, m := range regexp.MustCompile(`\.([a-z]+)`).FindAllStringSubmatch(string(css), -1) {
		known[m[1]] = true
	}
	known["t"], known["n"] = true, true // plain text and narrow lines are the default
	for _, v := range everything(t) {
		els := parse(t, v.SVG())
		if els[0].name != "svg" || !strings.HasPrefix(els[0].attr["class"], "drawing") {
			t.Errorf("view %q starts with %v", v.ID, els[0])
		}
		if els[0].attr["aria-label"] == "" && els[0].attr["aria-labelledby"] == "" {
			t.Errorf("view %q has no name", v.Title)
		}
		ids := map[string]bool{}
		for _, e := range els {
			for _, class := range strings.Fields(e.attr["class"]) {
				if !known[class] {
					t.Errorf("view %q: class %s is not in the style sheet", v.ID, class)
				}
			}
			if id := e.attr["id"]; id != "" {
				if ids[id] {
					t.Errorf("view %q: id %s stands twice", v.ID, id)
				}
				ids[id] = true
			}
			for name := range e.attr {
				if name == "style" || strings.HasPrefix(name, "on") {
					t.Errorf("view %q: attribute %s", v.ID, name)
				}
			}
			if e.name == "script" || e.name == "style" {
				t.Errorf("view %q: element %s", v.ID, e.name)
			}
		}
		for _, id := range strings.Fields(els[0].attr["aria-labelledby"]) {
			if !ids[id] {
				t.Errorf("view %q: named by %s, which is not there", v.ID, id)
			}
		}
	}
}

// Linked balloons lead to their fields and make the drawing a group; without
// links it is an image.
func TestSVGLinks(t *testing.T) {
	f := headFamily(t)
	s := Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, "tip_depth")}
	s.Asked[0].Number = 3
	for _, plain := range []bool{false, true} {
		s.Plain = plain
		views, err := SheetViews(f, s)
		if err != nil {
			t.Fatal(err)
		}
		role, links := map[bool]string{false: "group", true: "img"}[plain], 0
		for _, v := range views {
			els := parse(t, v.SVG())
			if v.ID != "joined" {
				if got := els[0].attr["role"]; got != "img" {
					t.Errorf("plain %v, view %s: role = %s, want img", plain, v.ID, got)
				}
				continue
			}
			if got := els[0].attr["role"]; got != role {
				t.Errorf("plain %v: role = %s, want %s", plain, got, role)
			}
			if n := v.Numbers(); len(n) != 1 || n[0] != 3 {
				t.Errorf("Numbers() = %v, want [3]", n)
			}
			for _, e := range els {
				if e.name == "a" {
					links++
					if e.attr["href"] != "#n3" || e.attr["aria-label"] != "To number 3, tip depth" {
						t.Errorf("link = %v", e.attr)
					}
				}
			}
		}
		if want := map[bool]int{false: 1, true: 0}[plain]; links != want {
			t.Errorf("plain %v: %d links, want %d", plain, links, want)
		}
	}
}

// Texts from outside come out as texts.
func TestSVGEscapes(t *testing.T) {
	f := headFamily(t)
	nasty := `<script>"&'`
	s := Sheet{Blank: f.House, Given: map[string]string{"thickness": nasty}, Asked: []Balloon{{Number: 1, Quantity: "tip_depth", Name: nasty}}}
	views, err := SheetViews(f, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range views {
		v.ID = nasty
		for _, e := range parse(t, v.SVG()) {
			if e.name == "script" {
				t.Fatalf("view %s lets a script in", v.Title)
			}
		}
	}
}

// The same input gives the same bytes, and a sheet's drawings stay small.
func TestSVGSameBytes(t *testing.T) {
	first, second := svgs(everything(t)), svgs(everything(t))
	if first != second {
		t.Error("two runs gave different bytes")
	}
	f := headFamily(t)
	views, err := SheetViews(f, Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, quantityIDs(f)...)})
	if err != nil {
		t.Fatal(err)
	}
	if got := len(svgs(views)); got > 20_000 {
		t.Errorf("a sheet's drawings take %d bytes, want at most 20,000", got)
	}
}

// Whatever sizes can be laid out at all are drawn with finite numbers.
func TestSVGFiniteOnWildBlanks(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(13))
	drawn := 0
	for n := 0; n < 3000; n++ {
		v := joint.Values{}
		for _, p := range f.Parameters {
			v[p.ID] = p.Min + (p.Max-p.Min)*r.Float64()*r.Float64()
		}
		views, err := SheetViews(f, Sheet{Blank: v, Given: millimetres(f, v), Asked: asked(f, quantityIDs(f)...)})
		if err != nil {
			continue
		}
		drawn++
		if s := svgs(views); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Contains(s, "e+") {
			t.Fatalf("blank %v is drawn with numbers that are none", v)
		}
	}
	if drawn < 1000 {
		t.Errorf("only %d of 3000 blanks could be drawn", drawn)
	}
}

func TestNum(t *testing.T) {
	for _, tc := range []struct {
		in   float64
		want string
	}{{0, "0"}, {-0.04, "0"}, {12, "12"}, {12.34, "12.3"}, {-7.05, "-7.1"}, {100.96, "101"}} {
		if got := num(tc.in); got != tc.want {
			t.Errorf("num(%v) = %q, want %q", tc.in, got, tc.want)
		}
	}
}

func BenchmarkSheetSVG(b *testing.B) {
	f := headFamily(b)
	s := Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, quantityIDs(f)...)}
	b.ReportAllocs()
	for b.Loop() {
		views, err := SheetViews(f, s)
		if err != nil {
			b.Fatal(err)
		}
		svgs(views)
	}
}
