package drawing

import (
	"bytes"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

// TestSketchesAreClear: on every sketch nothing stands on anything, and it says
// what it shows to people who do not see it.
func TestSketchesAreClear(t *testing.T) {
	for _, name := range SketchNames() {
		v, err := Sketch(name, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range overlaps(v) {
			t.Errorf("sketch %s: %s", name, bad)
		}
		if v.Title == "" || v.Desc == "" {
			t.Errorf("sketch %s: title %q, desc %q, want both", name, v.Title, v.Desc)
		}
		again, _ := Sketch(name, nil, nil)
		if !bytes.Equal([]byte(v.SVG()), []byte(again.SVG())) {
			t.Errorf("sketch %s drawn twice differs", name)
		}
	}
}

// TestSketchTakesSizes: sizes and texts of the lesson replace the sketch's own.
func TestSketchTakesSizes(t *testing.T) {
	v, err := Sketch("offsets", joint.Values{"along": 200, "width": 3}, map[string]string{"angle": "φ = 12°"})
	if err != nil {
		t.Fatal(err)
	}
	svg := string(v.SVG())
	for _, want := range []string{">200<", "φ = 12°", ">50.45<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the sketch lacks %s", want)
		}
	}
}

func TestSketchUnknown(t *testing.T) {
	_, err := Sketch("nothing", nil, nil)
	if err == nil || !strings.Contains(err.Error(), "the sketches are bevel-reversal, ") {
		t.Errorf("Sketch(nothing) = %v, want the names there are", err)
	}
}
