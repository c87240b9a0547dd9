package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// hoop is a ring of equal sides that lean outward, a box or a vessel, with
// what its drawings have in common. Its first side faces +x; everything is
// taken from the solids.
type hoop struct {
	parts           []joint.Part
	thickness, lean float64 // lean in radians
	sides           float64
	outside, inside geom.Plane
	// The corners of the first side's outside face, seen from outside.
	lowLeft, lowRight, highLeft, highRight geom.Vec
	slope                                  geom.Vec // up the face
}

// newHoop builds a ring's parts. ok is false where there are none to draw.
func newHoop(id string, l joint.Layout, lean, sides float64) (h hoop, ok bool) {
	f, _ := joint.Lookup(id)
	parts, err := f.Pieces(l.Parameters)
	if err != nil || len(parts) < 3 {
		return hoop{}, false
	}
	h = hoop{parts: parts, thickness: l.Parameters["thickness"], lean: lean * radian, sides: sides}
	sin, cos := math.Sincos(h.lean)
	h.slope = geom.Vec{X: sin, Z: cos}
	out := geom.Vec{X: cos, Z: -sin}
	for _, face := range parts[0].Pieces[0].Faces() {
		switch d := geom.Dot(face.Plane.N, out); {
		case d > 1-touch:
			h.outside, ok = face.Plane, len(face.Corners) == 4
			h.corners(face.Corners)
		case d < touch-1:
			h.inside = face.Plane
		}
	}
	return h, ok
}

// corners sorts the four corners of the outside face.
func (h *hoop) corners(g geom.Polygon) {
	g = slices.Clone(g)
	slices.SortFunc(g, func(a, b geom.Vec) int { return cmp.Compare(a.Z, b.Z) })
	if len(g) != 4 {
		return
	}
	h.lowLeft, h.lowRight, h.highLeft, h.highRight = g[0], g[1], g[2], g[3]
	if h.lowLeft.Y > h.lowRight.Y {
		h.lowLeft, h.lowRight = h.lowRight, h.lowLeft
	}
	if h.highLeft.Y > h.highRight.Y {
		h.highLeft, h.highRight = h.highRight, h.highLeft
	}
}

func between(a, b geom.Vec) geom.Vec { return r3.Scale(0.5, r3.Add(a, b)) }

// sideFace is the camera that sees the first side's outside face square.
func (h hoop) sideFace() camera { return look(h.outside.N, h.slope) }

// hoopFigures are a ring's lesson figures beside its sheet views: the whole
// ring from above, and the last joint when every bevel is a little out.
type hoopFigures struct {
	sheet func(l joint.Layout, s Sheet) []sheetView
	build func(l joint.Layout) (hoopCorner, bool)
	what  string // "sides"
	bevel string // the quantity that is out
}

// bevelOut is how far the bevel is out in the picture of the last joint, in
// degrees: what a bevel set by eye may be.
const bevelOut = 0.5

func (h hoopFigures) draw(f *joint.Family, l joint.Layout, name string) (View, error) {
	k, ok := h.build(l)
	switch {
	case ok && name == "plan":
		return k.planView(h.what), nil
	case ok && name == "last-joint":
		return h.lastJoint(f, l, k)
	}
	return sheetFigure(h.sheet)(f, l, name)
}

// lastJoint is what is left of the errors of all bevels where all joints but
// one are pulled tight.
func (h hoopFigures) lastJoint(f *joint.Family, l joint.Layout, k hoopCorner) (View, error) {
	fit, err := f.Fit(l.Parameters, joint.Values{h.bevel: l.Quantities[h.bevel] - bevelOut})
	if err != nil {
		return View{}, fmt.Errorf("draw %s: %w", f.ID, err)
	}
	d, err := measuredFit(f, l, fit, hoopFitScale(k.thickness))
	if err != nil {
		return View{}, err
	}
	v := k.fitViews(d)[1]
	v.ID, v.Letter = "figure-last-joint", ""
	v.Title = "The last joint when every bevel is half a degree out"
	return v, nil
}

// planView is the ring from above.
func (h hoop) planView(what string) View {
	c := &canvas{}
	m := scale{k: roomFor(h.parts, fromFace, 230, 230)}
	st := stage{fromFace, m}
	c.surface(st, h.parts)
	o, r := m.at(0, 0), st.on(h.lowRight).x-m.at(0, 0).x
	cross := math.Max(6, 0.3*r)
	c.line(centre, o.sub(pt{cross, 0}), o.add(pt{cross, 0}))
	c.line(centre, o.sub(pt{0, cross}), o.add(pt{0, cross}))
	v := c.view("figure-plan", "", "the ring, seen from above")
	v.Title = "The ring, seen from above"
	v.Desc = "All its " + what + " are alike and lean outward, so the top is wider than the bottom."
	return v
}

// counted says how many sides the ring has, at the end of a leader from p, and
// gives what the caption adds where the drawing has another number.
func (h hoop) counted(c *canvas, p, prefer pt, id, what string) (other string) {
	t := c.of(id)
	if t.text == "" {
		return ""
	}
	c.nameOut(p, prefer, t.text+" "+what)
	if n, err := strconv.ParseFloat(bareValue(t.text), 64); err == nil && n == h.sides {
		return ""
	}
	return "; drawn with another number of " + what + " than yours"
}
