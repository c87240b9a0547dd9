package drawing

import (
	"math"
	"testing"

	"arrisbook/geom/joint"
)

// What a template is for is on it in its true size: for every number here a
// line, on two hundred shipped blanks, to a hundredth of a millimetre or
// degree.
func TestTemplatesHoldTheirNumbers(t *testing.T) {
	for _, c := range []struct {
		family, flat string
		lengths      []string // quantities that some line is as long as
		fromUpright  []string // angles that some line has from upright
		fromLevel    []string // angles that some line has from level
	}{
		{"head-scarf", "cut", []string{"slope_length"}, nil, []string{"head_angle"}},
		{"splayed-leg", "hole", nil, nil, []string{"sightline"}},
		{"splayed-leg", "bevel", nil, []string{"resultant"}, []string{"drill_tilt"}},
		{"splayed-box", "side", nil, []string{"face_angle"}, nil},
		{"coopered-vessel", "side", []string{"top_width", "bottom_width"}, []string{"taper_angle"}, nil},
		{"hip-rafter", "cuts", nil, nil, []string{"hip_plumb", "backing_angle"}},
	} {
		f, ok := joint.Lookup(c.family)
		if !ok {
			t.Fatalf("no family %s", c.family)
		}
		for _, blank := range shippedBlanks(t, f) {
			flat := flatOf(t, f, blank, c.flat)
			l, err := f.Layout(blank)
			if err != nil {
				t.Fatal(err)
			}
			number := func(id string) float64 {
				if x, ok := l.Parameters[id]; ok {
					return x
				}
				return l.Quantities[id]
			}
			for _, id := range c.lengths {
				if off := nearestLine(flat, func(u pt) float64 { return u.length()/fullSize - number(id) }); off > 0.01 {
					t.Errorf("%s %s, blank %v: no line is as long as %s, the nearest is off by %.3f mm", c.family, c.flat, blank, id, off)
				}
			}
			for _, id := range c.fromUpright {
				if off := nearestLine(flat, func(u pt) float64 { return math.Atan2(math.Abs(u.x), math.Abs(u.y))/radian - number(id) }); off > 0.01 {
					t.Errorf("%s %s, blank %v: no line leans by %s, the nearest is off by %.3f°", c.family, c.flat, blank, id, off)
				}
			}
			for _, id := range c.fromLevel {
				if off := nearestLine(flat, func(u pt) float64 { return math.Atan2(math.Abs(u.y), math.Abs(u.x))/radian - number(id) }); off > 0.01 {
					t.Errorf("%s %s, blank %v: no line rises by %s, the nearest is off by %.3f°", c.family, c.flat, blank, id, off)
				}
			}
			if t.Failed() {
				return
			}
		}
	}
}

func flatOf(t *testing.T, f *joint.Family, blank joint.Values, id string) Flat {
	t.Helper()
	flats, err := Flats(f, blank)
	if err != nil {
		t.Fatal(err)
	}
	for _, flat := range flats {
		if flat.ID == id {
			return flat
		}
	}
	t.Fatalf("%s has no template %q", f.ID, id)
	return Flat{}
}

// nearestLine is the least that a line at least 10 mm long is off by a
// measure.
func nearestLine(f Flat, off func(u pt) float64) float64 {
	least := math.Inf(1)
	for _, i := range f.items {
		if i.layer() != visible && i.layer() != narrow {
			continue
		}
		for _, s := range segments(i) {
			if u := s[1].sub(s[0]); u.length() > 10*fullSize {
				least = math.Min(least, math.Abs(off(u)))
			}
		}
	}
	return least
}
