package drawing

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"arrisbook/geom"
)

// The structure of a glTF 2.0 document (Khronos Group, ISO/IEC 12113:2022), as
// far as parts of wood need it.
type (
	gltfDocument struct {
		Asset       gltfAsset        `json:"asset"`
		Scene       int              `json:"scene"`
		Scenes      []gltfScene      `json:"scenes"`
		Nodes       []gltfNode       `json:"nodes"`
		Meshes      []gltfMesh       `json:"meshes"`
		Materials   []gltfMaterial   `json:"materials"`
		Accessors   []gltfAccessor   `json:"accessors"`
		BufferViews []gltfBufferView `json:"bufferViews"`
		Buffers     []gltfBuffer     `json:"buffers"`
	}
	gltfAsset struct {
		Version   string `json:"version"`
		Generator string `json:"generator"`
	}
	gltfScene struct {
		Name  string `json:"name"`
		Nodes []int  `json:"nodes"`
	}
	gltfNode struct {
		Name     string      `json:"name"`
		Children []int       `json:"children,omitempty"`
		Mesh     *int        `json:"mesh,omitempty"`
		Rotation *[4]float64 `json:"rotation,omitempty"`
		Scale    *[3]float64 `json:"scale,omitempty"`
		Extras   *gltfExtras `json:"extras,omitempty"`
	}
	// gltfExtras are for the page that shows the model.
	gltfExtras struct {
		// Slide is how far the part is pulled out of its place, in the part's
		// own millimetres: the way home, the other way round.
		Slide [3]float64 `json:"slide"`
	}
	gltfMesh struct {
		Name       string          `json:"name"`
		Primitives []gltfPrimitive `json:"primitives"`
	}
	gltfPrimitive struct {
		Attributes map[string]int `json:"attributes"`
		Material   int            `json:"material"`
		Mode       int            `json:"mode"`
	}
	gltfMaterial struct {
		Name        string  `json:"name"`
		PBR         gltfPBR `json:"pbrMetallicRoughness"`
		DoubleSided bool    `json:"doubleSided"`
	}
	gltfPBR struct {
		Color     [4]float64 `json:"baseColorFactor"`
		Metallic  float64    `json:"metallicFactor"`
		Roughness float64    `json:"roughnessFactor"`
	}
	gltfAccessor struct {
		BufferView    int       `json:"bufferView"`
		ComponentType int       `json:"componentType"`
		Count         int       `json:"count"`
		Type          string    `json:"type"`
		Min           []float32 `json:"min,omitempty"`
		Max           []float32 `json:"max,omitempty"`
	}
	gltfBufferView struct {
		Buffer     int `json:"buffer"`
		ByteOffset int `json:"byteOffset"`
		ByteLength int `json:"byteLength"`
		Target     int `json:"target"`
	}
	gltfBuffer struct {
		ByteLength int `json:"byteLength"`
	}
)

// Numbers that glTF gives a meaning.
const (
	gltfLines       = 1
	gltfTriangles   = 4
	gltfFloat       = 5126
	gltfArrayBuffer = 34962
	gltfMagic       = 0x46546C67
	gltfChunkJSON   = 0x4E4F534A
	gltfChunkBinary = 0x004E4942
)

// gltfWriter gathers a document and its numbers.
type gltfWriter struct {
	doc gltfDocument
	bin bytes.Buffer
}

// vectors keeps a list of vectors and gives its accessor. The bounds are
// those of the numbers as kept, in single precision.
func (w *gltfWriter) vectors(vs []geom.Vec, bounds bool) int {
	inf := float32(math.Inf(1))
	lo, hi := []float32{inf, inf, inf}, []float32{-inf, -inf, -inf}
	from := w.bin.Len()
	for _, v := range vs {
		for i, x := range [3]float32{float32(v.X), float32(v.Y), float32(v.Z)} {
			lo[i], hi[i] = min(lo[i], x), max(hi[i], x)
			w.bin.Write(binary.LittleEndian.AppendUint32(nil, math.Float32bits(x)))
		}
	}
	a := gltfAccessor{BufferView: len(w.doc.BufferViews), ComponentType: gltfFloat, Count: len(vs), Type: "VEC3"}
	if bounds {
		a.Min, a.Max = lo, hi
	}
	w.doc.BufferViews = append(w.doc.BufferViews, gltfBufferView{ByteOffset: from, ByteLength: w.bin.Len() - from, Target: gltfArrayBuffer})
	w.doc.Accessors = append(w.doc.Accessors, a)
	return len(w.doc.Accessors) - 1
}

// material adds a matt colour.
func (w *gltfWriter) material(name string, r, g, b float64) int {
	w.doc.Materials = append(w.doc.Materials, gltfMaterial{Name: name, PBR: gltfPBR{Color: [4]float64{r, g, b, 1}, Roughness: 1}})
	return len(w.doc.Materials) - 1
}

// bytes is the whole as one binary file: a header, the document, the numbers.
func (w *gltfWriter) bytes() ([]byte, error) {
	w.doc.Buffers = []gltfBuffer{{ByteLength: w.bin.Len()}}
	text, err := json.Marshal(w.doc)
	if err != nil {
		return nil, fmt.Errorf("write the model: %w", err)
	}
	for len(text)%4 != 0 {
		text = append(text, ' ')
	}
	numbers := w.bin.Bytes() // always whole fours
	out := make([]byte, 0, 28+len(text)+len(numbers))
	for _, x := range []int{gltfMagic, 2, 28 + len(text) + len(numbers), len(text), gltfChunkJSON} {
		out = binary.LittleEndian.AppendUint32(out, uint32(x))
	}
	out = append(out, text...)
	for _, x := range []int{len(numbers), gltfChunkBinary} {
		out = binary.LittleEndian.AppendUint32(out, uint32(x))
	}
	return append(out, numbers...), nil
}
