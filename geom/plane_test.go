package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// near says that two numbers agree to 1e-12, relative where they are large.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*max(1, math.Abs(a), math.Abs(b)) }

func randomVec(rng *rand.Rand, size float64) Vec {
	return r3.Scale(size, Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
}

func randomMotion(rng *rand.Rand) Motion {
	return Motion{Axis: randomVec(rng, 1), Turn: Deg(rng.Float64() * 360), Shift: randomVec(rng, 50)}
}

func TestDihedralAndBevel(t *testing.T) {
	face := Plane{N: Vec{Z: 1}}
	for _, deg := range []float64{-80, -30, -0.001, 0, 1e-6, 3, 45, 89} {
		// A cut across the blank that leans by deg, its normal going down as
		// it leans, so that the wood's corner gets sharper.
		sin, cos := Deg(deg).SinCos()
		cut, _ := NewPlane(Vec{X: cos, Z: -sin}, Vec{X: 10})
		if got, ok := FromSquare(face, cut); !ok || !near(got.Degrees(), deg) {
			t.Errorf("FromSquare at %g = %g %v, want %g", deg, got.Degrees(), ok, deg)
		}
		if got, ok := Dihedral(face, cut); !ok || !near(got.Degrees(), 90-deg) {
			t.Errorf("Dihedral at %g = %g %v, want %g", deg, got.Degrees(), ok, 90-deg)
		}
	}
	for _, deg := range []float64{0, 5, 45, 90} {
		sin, cos := Deg(deg).SinCos()
		cut, _ := NewPlane(Vec{X: sin, Y: -cos, Z: 0.4}, Vec{})
		if got, ok := Bevel(face, cut, Vec{X: 1}); !ok || !near(got.Degrees(), deg) {
			t.Errorf("Bevel at %g = %g %v, want %g", deg, got.Degrees(), ok, deg)
		}
	}
	if _, ok := Bevel(face, face.Flip(), Vec{X: 1}); ok {
		t.Error("Bevel of a face on itself: ok, want none")
	}
}

func TestMeasurementsDoNotChangeUnderRigidMotion(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for i := 0; i < 500; i++ {
		var p [3]Plane
		for j := range p {
			p[j], _ = NewPlane(randomVec(rng, 1), randomVec(rng, 30))
		}
		corner, ok := Corner(p[0], p[1], p[2])
		if !ok || Norm(corner) > 1e3 {
			continue // nearly parallel planes, where rounding is magnified
		}
		m := randomMotion(rng)
		q := [3]Plane{m.Plane(p[0]), m.Plane(p[1]), m.Plane(p[2])}
		moved, _ := Corner(q[0], q[1], q[2])
		if d := Distance(moved, m.Point(corner)); d > 1e-8 {
			t.Errorf("corner %v moved by %v is %g off", corner, m, d)
		}
		before, _ := Dihedral(p[0], p[1])
		after, _ := Dihedral(q[0], q[1])
		if math.Abs(float64(before-after)) > 1e-13 {
			t.Errorf("dihedral %g became %g", before.Degrees(), after.Degrees())
		}
		v := randomVec(rng, 30)
		if got, want := q[0].Dist(m.Point(v)), p[0].Dist(v); math.Abs(got-want) > 1e-11 {
			t.Errorf("distance %g became %g", want, got)
		}
	}
}

func TestMeetLiesInBothPlanes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for i := 0; i < 1000; i++ {
		p, _ := NewPlane(randomVec(rng, 1), randomVec(rng, 30))
		q, _ := NewPlane(randomVec(rng, 1), randomVec(rng, 30))
		l, ok := p.Meet(q)
		if !ok {
			t.Fatalf("random planes %v and %v do not meet", p, q)
		}
		if sine := Norm(Cross(p.N, q.N)); sine < 0.01 {
			continue
		}
		for _, s := range []float64{-20, 0, 35} {
			v := Along(l.At, s, l.Dir)
			if d := max(math.Abs(p.Dist(v)), math.Abs(q.Dist(v))); d > 1e-10 {
				t.Errorf("point of the line is %g off the planes", d)
			}
		}
	}
}

func TestPlaneThroughFacesTheSideItWindsAnticlockwiseFrom(t *testing.T) {
	p, ok := PlaneThrough(Vec{X: 1, Z: 5}, Vec{Y: 1, Z: 5}, Vec{X: -1, Z: 5})
	if want := (Plane{N: Vec{Z: 1}, D: 5}); !ok || p != want {
		t.Errorf("PlaneThrough = %v %v, want %v", p, ok, want)
	}
}

func TestDegenerateInputIsRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	zero := Plane{}
	top := Plane{N: Vec{Z: 1}}
	refused := map[string]bool{}
	note := func(name string, ok bool) { refused[name] = !ok }
	var ok bool
	_, ok = Unit(Vec{})
	note("Unit of nothing", ok)
	_, ok = Unit(Vec{X: 1e300})
	note("Unit of a vector too long to square", ok)
	_, ok = Unit(Vec{X: nan, Y: 1})
	note("Unit with NaN", ok)
	_, ok = NewPlane(Vec{Z: 1}, Vec{X: inf})
	note("NewPlane through infinity", ok)
	_, ok = PlaneThrough(Vec{}, Vec{X: 1}, Vec{X: 3})
	note("PlaneThrough points on a line", ok)
	_, ok = PlaneThrough(Vec{}, Vec{}, Vec{X: 3})
	note("PlaneThrough equal points", ok)
	_, ok = top.Meet(top.Shift(3))
	note("Meet of parallel planes", ok)
	_, ok = top.Meet(zero)
	note("Meet with no plane", ok)
	_, ok = Corner(top, top.Flip(), Plane{N: Vec{X: 1}})
	note("Corner of parallel planes", ok)
	_, ok = Corner(Plane{N: Vec{X: 1}}, Plane{N: Vec{Y: 1}}, Plane{N: Vec{X: 0.6, Y: 0.8}, D: 1})
	note("Corner of a prism", ok)
	_, ok = Dihedral(top, zero)
	note("Dihedral with no plane", ok)
	_, ok = NewLine(Vec{X: 1}, Vec{X: 1})
	note("NewLine between equal points", ok)
	_, ok = AngleBetween(Vec{}, Vec{X: 1})
	note("AngleBetween nothing", ok)
	_, ok = AngleOn(Vec{Z: 1}, Vec{Z: 2}, Vec{X: 1})
	note("AngleOn with a vanishing projection", ok)
	_, ok = HalfChord(3, 4)
	note("HalfChord outside", ok)
	_, ok = HalfChord(nan, 0)
	note("HalfChord of NaN", ok)
	_, ok = Box(Vec{}, Vec{X: 1, Y: 1})
	note("Box without thickness", ok)
	_, ok = Box(Vec{}, Vec{X: inf, Y: 1, Z: 1})
	note("Box without end", ok)
	for name, was := range refused {
		if !was {
			t.Errorf("%s: ok, want it refused", name)
		}
	}
}

func TestHalfChord(t *testing.T) {
	for _, c := range []struct{ radius, distance, want float64 }{
		{5, 3, 4}, {5, -4, 3}, {5, 0, 5}, {5, 5, 0}, {1 + 1e-10, 1, math.Sqrt(2e-10)},
	} {
		got, ok := HalfChord(c.radius, c.distance)
		if !ok || math.Abs(got-c.want) > 1e-9*c.want+1e-12 && math.Abs(got-c.want) > 1e-12 {
			t.Errorf("HalfChord(%g, %g) = %g %v, want %g", c.radius, c.distance, got, ok, c.want)
		}
	}
}
