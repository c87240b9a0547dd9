package drawing

import (
	"fmt"
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// Model is a joint as a glTF 2.0 binary file: a node for each part in its
// place in the finished joint, with its arrises as lines, and how it is pulled
// out of there ("slide" in the node's extras, in millimetres). The same sizes
// give the same bytes. It is the true shape, so before a key is released only
// the family's house blank may be shown this way.
//
// Parts are drawn in the joint's own millimetres, z up; the one node above
// them turns y up and makes metres of them, as glTF wants.
//
// The error is that of joint.Family.Pieces, where the parts cannot be made.
func Model(f *joint.Family, sizes joint.Values) ([]byte, error) {
	l, err := f.Layout(sizes)
	if err != nil {
		return nil, fmt.Errorf("model of %s: %w", f.ID, err)
	}
	parts, err := f.Pieces(sizes)
	if err != nil {
		return nil, fmt.Errorf("model of %s: %w", f.ID, err)
	}
	m := modeller{wood: newWood(parts, fromFace)}
	m.doc.Asset = gltfAsset{Version: "2.0", Generator: "Arrisbook"}
	for _, tone := range woodTones {
		m.material("wood", tone[0], tone[1], tone[2])
	}
	m.ink = m.material("arris", 0.02, 0.025, 0.03)
	slides := make([]geom.Vec, len(parts))
	if hasPicture(f, apartBy) {
		slides = ways(f.ID, parts, l)
	}
	half := math.Sqrt(0.5)
	root := gltfNode{Name: f.Title, Rotation: &[4]float64{-half, 0, 0, half}, Scale: &[3]float64{0.001, 0.001, 0.001}}
	for i, part := range parts {
		root.Children = append(root.Children, i)
		m.part(i, part, slides[i])
	}
	m.doc.Nodes = append(m.doc.Nodes, root)
	m.doc.Scenes = []gltfScene{{Name: f.Title, Nodes: []int{len(parts)}}}
	return m.bytes()
}

// woodTones colour neighbouring parts differently: light and dark wood, far
// enough apart to tell without colour.
var woodTones = [][3]float64{{0.86, 0.78, 0.62}, {0.55, 0.43, 0.30}}

// modeller puts parts into a document.
type modeller struct {
	gltfWriter
	wood *wood
	ink  int // material of lines
}

// part adds one part: its faces, its arrises and the marks of its reference
// face and edge.
func (m *modeller) part(n int, p joint.Part, slide geom.Vec) {
	mesh := len(m.doc.Meshes)
	corners, normals := faces(p)
	lines := m.arrises(n)
	if n == 0 {
		// The catalogue lays the first part in the frame of its own blank; the
		// others lie as the joint puts them.
		lines = append(lines, datumMarks(p)...)
	}
	prims := []gltfPrimitive{
		{Attributes: map[string]int{"POSITION": m.vectors(corners, true), "NORMAL": m.vectors(normals, false)}, Material: n % len(woodTones), Mode: gltfTriangles},
		{Attributes: map[string]int{"POSITION": m.vectors(lines, true)}, Material: m.ink, Mode: gltfLines},
	}
	m.doc.Meshes = append(m.doc.Meshes, gltfMesh{Name: p.Name, Primitives: prims})
	m.doc.Nodes = append(m.doc.Nodes, gltfNode{Name: p.Name, Mesh: &mesh, Extras: &gltfExtras{Slide: [3]float64{slide.X, slide.Y, slide.Z}}})
}

// faces cuts the faces of all pieces of a part into triangles, anticlockwise
// seen from outside, with the face's normal at every corner.
func faces(p joint.Part) (corners, normals []geom.Vec) {
	for _, s := range p.Pieces {
		for _, f := range s.Faces() {
			for i := 2; i < len(f.Corners); i++ {
				corners = append(corners, f.Corners[0], f.Corners[i-1], f.Corners[i])
				normals = append(normals, f.Plane.N, f.Plane.N, f.Plane.N)
			}
		}
	}
	return corners, normals
}

// arrises are the part's lines, two ends each, without the seams of its pieces.
func (m *modeller) arrises(part int) []geom.Vec {
	var out []geom.Vec
	for i := range m.wood.pieces {
		p := &m.wood.pieces[i]
		if p.part != part {
			continue
		}
		for _, e := range p.arrises {
			run := r3.Sub(e.B, e.A)
			for _, s := range m.wood.real(i, e) {
				out = append(out, geom.Along(e.A, s.from, run), geom.Along(e.A, s.to, run))
			}
		}
	}
	return out
}

// datumMarks are the trade's marks on the reference face (a loop whose tail
// runs to the edge) and the reference edge (a V at the same place), as pairs
// of ends. They stand in the middle of the longest arris between a piece's
// face at z = 0 that looks up and its edge that looks along −y, as blanks lie in
// the catalogue; a part without such an arris has none.
func datumMarks(p joint.Part) []geom.Vec {
	a, b, ok := datumArris(p)
	if !ok {
		return nil
	}
	run := r3.Sub(b, a)
	mid := geom.Along(a, 0.5, run)
	k := math.Min(geom.Norm(run)/4, 12) // half the mark's width, mm
	x := r3.Scale(k/geom.Norm(run), run)
	// A hair off the wood, so that the lines are not lost in the surface.
	const off = 0.02
	face := func(u, v float64) geom.Vec { return r3.Add(geom.Along(mid, u, x), geom.Vec{Y: v * k, Z: off}) }
	edge := func(u, v float64) geom.Vec { return r3.Add(geom.Along(mid, u, x), geom.Vec{Y: -off, Z: -v * k}) }
	loop := []geom.Vec{face(0, 0), face(0.35, 0.7), face(0.3, 1.05), face(0, 1.2), face(-0.3, 1.05), face(-0.35, 0.7), face(0.35, 0.2)}
	vee := []geom.Vec{edge(-0.4, 0.9), edge(0, 0), edge(0.4, 0.9)}
	var out []geom.Vec
	for _, line := range [][]geom.Vec{loop, vee} {
		for i := 1; i < len(line); i++ {
			out = append(out, line[i-1], line[i])
		}
	}
	return out
}

func datumArris(p joint.Part) (a, b geom.Vec, ok bool) {
	up, front := geom.Vec{Z: 1}, geom.Vec{Y: -1}
	is := func(n, m geom.Vec) bool { return geom.Dot(n, m) > 1-touch }
	for _, s := range p.Pieces {
		for _, e := range s.Edges() {
			between := is(e.Left, up) && is(e.Right, front) || is(e.Right, up) && is(e.Left, front)
			at := math.Abs(e.A.Z)+math.Abs(e.B.Z) < touch
			if between && at && geom.Norm(r3.Sub(e.B, e.A)) > geom.Norm(r3.Sub(b, a)) {
				a, b, ok = e.A, e.B, true
			}
		}
	}
	return a, b, ok
}
