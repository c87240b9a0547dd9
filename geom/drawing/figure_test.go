package drawing

import (
	"math/rand"
	"strings"
	"testing"
)

// Lesson figures are clear on every blank the lesson's exercise may draw.
func TestFiguresClear(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(9))
	for n := 0; n < 200; n++ {
		v, _ := randomBlank(t, f, r)
		for _, name := range FigureNames(f) {
			view, err := Figure(f, name, v)
			if err != nil {
				t.Fatal(err)
			}
			for _, o := range overlaps(view) {
				t.Errorf("figure %s: %s", name, o)
			}
			if view.Title == "" || view.Desc == "" || view.Caption == "" {
				t.Errorf("figure %s lacks title, description or caption", name)
			}
			if strings.Contains(view.SVG(), "href") {
				t.Errorf("figure %s has a link", name)
			}
		}
		if t.Failed() {
			t.Fatalf("blank %v", v)
		}
	}
}

func TestFigureUnknown(t *testing.T) {
	f := headFamily(t)
	_, err := Figure(f, "nose", f.House)
	if err == nil || !strings.Contains(err.Error(), "copied-bevel") {
		t.Errorf("Figure(nose) error = %v, want one that lists the figures", err)
	}
}
