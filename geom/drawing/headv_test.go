package drawing

import (
	"fmt"
	"math"
	"math/rand"
	"regexp"
	"strings"
	"testing"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// The corners that the views draw from the layout's numbers are corners of the
// two solids, which are cut from the blank by planes: two ways to the same
// points.
func TestDrawnCornersAreCornersOfTheWood(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(17))
	for n := 0; n < 50; n++ {
		v, l := randomBlank(t, f, r)
		parts, err := f.Pieces(v)
		if err != nil {
			t.Fatal(err)
		}
		g := newHeadV(l)
		g.k = 1 // millimetres on the paper
		m := scale{pt{}, 1}
		j, nk, s := g.joinedPoints(m), g.neckPoints(m), g.socket(m)
		along := geom.Vec{X: math.Cos(g.head), Z: -math.Sin(g.head)}
		onEdge := func(p geom.Vec) pt { return m.at(p.X, p.Z) }
		onFace := func(p geom.Vec) pt { return m.at(p.X, p.Y+g.width/2) }
		onHead := func(p geom.Vec) pt { return m.at(geom.Dot(along, p), p.Y+g.width/2) }
		for _, c := range []struct {
			name string
			p    pt
			part string
			seen func(geom.Vec) pt
		}{
			{"shoulder line on the face", j.o, "neck", onEdge},
			{"shoulder line on the back", j.back, "neck", onEdge},
			{"tip", j.tip, "neck", onEdge},
			{"tip's lower end", j.tipFoot, "neck", onEdge},
			{"tip on the head's face", j.tipOnFace, "head", onEdge},
			{"near mouth point of the tongue", nk.near, "neck", onFace},
			{"far mouth point of the tongue", nk.far, "neck", onFace},
			{"tip from above", nk.tip, "neck", onFace},
			{"near mouth point of the socket", s.near, "head", onHead},
			{"far mouth point of the socket", s.far, "head", onHead},
			{"tip of the socket", s.tip, "head", onHead},
		} {
			if d := nearestVertex(parts, c.part, c.p, c.seen); d > 1e-6 {
				t.Errorf("blank %v: the %s lies %.3g mm from the nearest corner", v, c.name, d)
			}
		}
		if got := steepestLean(parts); math.Abs(got-g.tilt) > 1e-9 {
			t.Errorf("blank %v: cheeks lean %v from square, drawn %v", v, got, g.tilt)
		}
	}
}

func nearestVertex(parts []joint.Part, name string, p pt, seen func(geom.Vec) pt) float64 {
	best := math.Inf(1)
	for _, part := range parts {
		if part.Name != name {
			continue
		}
		for _, piece := range part.Pieces {
			for _, v := range piece.Vertices() {
				best = math.Min(best, seen(v).to(p))
			}
		}
	}
	return best
}

// steepestLean is how far from square to the neck's face the tongue's cheeks
// stand: its only faces that look both sideways and down.
func steepestLean(parts []joint.Part) float64 {
	lean := 0.0
	for _, piece := range parts[0].Pieces {
		for _, face := range piece.Faces() {
			if n := face.Plane.N; math.Abs(n.Y) > 0.1 && n.Z < -1e-9 && n.Z > -0.9 {
				lean = math.Max(lean, math.Asin(-n.Z))
			}
		}
	}
	return lean
}

// Before release nothing of the student's own blank is in the drawing but the
// givens as texts: with the texts taken out, all students' sheets are the same
// bytes.
func TestUnreleasedSheetsAreAllAlike(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(19))
	lettering := regexp.MustCompile(`(<text[^>]*>)[^<]*(</text>)|<desc.*?</desc>`)
	first := ""
	for n := 0; n < 1000; n++ {
		v, _ := randomBlank(t, f, r)
		given := map[string]string{}
		for _, p := range f.Parameters {
			given[p.ID] = fmt.Sprintf("%05.1f", v[p.ID])
		}
		views, err := SheetViews(f, Sheet{Blank: f.House, Given: given, Asked: asked(f, quantityIDs(f)...)})
		if err != nil {
			t.Fatal(err)
		}
		got := lettering.ReplaceAllString(svgs(views), "$1$2")
		if first == "" {
			first = got
		}
		if got != first {
			t.Fatalf("blank %v is drawn with other coordinates", v)
		}
	}
}

// Titles and descriptions tell givens and what is asked, never an answer, even
// when the answers stand in the drawing.
func TestDescriptionsHoldNoAnswer(t *testing.T) {
	f := headFamily(t)
	s := Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, quantityIDs(f)...), Answers: map[string]string{}}
	for _, q := range f.Quantities {
		s.Answers[q.ID] = "ANSWER"
	}
	views, err := SheetViews(f, s)
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for _, v := range views {
		if strings.Contains(v.Title+v.Desc+v.Caption, "ANSWER") {
			t.Errorf("view %s tells an answer: %s", v.ID, v.Desc)
		}
		drawn += strings.Count(v.SVG(), "ANSWER")
	}
	if drawn != len(f.Quantities) {
		t.Errorf("%d answers are drawn, want %d", drawn, len(f.Quantities))
	}
	want := "A V-shaped socket in the head’s end, its centre line midway between the edges. " +
		"Given: V length 40, width 60, V width 33. Asked: 1, half angle; 2, near mouth point; 3, far mouth point; 4, cheek length."
	if got := views[0].Desc; got != want {
		t.Errorf("description = %q, want %q", got, want)
	}
}

// A view without a number still stands where it carries givens, and the one
// across the cheek only where the tilt is asked.
func TestSheetViewsShown(t *testing.T) {
	f := headFamily(t)
	for _, tc := range []struct {
		asked []string
		want  string
	}{
		{[]string{"tip_depth"}, "C A B"},
		{[]string{"cheek_tilt"}, "C A B D"},
		{nil, "C A B"},
	} {
		views, err := SheetViews(f, Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, tc.asked...)})
		if err != nil {
			t.Fatal(err)
		}
		var letters []string
		for _, v := range views {
			letters = append(letters, v.Letter)
		}
		if got := strings.Join(letters, " "); got != tc.want {
			t.Errorf("views with %v asked = %s, want %s", tc.asked, got, tc.want)
		}
	}
}

func TestSheetViewsErrors(t *testing.T) {
	f := headFamily(t)
	if _, err := SheetViews(f, Sheet{Blank: joint.Values{"thickness": 26}}); err == nil {
		t.Error("a blank without sizes was drawn")
	}
	other := &joint.Family{ID: "finger-joint"}
	if _, err := SheetViews(other, Sheet{}); err == nil || !strings.Contains(err.Error(), "finger-joint") {
		t.Errorf("an unknown family gave %v", err)
	}
}
