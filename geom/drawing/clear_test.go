package drawing

import (
	"fmt"
	"math"
	"testing"
)

// overlaps lists what stands on what in a view: lettering on lines, heads,
// lettering or balloons, balloons on balloons or outlines, and anything that
// leaves the paper. Balloons count with their second ring.
func overlaps(v View) []string {
	var bad []string
	say := func(format string, a ...any) { bad = append(bad, fmt.Sprintf(format, a...)) }
	var texts []text
	var discs []disc
	for _, i := range v.items {
		switch i := i.(type) {
		case text:
			texts = append(texts, i)
		case disc:
			discs = append(discs, i)
		}
	}
	for n, t := range texts {
		b := t.box()
		for _, p := range b {
			if p.x < 0 || p.y < 0 || p.x > v.W || p.y > v.H {
				say("%q leaves the paper at %.0f,%.0f", t.words, p.x, p.y)
				break
			}
		}
		for _, i := range v.items {
			if hitsBox(i, b) {
				say("%q stands on a line or head (layer %d)", t.words, i.layer())
			}
		}
		for _, o := range texts[n+1:] {
			if boxesMeet(b, o.box()) {
				say("%q stands on %q", t.words, o.words)
			}
		}
		for _, d := range discs {
			if boxDistance(b, d.at) < ringRadius {
				say("%q stands on balloon %d", t.words, d.Number)
			}
		}
	}
	for n, d := range discs {
		if d.at.x < hitRadius || d.at.y < hitRadius || d.at.x > v.W-hitRadius || d.at.y > v.H-hitRadius {
			say("balloon %d leaves the paper at %.0f,%.0f", d.Number, d.at.x, d.at.y)
		}
		for _, o := range discs[n+1:] {
			if d.at.to(o.at) < 2*hitRadius {
				say("balloons %d and %d are %.0f apart", d.Number, o.Number, d.at.to(o.at))
			}
		}
		for _, i := range v.items {
			if (i.layer() == visible || i.layer() == phantom || i.layer() == ink) && nearest(i, d.at) < ballRadius+1 {
				say("balloon %d stands on an outline or head (layer %d)", d.Number, i.layer())
			}
		}
	}
	return bad
}

func segments(i item) [][2]pt {
	switch i := i.(type) {
	case stroke:
		return strokeSegments(i)
	case solid:
		var s [][2]pt
		for k, p := range i.corners {
			s = append(s, [2]pt{p, i.corners[(k+1)%len(i.corners)]})
		}
		return s
	}
	return nil
}

func strokeSegments(s stroke) [][2]pt {
	var out [][2]pt
	var at, first pt
	for _, st := range s.steps {
		switch st.op {
		case 'M':
			first = st.p
		case 'L':
			out = append(out, [2]pt{at, st.p})
		case 'A':
			out = append(out, arcSegments(at, st)...)
		case 'Z':
			out = append(out, [2]pt{at, first})
		}
		if st.op != 'Z' {
			at = st.p
		}
	}
	return out
}

// arcSegments cuts an arc into twelve chords.
func arcSegments(at pt, st step) [][2]pt {
	m := at.mid(st.p)
	half := at.to(st.p) / 2
	h := math.Sqrt(math.Max(0, st.r*st.r-half*half))
	n := st.p.sub(at).unit().left()
	if !st.clockwise {
		n = n.times(1)
	} else {
		n = n.times(-1)
	}
	c := m.add(n.times(h))
	a := math.Atan2(-(at.y - c.y), at.x-c.x)
	b := math.Atan2(-(st.p.y - c.y), st.p.x-c.x)
	turn := math.Remainder(b-a, 2*math.Pi)
	var out [][2]pt
	for k := 0; k < 12; k++ {
		out = append(out, [2]pt{onCircle(c, st.r, a+turn*float64(k)/12), onCircle(c, st.r, a+turn*float64(k+1)/12)})
	}
	return out
}

func hitsBox(i item, b [4]pt) bool {
	for _, s := range segments(i) {
		if inBox(b, s[0]) || inBox(b, s[1]) {
			return true
		}
		for k := range b {
			if cross(s[0], s[1], b[k], b[(k+1)%4]) {
				return true
			}
		}
	}
	return false
}

func side3(a, b, c pt) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

func cross(a, b, c, d pt) bool {
	return side3(a, b, c)*side3(a, b, d) < 0 && side3(c, d, a)*side3(c, d, b) < 0
}

func inBox(b [4]pt, p pt) bool {
	s := math.Copysign(1, side3(b[0], b[1], b[2]))
	for k := range b {
		if side3(b[k], b[(k+1)%4], p)*s <= 0 {
			return false
		}
	}
	return true
}

func boxesMeet(a, b [4]pt) bool {
	for k := range a {
		if inBox(b, a[k]) || inBox(a, b[k]) {
			return true
		}
		for l := range b {
			if cross(a[k], a[(k+1)%4], b[l], b[(l+1)%4]) {
				return true
			}
		}
	}
	return false
}

func boxDistance(b [4]pt, p pt) float64 {
	if inBox(b, p) {
		return 0
	}
	d := math.Inf(1)
	for k := range b {
		d = math.Min(d, fromSegment(p, b[k], b[(k+1)%4]))
	}
	return d
}

func fromSegment(p, a, b pt) float64 {
	u := b.sub(a)
	t := 0.0
	if l := u.dot(u); l > 0 {
		t = math.Min(1, math.Max(0, p.sub(a).dot(u)/l))
	}
	return p.to(a.add(u.times(t)))
}

func nearest(i item, p pt) float64 {
	d := math.Inf(1)
	for _, s := range segments(i) {
		d = math.Min(d, fromSegment(p, s[0], s[1]))
	}
	return d
}

// TestOverlapsSees proves that the check can fail.
func TestOverlapsSees(t *testing.T) {
	draw := func(f func(c *canvas)) View {
		c := &canvas{}
		f(c)
		return View{W: 300, H: 300, items: c.items}
	}
	cases := []struct {
		name string
		draw func(c *canvas)
		want int
	}{
		{"clear", func(c *canvas) {
			c.write(pt{100, 50}, middle, "26")
			c.line(narrow, pt{0, 60}, pt{200, 60})
			c.balloon(pt{100, 100}, Balloon{Number: 1})
		}, 0},
		{"line through text", func(c *canvas) {
			c.write(pt{100, 50}, middle, "26")
			c.line(narrow, pt{0, 46}, pt{200, 46})
		}, 1},
		{"arc through text", func(c *canvas) {
			c.write(pt{100, 50}, middle, "26")
			c.arc(narrow, pt{100, 145}, 100, math.Pi/4, 3*math.Pi/4)
		}, 1},
		{"text on text", func(c *canvas) {
			c.write(pt{100, 50}, middle, "26")
			c.write(pt{110, 55}, middle, "27")
		}, 1},
		{"turned text on text", func(c *canvas) {
			c.write(pt{100, 50}, middle, "26")
			c.overLine(pt{105, 50}, pt{0, 1}, "1234")
		}, 1},
		{"balloon on balloon", func(c *canvas) {
			c.balloon(pt{100, 100}, Balloon{Number: 1})
			c.balloon(pt{140, 100}, Balloon{Number: 2})
		}, 1},
		{"balloon on outline", func(c *canvas) {
			c.balloon(pt{100, 100}, Balloon{Number: 1})
			c.line(visible, pt{90, 0}, pt{90, 200})
		}, 1},
		{"off the paper", func(c *canvas) { c.write(pt{5, 50}, middle, "26") }, 1},
	}
	for _, tc := range cases {
		if got := overlaps(draw(tc.draw)); len(got) != tc.want {
			t.Errorf("%s: overlaps = %v, want %d of them", tc.name, got, tc.want)
		}
	}
}
