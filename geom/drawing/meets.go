package drawing

import "math"

// turnOf is positive where a, b, c turn clockwise as seen on the paper.
func turnOf(a, b, c pt) float64 {
	return float64((b.x-a.x)*(c.y-a.y)) - float64((b.y-a.y)*(c.x-a.x))
}

// crosses says that two straight lines cross, each inside the other's length.
func crosses(a, b, c, d pt) bool {
	return turnOf(a, b, c)*turnOf(a, b, d) < 0 && turnOf(c, d, a)*turnOf(c, d, b) < 0
}

// grown is a box that is larger by a unit on every side: lettering wants air.
func grown(b [4]pt) [4]pt {
	u, v := b[1].sub(b[0]), b[3].sub(b[0])
	if u.length() == 0 || v.length() == 0 {
		return b
	}
	u, v = u.unit(), v.unit()
	return [4]pt{b[0].sub(u).sub(v), b[1].add(u).sub(v), b[2].add(u).add(v), b[3].sub(u).add(v)}
}

// meets says that a line comes into a text's box or within a unit of it.
func meets(l *bar, b *box4) bool {
	g := grown(b.corners)
	if holdsPoint(g, l.a) || holdsPoint(g, l.b) {
		return true
	}
	for k := range g {
		if crosses(l.a, l.b, g[k], g[(k+1)%4]) {
			return true
		}
	}
	return false
}

func holdsPoint(b [4]pt, p pt) bool {
	s := math.Copysign(1, turnOf(b[0], b[1], b[2]))
	for k := range b {
		if turnOf(b[k], b[(k+1)%4], p)*s <= 0 {
			return false
		}
	}
	return true
}

func boxesTouch(a, b [4]pt) bool {
	a = grown(a)
	for k := range a {
		if holdsPoint(b, a[k]) || holdsPoint(a, b[k]) {
			return true
		}
		for l := range b {
			if crosses(a[k], a[(k+1)%4], b[l], b[(l+1)%4]) {
				return true
			}
		}
	}
	return false
}

func distanceToBox(b [4]pt, p pt) float64 {
	if holdsPoint(b, p) {
		return 0
	}
	d := math.Inf(1)
	for k := range b {
		d = math.Min(d, distanceToBar(p, b[k], b[(k+1)%4]))
	}
	return d
}

func distanceToBar(p, a, b pt) float64 {
	u := b.sub(a)
	t := 0.0
	if l := u.dot(u); l > 0 {
		t = math.Min(1, math.Max(0, p.sub(a).dot(u)/l))
	}
	return p.to(a.add(u.times(t)))
}
