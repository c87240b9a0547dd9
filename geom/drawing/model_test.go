package drawing

import (
	"bytes"
	"math"
	"testing"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"gonum.org/v1/gonum/spatial/r3"
)

// readModel reads a model back by a general glTF library.
func readModel(t *testing.T, f *joint.Family) *gltf.Document {
	t.Helper()
	glb, err := Model(f, f.House)
	if err != nil {
		t.Fatalf("Model(%s) = %v", f.ID, err)
	}
	doc := new(gltf.Document)
	if err := gltf.NewDecoder(bytes.NewReader(glb)).Decode(doc); err != nil {
		t.Fatalf("read the model of %s: %v", f.ID, err)
	}
	return doc
}

func triangles(t *testing.T, doc *gltf.Document, mesh int) [][3]float32 {
	t.Helper()
	for _, p := range doc.Meshes[mesh].Primitives {
		if p.Mode != gltf.PrimitiveTriangles {
			continue
		}
		at, err := modeler.ReadPosition(doc, doc.Accessors[p.Attributes[gltf.POSITION]], nil)
		if err != nil {
			t.Fatal(err)
		}
		return at
	}
	t.Fatal("no triangles")
	return nil
}

// The triangles of a part hold as much as its solids, to what single precision
// keeps of sizes up to a few metres, and each side of a triangle is there once
// each way: the skin has no hole.
func TestModelHoldsTheWood(t *testing.T) {
	for _, f := range joint.All() {
		t.Run(f.ID, func(t *testing.T) {
			doc := readModel(t, f)
			parts, err := f.Pieces(f.House)
			if err != nil {
				t.Fatal(err)
			}
			for i, part := range parts {
				node := doc.Nodes[i]
				if node.Name != part.Name {
					t.Errorf("node %d is %q, want %q", i, node.Name, part.Name)
				}
				at := triangles(t, doc, *node.Mesh)
				sides := map[[2][3]float32]int{}
				got, want, size := 0.0, 0.0, 0.0
				for k := 0; k < len(at); k += 3 {
					a, b, c := vec(at[k]), vec(at[k+1]), vec(at[k+2])
					got += geom.Triple(a, b, c) / 6
					size = max(size, geom.Norm(a))
					for j := range 3 {
						sides[[2][3]float32{at[k+j], at[k+(j+1)%3]}]++
					}
				}
				for _, s := range part.Pieces {
					want += s.Volume()
				}
				// A coordinate is off by up to size × 2⁻²⁴, on a skin of a few size².
				if tol := 6 * size * size * size * 0x1p-24; math.Abs(got-want) > tol {
					t.Errorf("%s: triangles hold %g mm³, want %g within %g", part.Name, got, want, tol)
				}
				for side, n := range sides {
					if back := sides[[2][3]float32{side[1], side[0]}]; back != n {
						t.Fatalf("%s: the side %v is there %d times, and %d times the other way", part.Name, side, n, back)
					}
				}
			}
		})
	}
}

func vec(p [3]float32) geom.Vec {
	return geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
}

// A normal stands square on its triangle and looks outward.
func TestModelNormals(t *testing.T) {
	for _, f := range joint.All() {
		doc := readModel(t, f)
		for _, mesh := range doc.Meshes {
			for _, p := range mesh.Primitives {
				if p.Mode != gltf.PrimitiveTriangles {
					continue
				}
				at, err := modeler.ReadPosition(doc, doc.Accessors[p.Attributes[gltf.POSITION]], nil)
				if err != nil {
					t.Fatal(err)
				}
				normals, err := modeler.ReadNormal(doc, doc.Accessors[p.Attributes[gltf.NORMAL]], nil)
				if err != nil {
					t.Fatal(err)
				}
				for k := 0; k < len(at); k += 3 {
					a, b, c := vec(at[k]), vec(at[k+1]), vec(at[k+2])
					n := geom.Cross(r3.Sub(b, a), r3.Sub(c, a))
					if cos := geom.Dot(n, vec(normals[k])); geom.Norm(n) > 1 && cos < 0.999*geom.Norm(n) {
						t.Fatalf("%s, %s: normal %v on a triangle that looks along %v", f.ID, mesh.Name, normals[k], n)
					}
				}
			}
		}
	}
}

// Pulled out, the parts of a joint that slides home share no wood, and some
// part moves.
func TestModelSlides(t *testing.T) {
	for _, f := range joint.All() {
		if !hasPicture(f, apartBy) {
			continue
		}
		doc := readModel(t, f)
		parts, err := f.Pieces(f.House)
		if err != nil {
			t.Fatal(err)
		}
		moves := false
		for i := range parts {
			slide := doc.Nodes[i].Extras.(map[string]any)["slide"].([]any)
			way := geom.Vec{X: slide[0].(float64), Y: slide[1].(float64), Z: slide[2].(float64)}
			moves = moves || geom.Norm(way) > 10
			for n := range parts[i].Pieces {
				parts[i].Pieces[n] = parts[i].Pieces[n].Moved(way)
			}
		}
		if !moves {
			t.Errorf("%s: no part moves by more than 10 mm", f.ID)
		}
		for i, a := range parts {
			for _, b := range parts[i+1:] {
				for _, p := range a.Pieces {
					for _, q := range b.Pieces {
						if both, ok := p.Intersect(q, 1e-11); ok && both.Volume() > 1e-6 {
							t.Errorf("%s: apart, %s and %s share %g mm³", f.ID, a.Name, b.Name, both.Volume())
						}
					}
				}
			}
		}
	}
}

// The house blank's V joint has its marks: the loop has six lines and the V
// two, on the part whose face and edge everything is measured from.
func TestModelMarks(t *testing.T) {
	f, _ := joint.Lookup("head-v-joint")
	parts, err := f.Pieces(f.House)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range parts {
		want := map[string]int{"neck": 16}[p.Name]
		if got := len(datumMarks(p)); got != want {
			t.Errorf("datumMarks(%s) = %d ends, want %d", p.Name, got, want)
		}
	}
}

func TestModelIsTheSameAgain(t *testing.T) {
	for _, f := range joint.All() {
		a, errA := Model(f, f.House)
		b, errB := Model(f, f.House)
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("Model(%s) twice: %v, %v, equal %t", f.ID, errA, errB, bytes.Equal(a, b))
		}
	}
}

func BenchmarkModel(b *testing.B) {
	f, _ := joint.Lookup("head-v-joint")
	for b.Loop() {
		if _, err := Model(f, f.House); err != nil {
			b.Fatal(err)
		}
	}
}
