package drawing

import "arrisbook/geom/joint"

// Flat is a full-size layout of one or more faces of a blank, to be printed
// at true scale and glued to the wood. It shows true shape and so gives the
// key away: it is for wood whose key is released, or for whoever is cleared.
type Flat struct {
	// ID is unique among the flats of one blank: "neck-face". Lower case
	// letters, digits and hyphens.
	ID    string
	Title string // "The neck’s face and edge"
	// Says is how it goes on the wood, in one or two sentences: which edge of
	// the paper's drawing lies on which arris, where it folds.
	Says string
	// W and H are its size in millimetres of wood and of paper alike.
	W, H float64

	items []item // from the left and top, in units of a quarter millimetre
}

// Flats draws the full-size layouts of a blank, in the order in which they are
// wanted at the bench. There are none, and no error, where a family has no
// flat face to glue one on. A blank that cannot be built is refused.
func Flats(f *joint.Family, blank joint.Values) ([]Flat, error) {
	p, l, err := paintBuildable(f, blank)
	if err != nil {
		return nil, err
	}
	if p.template == nil {
		return []Flat{}, nil
	}
	return p.template(l), nil
}

// fullSize is what a millimetre of wood is on the paper of a flat.
const fullSize = unitsPerMM

// flat collects the marks of one Flat. It is a canvas at full size: at gives
// the paper's point for millimetres of wood, y up, and every helper of canvas
// works on such points. What lines mean on a template:
//
//	visible  a line to saw, pare or knife to
//	narrow   the blank's own arrises, dimensions, hatching
//	hidden   the arris to fold over, from a face to an edge or an end
//	centre   centre lines
//	phantom  wood beyond the finished piece
type flat struct {
	canvas
	scale
}

// newFlat starts a template.
func newFlat() *flat { return &flat{scale: scale{k: fullSize}} }

// waste hatches what is cut away, wider than on a small drawing: printers
// smear what is too close, and glue shows through less ink.
func (f *flat) waste(outlines ...[]pt) { f.hatchEvery(2*hatchStep, outlines...) }

// along writes words beside the line from a to b, on its left-hand side as
// one goes from a to b, readable from the bottom or from the right.
func (f *flat) along(a, b pt, words string) {
	u := b.sub(a).unit()
	side := u.left()
	at := a.mid(b).add(side.times(textOver))
	turn := readable(u)
	if up := heading(-turn * radian).left(); up.dot(side) < 0 {
		at = a.mid(b).add(side.times(textOver + 0.76*sizeText))
	}
	f.put(text{at: at, turn: turn, size: sizeText, words: words})
}

// finish closes the template: everything on it moved so that its marks begin
// at the left and at the top.
func (f *flat) finish(id, title, says string) Flat {
	f.settle()
	lo, hi := f.extent()
	return Flat{
		ID: id, Title: title, Says: says,
		W: (hi.x - lo.x) / fullSize, H: (hi.y - lo.y) / fullSize,
		items: f.byLayer(pt{}.sub(lo)),
	}
}
