package drawing

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

var headVGaps = []string{"near_cheek", "far_cheek", "near_shoulder", "far_shoulder"}

var cheekPlaces = []string{"", "face", "back", "mouth", "tip", "face mouth", "face tip", "back mouth", "back tip"}

// opposite is where the gap is most when it is least at a place.
func opposite(place string) string {
	return strings.NewReplacer("face", "back", "back", "face", "mouth", "tip", "tip", "mouth").Replace(place)
}

func svgs(views []View) string {
	var b strings.Builder
	for _, v := range views {
		b.WriteString(v.SVG())
	}
	return b.String()
}

// Nothing stands on anything in a fit picture, whatever words and places its
// faces have.
func TestFitViewsClear(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(3))
	for n := 0; n < 400; n++ {
		var gaps []Gap
		for i, id := range headVGaps {
			places := cheekPlaces
			if i >= 2 {
				places = cheekPlaces[:3]
			}
			g := Gap{Consequence: id, Least: joint.Word(r.Intn(4)), LeastAt: places[r.Intn(len(places))]}
			g.Most = g.Least + joint.Word(r.Intn(int(joint.Failed-g.Least)+1))
			g.Touches = g.Least == joint.Tight && r.Intn(2) == 0
			g.MostAt = opposite(g.LeastAt)
			gaps = append(gaps, g)
		}
		views, err := FitViews(f, gaps)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range views {
			for _, o := range overlaps(v) {
				t.Errorf("view %s: %s", v.ID, o)
			}
		}
		if t.Failed() {
			t.Fatalf("gaps %+v", gaps)
		}
	}
}

// Before release a picture tells the band and the place and nothing else: on
// two blanks, with different numbers, the same bands give the same bytes, and
// no figure stands in them.
func TestFitViewsTellBandsOnly(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(5))
	seen := map[string]string{} // bands → picture
	for n := 0; n < 300; n++ {
		v, l := randomBlank(t, f, r)
		submitted := joint.Values{"back_shift": l.Quantities["back_shift"] + 0.6*(r.Float64()-0.5)}
		gaps, err := Gaps(f, v, submitted)
		if err != nil {
			t.Fatal(err)
		}
		views, err := FitViews(f, gaps)
		if err != nil {
			t.Fatal(err)
		}
		for _, view := range views {
			for _, i := range view.items {
				if tx, ok := i.(text); ok && strings.ContainsAny(tx.words, "0123456789") {
					t.Fatalf("a figure in an unreleased fit picture: %q", tx.words)
				}
			}
			if strings.ContainsAny(view.Desc+view.Title+view.Caption, "0123456789") {
				t.Fatalf("a figure in words: %q", view.Desc)
			}
		}
		key := fmt.Sprint(gaps)
		got := svgs(views)
		if was, ok := seen[key]; ok && was != got {
			t.Fatalf("%s: two pictures", key)
		}
		seen[key] = got
	}
	if len(seen) < 4 {
		t.Fatalf("only %d different bands in 300 attempts", len(seen))
	}
}

// After release the figures stand in the picture, and nothing stands on them.
func TestReleasedFitViews(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(11))
	ids := []string{"half_angle", "face_half_angle", "back_shift", "mouth_near", "face_v_length", "cheek_tilt"}
	for n := 0; n < 200; n++ {
		v, l := randomBlank(t, f, r)
		id := ids[r.Intn(len(ids))]
		submitted := joint.Values{id: l.Quantities[id] + 2*(r.Float64()-0.5)}
		fit, err := f.Fit(v, submitted)
		if err != nil {
			t.Fatal(err)
		}
		views, err := ReleasedFitViews(f, v, fit)
		if err != nil {
			t.Fatal(err)
		}
		want := 4 // two views, and the same in true proportion
		for _, plain := range []string{"No gap", "drawn 1 times", "drawn 0."} {
			if strings.Contains(views[0].Caption, plain) {
				want = 2
			}
		}
		if len(views) != want {
			t.Fatalf("ReleasedFitViews gave %d views with %q, want %d", len(views), views[0].Caption, want)
		}
		for _, view := range views {
			for _, o := range overlaps(view) {
				t.Errorf("%s, view %s: %s", id, view.ID, o)
			}
		}
		if t.Failed() {
			t.Fatalf("blank %v, submitted %v, outcomes %v", v, submitted, fit.Outcomes)
		}
	}
}

// Bands, touching and places of one wrong number, in words.
func TestTellGaps(t *testing.T) {
	f := headFamily(t)
	l, err := f.Layout(f.House)
	if err != nil {
		t.Fatal(err)
	}
	gaps, err := Gaps(f, f.House, joint.Values{"back_shift": l.Quantities["back_shift"] - 0.2})
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Join(TellGaps(f, gaps), " ")
	want := "Near cheek: tight all along. Far cheek: tight all along. " +
		"Near shoulder: touches on the back, close on the face. Far shoulder: touches on the back, close on the face."
	if got != want {
		t.Errorf("TellGaps = %q, want %q", got, want)
	}
}
