package drawing

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// box is a block of wood for tests.
func box(t testing.TB, lo, hi geom.Vec) geom.Solid {
	t.Helper()
	s, ok := geom.Box(lo, hi)
	if !ok {
		t.Fatalf("no box from %v to %v", lo, hi)
	}
	return s
}

func count(es []edge) (visible, hidden int) {
	for _, e := range es {
		if e.hidden {
			hidden++
		} else {
			visible++
		}
	}
	return visible, hidden
}

// Pictures that anybody can count.
func TestProjectByHand(t *testing.T) {
	cube := box(t, geom.Vec{}, geom.Vec{X: 10, Y: 10, Z: 10})
	right := box(t, geom.Vec{X: 10}, geom.Vec{X: 20, Y: 10, Z: 10})
	low := box(t, geom.Vec{X: 10}, geom.Vec{X: 20, Y: 10, Z: 5})
	behind := box(t, geom.Vec{X: 2, Y: 20, Z: 2}, geom.Vec{X: 8, Y: 30, Z: 8})
	beside := box(t, geom.Vec{X: 5, Y: 20, Z: 2}, geom.Vec{X: 15, Y: 30, Z: 8})
	afar := box(t, geom.Vec{X: 10, Y: 20, Z: 2}, geom.Vec{X: 15, Y: 30, Z: 8})
	turned := corner(30, 35)
	for _, c := range []struct {
		name            string
		parts           []joint.Part
		cam             camera
		visible, hidden int
	}{
		{"a cube from its face", []joint.Part{{Pieces: []geom.Solid{cube}}}, fromFace, 4, 0},
		{"a cube from a corner", []joint.Part{{Pieces: []geom.Solid{cube}}}, turned, 9, 3},
		{"two flush pieces of one part", []joint.Part{{Pieces: []geom.Solid{cube, right}}}, fromEdge, 4, 0},
		{"two flush pieces of one part from a corner", []joint.Part{{Pieces: []geom.Solid{cube, right}}}, turned, 9, 3},
		{"two parts: the joint line is drawn", []joint.Part{{Pieces: []geom.Solid{cube}}, {Pieces: []geom.Solid{right}}}, fromEdge, 5, 0},
		{"a step in one part", []joint.Part{{Pieces: []geom.Solid{cube, low}}}, fromEdge, 6, 0},
		{"a step in one part from above", []joint.Part{{Pieces: []geom.Solid{cube, low}}}, fromFace, 5, 0},
		{"all hidden behind", []joint.Part{{Pieces: []geom.Solid{cube}}, {Pieces: []geom.Solid{behind}}}, fromEdge, 4, 4},
		{"half hidden behind", []joint.Part{{Pieces: []geom.Solid{cube}}, {Pieces: []geom.Solid{beside}}}, fromEdge, 7, 3},
		{"an arris right behind a seam", []joint.Part{{Pieces: []geom.Solid{cube, right}}, {Pieces: []geom.Solid{afar}}}, fromEdge, 4, 4},
		{"an arris right behind an outline", []joint.Part{{Pieces: []geom.Solid{cube}}, {Pieces: []geom.Solid{afar}}}, fromEdge, 7, 0},
		{"in front of everything", []joint.Part{{Pieces: []geom.Solid{cube}}, {Pieces: []geom.Solid{behind}}}, look(geom.Vec{Y: 1}, geom.Vec{Z: 1}), 8, 0},
	} {
		es := project(c.parts, c.cam)
		if v, h := count(es); v != c.visible || h != c.hidden {
			t.Errorf("%s: %d visible and %d hidden lines, want %d and %d\n%v", c.name, v, h, c.visible, c.hidden, es)
		}
	}
}

// ray is the slow way to know what is hidden: does anything stand between a
// point and the reader? Each half-space by itself gives the stretch of the ray
// inside it.
func blocked(parts []joint.Part, v, toward geom.Vec, clear float64) bool {
	for _, part := range parts {
		for _, s := range part.Pieces {
			from, to := clear, math.Inf(1)
			for _, f := range s.Faces() {
				rate, gap := geom.Dot(f.Plane.N, toward), -f.Plane.Dist(v)-clear
				switch {
				case math.Abs(rate) < 1e-12 && gap < 0:
					to = math.Inf(-1)
				case math.Abs(rate) < 1e-12:
				case rate > 0:
					to = math.Min(to, gap/rate)
				default:
					from = math.Max(from, gap/rate)
				}
			}
			if from < to {
				return true
			}
		}
	}
	return false
}

// inSeam says that a ray runs between two pieces of one part: it meets neither,
// but there is no gap to see through.
func inSeam(parts []joint.Part, v geom.Vec, cam camera) bool {
	for _, part := range parts {
		for _, s := range part.Pieces {
			for _, f := range s.Faces() {
				if math.Abs(f.Plane.Dist(v)) > 1e-9 || math.Abs(geom.Dot(f.Plane.N, cam.toward)) > 1e-9 {
					continue
				}
				for _, o := range part.Pieces {
					for _, g := range o.Faces() {
						if math.Abs(g.Plane.Dist(v)) < 1e-9 && geom.Dot(g.Plane.N, f.Plane.N) < -1+1e-9 {
							return true
						}
					}
				}
			}
		}
	}
	return false
}

// Along every arris of every family's parts, from any side, together and
// pulled apart: what a ray finds free is drawn visible there, and what it
// finds blocked is not.
func TestHiddenLinesAgainstRays(t *testing.T) {
	r := rand.New(rand.NewSource(23))
	asked := 0
	for _, f := range joint.All() {
		parts, err := f.Pieces(f.House)
		if err != nil {
			t.Fatal(err)
		}
		for n := 0; n < 12; n++ {
			cam := look(geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}, geom.Vec{Z: 1})
			if n < 3 {
				cam = []camera{fromFace, fromEdge, fromEnd}[n]
			}
			asked += checkRays(t, f.ID+fmt.Sprint(" ", n), parts, cam, r)
		}
	}
	if asked < 5000 {
		t.Errorf("only %d points were asked", asked)
	}
}

func checkRays(t *testing.T, name string, parts []joint.Part, cam camera, r *rand.Rand) (asked int) {
	es := project(parts, cam)
	drawn := func(p pt, hidden bool) bool {
		for _, e := range es {
			if e.hidden == hidden && fromSegment(p, e.a, e.b) < 2e-3 {
				return true
			}
		}
		return false
	}
	for _, part := range parts {
		for _, s := range part.Pieces {
			for _, e := range s.Edges() {
				v := geom.Along(e.A, 0.02+0.96*r.Float64(), r3.Sub(e.B, e.A))
				p := cam.seen(v)
				if cam.seen(e.A).to(cam.seen(e.B)) < 0.1 || !isArris(part, v, e) {
					continue
				}
				asked++
				// A ray that passes an outline within a hundredth of a
				// millimetre is nobody's to decide.
				tight, loose := blocked(parts, v, cam.toward, 1e-5), blocked(parts, v, cam.toward, 1e-2)
				if tight != loose {
					continue
				}
				if !tight && !drawn(p, false) && !inSeam(parts, v, cam) {
					t.Errorf("%s, %s: nothing hides %.4f of an arris, but it is not drawn visible", name, part.Name, v)
				}
				if tight && !drawn(p, true) && !drawn(p, false) {
					t.Errorf("%s, %s: %.4f of an arris is not drawn at all", name, part.Name, v)
				}
			}
		}
	}
	return asked
}

// isArris says by trial that a point of a piece's arris is one of its whole
// part: around it, in a small circle, wood and air change places other than
// across one flat face.
func isArris(part joint.Part, v geom.Vec, e geom.Edge) bool {
	axis, _ := geom.Unit(r3.Sub(e.B, e.A))
	up := geom.Cross(axis, e.Left)
	const steps, small = 720, 0.02
	inside := 0
	changes := 0
	was := false
	for i := 0; i <= steps; i++ {
		sin, cos := math.Sincos(2*math.Pi*float64(i)/steps + 1e-3)
		p := geom.Along(geom.Along(v, small*cos, e.Left), small*sin, up)
		in := false
		for _, s := range part.Pieces {
			in = in || s.Contains(p, 1e-9)
		}
		if i > 0 && in != was {
			changes++
		}
		if in && i < steps {
			inside++
		}
		was = in
	}
	return changes > 2 || changes == 2 && math.Abs(float64(inside)-steps/2) > 2
}

// What is hidden of a picture is what a ray finds hidden: nothing that is
// drawn visible lies behind wood.
func TestVisibleLinesAreFree(t *testing.T) {
	r := rand.New(rand.NewSource(29))
	for _, f := range joint.All() {
		parts, err := f.Pieces(f.House)
		if err != nil {
			t.Fatal(err)
		}
		cam := look(geom.Vec{X: 1 + r.Float64(), Y: -1 - r.Float64(), Z: 1 + r.Float64()}, geom.Vec{Z: 1})
		for nearlyEdgeOn(parts, cam) {
			cam = look(geom.Vec{X: 1 + r.Float64(), Y: -1 - r.Float64(), Z: 1 + r.Float64()}, geom.Vec{Z: 1})
		}
		for _, e := range project(parts, cam) {
			p := e.a.add(e.b.sub(e.a).times(0.03 + 0.94*r.Float64()))
			if free := freeArris(parts, cam, p); free == e.hidden {
				t.Errorf("%s: a line at %.3f is drawn hidden %v, but an arris lies free there: %v", f.ID, p, e.hidden, free)
			}
		}
	}
}

// nearlyEdgeOn says that some face is seen so nearly edge on that a hundredth
// of a degree decides what is before it.
func nearlyEdgeOn(parts []joint.Part, cam camera) bool {
	for _, part := range parts {
		for _, s := range part.Pieces {
			for _, f := range s.Faces() {
				if math.Abs(geom.Dot(f.Plane.N, cam.toward)) < 2e-3 {
					return true
				}
			}
		}
	}
	return false
}

// freeArris says whether any arris that is seen at p has nothing before it.
func freeArris(parts []joint.Part, cam camera, p pt) bool {
	for _, part := range parts {
		for _, s := range part.Pieces {
			for _, e := range s.Edges() {
				a, b := cam.seen(e.A), cam.seen(e.B)
				if fromSegment(p, a, b) > 1e-4 || a.to(b) < 1e-6 {
					continue
				}
				v := geom.Along(e.A, a.to(p)/a.to(b), r3.Sub(e.B, e.A))
				if isArris(part, v, e) && !blocked(parts, v, cam.toward, 1e-5) {
					return true
				}
			}
		}
	}
	return false
}

func BenchmarkProject(b *testing.B) {
	for _, f := range joint.All() {
		parts, err := f.Pieces(f.House)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(f.ID, func(b *testing.B) {
			for b.Loop() {
				project(parts, corner(30, 35))
			}
		})
	}
}
