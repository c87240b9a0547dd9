package drawing

import (
	"math"
	"testing"

	"arrisbook/geom/joint"
)

// inked is a straight line as it was printed: two places on it, in millimetres
// of paper, found by the ink.
type inked struct{ a, b pt }

func (l inked) heading() float64 { return math.Atan2(l.b.y-l.a.y, l.b.x-l.a.x) / radian }
func (l inked) long() float64    { return l.a.to(l.b) }

// Every line to cut to, in the templates of every family, is printed where the
// drawing has it, within a tenth of a millimetre; and the angles and distances
// of the key are found in the ink.
func TestTemplatesMeasureTrue(t *testing.T) {
	for _, f := range joint.All() {
		if painters[f.ID].template == nil {
			continue
		}
		t.Run(f.ID, func(t *testing.T) {
			t.Parallel()
			for _, blank := range shippedBlanks(t, f)[:3] {
				flats, err := Flats(f, blank)
				if err != nil {
					t.Fatal(err)
				}
				pages := TemplatePages(A4, someHead, flats)
				var lines []inked
				for n, pic := range printed(t, pages) {
					lines = append(lines, measuredLines(t, f.ID, pages[n], pic)...)
				}
				l, err := f.Layout(blank)
				if err != nil {
					t.Fatal(err)
				}
				wantInInk(t, f.ID, lines, l)
			}
		})
	}
}

// measuredLines measures the visible straight lines of a page, wherever enough
// of one stands clear of everything else.
func measuredLines(t *testing.T, family string, p *Page, pic raster) []inked {
	t.Helper()
	marks := allMarks(p)
	var lines []inked
	for _, i := range p.items {
		w, ok := i.(window)
		if !ok {
			continue
		}
		for _, s := range visibleSegments(w) {
			line := inked{}
			found := 0
			for _, share := range []float64{0.03, 0.08, 0.15, 0.25, 0.35, 0.5, 0.65, 0.75, 0.85, 0.92, 0.97} {
				at := s[0].add(s[1].sub(s[0]).times(share))
				if !w.holds(at.x, at.y) || !clearOf(marks, at, s) {
					continue
				}
				n := s[1].sub(s[0]).unit().left()
				off, ok := pic.inkNear(at.x, at.y, n, 0.6)
				if !ok || math.Abs(off) > 0.1 {
					t.Errorf("%s: the line from %v to %v is %.3f mm off at %v (ink: %v)", family, s[0], s[1], off, at, ok)
				}
				on := at.add(n.times(off))
				if found == 0 {
					line.a = on
				}
				line.b = on
				found++
			}
			if found > 1 && line.long() > 6 {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// visibleSegments are a window's straight lines to cut to, in millimetres of
// paper.
func visibleSegments(w window) [][2]pt {
	var out [][2]pt
	for _, i := range w.marks {
		s, ok := i.(stroke)
		if !ok || s.kind != visible {
			continue
		}
		for k := 1; k < len(s.steps); k++ {
			if s.steps[k].op == 'L' && s.steps[k-1].op != 'A' {
				out = append(out, [2]pt{s.steps[k-1].p.times(1 / unitsPerMM), s.steps[k].p.times(1 / unitsPerMM)})
			}
		}
	}
	return out
}

// allMarks are a page's marks, those in windows too.
func allMarks(p *Page) []item {
	var all []item
	for _, i := range p.items {
		if w, ok := i.(window); ok {
			all = append(all, w.marks...)
			continue
		}
		all = append(all, i)
	}
	return all
}

// clearOf says that nothing but the line s itself stands within 1.2 mm of a
// place.
func clearOf(marks []item, at pt, s [2]pt) bool {
	const near = 1.2
	for _, i := range marks {
		switch m := i.(type) {
		case stroke:
			for k := 1; k < len(m.steps); k++ {
				a, b := m.steps[k-1].p.times(1/unitsPerMM), m.steps[k].p.times(1/unitsPerMM)
				if m.steps[k].op != 'M' && distance(at, a, b) < near && !alongLine(a, b, s) {
					return false
				}
			}
		case text:
			b := m.box()
			for k := range b {
				if distance(at, b[k].times(1/unitsPerMM), b[(k+1)%4].times(1/unitsPerMM)) < near {
					return false
				}
			}
		case solid:
			for _, c := range m.corners {
				if c.times(1/unitsPerMM).to(at) < 4 {
					return false
				}
			}
		case ring:
			if math.Abs(m.centre.times(1/unitsPerMM).to(at)-m.r/unitsPerMM) < near {
				return false
			}
		}
	}
	return true
}

func distance(p, a, b pt) float64 {
	d := b.sub(a)
	if d.length() < 1e-9 {
		return p.to(a)
	}
	k := min(1, max(0, p.sub(a).dot(d)/d.dot(d)))
	return p.to(a.add(d.times(k)))
}

// alongLine says that a piece lies on the line s, or is it.
func alongLine(a, b pt, s [2]pt) bool {
	u := s[1].sub(s[0]).unit()
	return a.to(a.onLine(s[0], u)) < 1e-3 && b.to(b.onLine(s[0], u)) < 1e-3
}

// keyAngles names quantities that a template shows as an angle between two
// lines, or between a line and the paper's edge.
var keyAngles = map[string][]string{
	"through-dovetail": {"slope_angle"},
	"lapped-dovetail":  {"slope_angle"},
	"head-v-joint":     {"half_angle", "face_half_angle"},
	"splayed-leg":      {"sightline"},
	"splayed-box":      {"face_angle"},
	"hip-rafter":       {"hip_plumb"},
	"angled-lap":       {"shoulder_bevel"},
	"unequal-mitre":    {"mitre_a", "mitre_b"},
	"angled-tenon":     {"splay_angle"},
}

// keyLengths names those that it shows as the distance of two parallel lines.
var keyLengths = map[string][]string{
	"angled-tenon": {"tenon_thickness"},
}

// wantInInk finds quantities of the key among the printed lines.
func wantInInk(t *testing.T, family string, lines []inked, l joint.Layout) {
	t.Helper()
	if len(lines) < 2 {
		t.Errorf("%s: %d lines could be measured, want two at least", family, len(lines))
		return
	}
	edges := append(lines, inked{pt{}, pt{100, 0}}, inked{pt{}, pt{0, 100}})
	for _, id := range keyAngles[family] {
		want, best := l.Quantities[id], math.Inf(1)
		slack := 0.0
		for _, a := range lines {
			for _, b := range edges {
				turn := math.Abs(math.Remainder(a.heading()-b.heading(), 180))
				if off := math.Abs(turn - want); off < best {
					best, slack = off, math.Atan(0.1/min(a.long(), b.long()))/radian
				}
			}
		}
		if best > slack {
			t.Errorf("%s: no two printed lines stand at %s = %.3f°; the nearest are %.3f° off, want %.3f", family, id, want, best, slack)
		}
	}
	for _, id := range keyLengths[family] {
		want, best := l.Quantities[id], math.Inf(1)
		for i, a := range lines {
			for _, b := range lines[:i] {
				if math.Abs(math.Remainder(a.heading()-b.heading(), 180)) < 0.3 {
					best = min(best, math.Abs(b.a.to(b.a.onLine(a.a, a.b.sub(a.a).unit()))-want))
				}
			}
		}
		if best > 0.1 {
			t.Errorf("%s: no two printed lines are %s = %.3f mm apart; the nearest miss it by %.3f", family, id, want, best)
		}
	}
}
