package joint

import (
	"math"
	"math/rand/v2"
	"testing"

	"arrisbook/geom"
)

func shared(a, b []geom.Solid) float64 {
	sum := 0.0
	for _, p := range a {
		for _, q := range b {
			if both, ok := p.Intersect(q, 1e-11); ok {
				sum += both.Volume()
			}
		}
	}
	return sum
}

func within(pieces []geom.Solid, v geom.Vec, tol float64) bool {
	return count(pieces, v, tol) > 0
}

// count is how many of the pieces hold the point.
func count(pieces []geom.Solid, v geom.Vec, tol float64) int {
	n := 0
	for _, p := range pieces {
		if p.Contains(v, tol) {
			n++
		}
	}
	return n
}

func volume(pieces []geom.Solid) float64 {
	sum := 0.0
	for _, p := range pieces {
		sum += p.Volume()
	}
	return sum
}

// span is the box around all the parts.
func span(parts []Part) (lo, hi geom.Vec) {
	inf := math.Inf(1)
	lo, hi = geom.Vec{X: inf, Y: inf, Z: inf}, geom.Vec{X: -inf, Y: -inf, Z: -inf}
	for _, part := range parts {
		for _, piece := range part.Pieces {
			for _, v := range piece.Vertices() {
				lo = geom.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y), Z: min(lo.Z, v.Z)}
				hi = geom.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y), Z: max(hi.Z, v.Z)}
			}
		}
	}
	return lo, hi
}

// Random points are an independent judge, which knows of no meshes: put
// together as they should be, no point lies in two parts or in two pieces of
// one, and as many points fall into a part as its volume says, within five
// standard deviations.
func TestPartsAsTheyShouldBe(t *testing.T) {
	const blanks, points = 4, 12000
	eachFamily(t, func(t *testing.T, f *Family, _ testFamily) {
		if f.parts == nil {
			t.Skip("a family without parts")
		}
		rng := rand.New(rand.NewPCG(51, 52))
		for range blanks {
			p := randomBlankOf(f, rng)
			parts, err := f.Pieces(p)
			if err != nil {
				t.Fatal(err)
			}
			if len(parts) < 2 {
				t.Fatalf("%d parts, want at least two", len(parts))
			}
			for i, part := range parts {
				for _, other := range parts[i+1:] {
					if v := shared(part.Pieces, other.Pieces); v > 1e-6 {
						t.Errorf("%v: %s and %s share %g mm³", p, part.Name, other.Name, v)
					}
				}
			}
			lo, hi := span(parts)
			hits := make([]int, len(parts))
			for range points {
				v := geom.Vec{X: lo.X + (hi.X-lo.X)*rng.Float64(), Y: lo.Y + (hi.Y-lo.Y)*rng.Float64(), Z: lo.Z + (hi.Z-lo.Z)*rng.Float64()}
				in := 0
				for i, part := range parts {
					n := count(part.Pieces, v, -1e-9)
					hits[i] += min(n, 1)
					in += n
				}
				if in > 1 {
					t.Fatalf("%v: point %v is in %d pieces", p, v, in)
				}
			}
			box := (hi.X - lo.X) * (hi.Y - lo.Y) * (hi.Z - lo.Z)
			for i, part := range parts {
				share := volume(part.Pieces) / box
				if dev := math.Sqrt(share * (1 - share) / points); math.Abs(float64(hits[i])/points-share) > 5*dev {
					t.Errorf("%v: %d of %d points are in the %s, want %.4f of them", p, hits[i], points, part.Name, share)
				}
			}
		}
	})
}

// Whatever numbers are submitted, the pieces of one part never overlap, and
// what parts share is what the consequences call interference.
func TestPartsAsSubmitted(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		if f.parts == nil {
			t.Skip("a family without parts")
		}
		rng := rand.New(rand.NewPCG(59, 60))
		made := 0
		for range 150 {
			p := randomBlankOf(f, rng)
			l, _ := f.Layout(p)
			s := randomSlipOf(f, rng, l.Quantities)
			parts, err := f.MadePieces(p, s)
			if err != nil {
				continue
			}
			made++
			for _, part := range parts {
				for i, piece := range part.Pieces {
					if v := shared([]geom.Solid{piece}, part.Pieces[i+1:]); v > 1e-6 {
						t.Errorf("%v with %v: pieces of the %s share %g mm³", p, s, part.Name, v)
					}
				}
			}
			if tf.collide == nil {
				continue
			}
			fit, _ := f.Fit(p, s)
			collide := tf.collide(fit)
			sum := 0.0
			for i, part := range parts {
				for _, other := range parts[i+1:] {
					sum += shared(part.Pieces, other.Pieces)
				}
			}
			if collide <= 0 && sum > 1e-6 {
				t.Errorf("%v with %v: the parts share %g mm³, want nothing", p, s, sum)
			}
			if collide > 0.01 && sum < 1e-3 && tf.exactly {
				t.Errorf("%v with %v: the parts share %g mm³, want more: %g mm must go", p, s, sum, collide)
			}
		}
		if made < 75 {
			t.Errorf("parts from %d of 150 wrong sheets, want at least half", made)
		}
	})
}
