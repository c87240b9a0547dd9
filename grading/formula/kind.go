package formula

import (
	"fmt"
	"math"
	"strings"
)

// kind is a dimension while it is worked out: powers of length and of angle.
// An area is length 2. Ratios of areas to lengths and the like pass through
// as long as the whole comes to one of the four dimensions.
type kind struct {
	length, angle int
	// written says that the expression is made of written numbers (and plain
	// numbers beside them), so that it adapts to what is needed.
	written bool
	// elastic says that a written number beside a length was perhaps a length
	// too, so that the power of length is not sure.
	elastic bool
}

func kindOf(d Dim) kind {
	switch d {
	case Length:
		return kind{length: 1}
	case Angle:
		return kind{angle: 1}
	case Area:
		return kind{length: 2}
	case Any:
		return kind{written: true}
	}
	return kind{}
}

// alike says that two kinds are the same dimension, adapting aside.
func (k kind) alike(o kind) bool { return k.length == o.length && k.angle == o.angle }

// fits says that k can stand where o is needed.
func (k kind) fits(o kind) bool {
	return k.written || k.alike(o) || k.angle == o.angle && (k.elastic || o.elastic)
}

// with joins the two sides of a sum.
func (k kind) with(o kind) (kind, bool) {
	switch {
	case k.written && o.written:
		return k, true
	case k.written:
		return o, true
	case o.written, k.alike(o):
		return k, true
	case k.fits(o):
		// Whichever side is sure decides.
		if k.elastic {
			return o, true
		}
		return k, true
	}
	return kind{}, false
}

// times multiplies (sign 1) or divides (sign -1).
func (k kind) times(o kind, sign int) kind {
	p := kind{length: k.length + sign*o.length, angle: k.angle + sign*o.angle, elastic: k.elastic || o.elastic}
	plain := kindOf(Number)
	p.written = (k.written || o.written) && k.alike(plain) && o.alike(plain)
	return p
}

// power raises to e; ok is false where a broken power of a length or an angle
// would come out, or one beyond any use.
func (k kind) power(e float64) (kind, bool) {
	if k.alike(kindOf(Number)) {
		return k, true
	}
	l, a := float64(k.length)*e, float64(k.angle)*e
	if k.elastic && k.angle == 0 {
		return kind{length: int(max(-100, min(100, l))), elastic: true}, true
	}
	if l != math.Trunc(l) || a != math.Trunc(a) || math.Abs(l) > 100 || math.Abs(a) > 100 {
		return kind{}, false
	}
	return kind{length: int(l), angle: int(a)}, true
}

// dim is the dimension, if it is one of the four.
func (k kind) dim() (Dim, bool) {
	for _, d := range []Dim{Number, Length, Angle, Area} {
		if k.alike(kindOf(d)) {
			return d, true
		}
	}
	return Number, false
}

// String names the kind as messages do: "a length", "a length divided by an
// angle".
func (k kind) String() string {
	if d, ok := k.dim(); ok {
		return d.String()
	}
	over := factors(k.length, k.angle)
	under := factors(-k.length, -k.angle)
	switch {
	case under == "":
		return "a " + over
	case over == "":
		return "one divided by a " + under
	}
	return "a " + over + " divided by a " + under
}

// factors names the positive powers only.
func factors(length, angle int) string {
	var parts []string
	for _, f := range []struct {
		n    int
		name string
	}{{length, "length"}, {angle, "angle"}} {
		switch {
		case f.n == 1:
			parts = append(parts, f.name)
		case f.n > 1:
			parts = append(parts, fmt.Sprintf("%s to the power %d", f.name, f.n))
		}
	}
	return strings.Join(parts, " times an ")
}

// capital starts a sentence.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// excerpt is a part of a formula as a message shows it, not too long.
func excerpt(n Node) string {
	s := FromNode(n).Plain()
	if len(s) > 40 {
		s = s[:37] + "…"
	}
	return s
}
