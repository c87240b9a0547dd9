package drawing

import (
	"fmt"
	"math"
	"strings"

	"arrisbook/geom/joint"
)

// fitFace is one mating face as a fit picture draws it: how wide its gap is
// drawn where it is least and most, in units of paper, and what is said there.
// A negative one is an interference, or a step the other way, of that size.
type fitFace struct {
	least, most         float64
	negative            bool
	leastSays, mostSays string
	leastAt, mostAt     string
}

// signed is how far a face stands off where that is most, in units of paper,
// below zero for a negative one.
func (a fitFace) signed() float64 {
	if a.negative {
		return -a.most
	}
	return a.most
}

// fitDrawing is what a family's painter needs for its fit pictures.
type fitDrawing struct {
	faces map[string]fitFace
	what  string  // "Gaps", or "Errors" in a family without
	note  string  // how they are drawn, a sentence
	tells string  // the faces in words, for the description
	band  bool    // told by bands: no figure, and not to which side a number is off
	times float64 // how many times its size a gap is drawn; 0: by its word, or none is left
}

// face finds a mating face. One without a gap, while others have theirs, was
// cut away: it never meets the other piece.
func (d fitDrawing) face(id string) fitFace {
	if a, ok := d.faces[id]; ok {
		return a
	}
	return fitFace{least: widestDrawn, most: widestDrawn, mostSays: "never meets"}
}

// bandWidth is how wide a gap of a fit word is drawn when no figure may be
// told: one width a word, so that equal words give equal pictures.
var bandWidth = map[joint.Word]float64{joint.Tight: 4, joint.Close: 9, joint.Open: 17, joint.Failed: 27}

// FitViews draws how submitted numbers would close, from the house blank,
// with gaps drawn by band: before the key is released, equal bands give equal
// bytes whatever the numbers were. There are no views without gaps, as of
// parts that cannot be made.
func FitViews(f *joint.Family, gaps []Gap) ([]View, error) {
	p, l, err := paint(f, f.House)
	if err != nil {
		return nil, err
	}
	if len(gaps) == 0 {
		return []View{}, nil
	}
	d := fitDrawing{faces: map[string]fitFace{}, note: gapsOf(f) + " drawn by fit word, not to scale.", band: true}
	for _, g := range gaps {
		d.faces[g.Consequence] = banded(g)
	}
	d.tells = strings.Join(tellFaces(f, d), " ")
	return p.fit(l, d), nil
}

// banded turns a band into drawn widths and words.
func banded(g Gap) fitFace {
	a := fitFace{
		least: bandWidth[g.Least], most: bandWidth[g.Most], negative: g.Negative,
		leastSays: g.Least.String(), mostSays: g.Most.String(),
		leastAt: g.LeastAt, mostAt: g.MostAt,
	}
	if !g.Touches {
		if g.Least == g.Most {
			a.leastAt, a.mostAt = "", "" // one word, so one width
		}
		return a
	}
	a.least, a.leastSays = 0, "touches here"
	if g.Most == joint.Tight && (g.LeastAt == "" || g.MostAt == "") {
		a.most, a.leastSays = 0, "" // tight, and it touches all along
	}
	return a
}

// touching is the gap in millimetres below which the wood touches: a tenth of
// what anybody can measure in a joint.
const touching = 0.005

// widestDrawn is the most room a gap gets in a picture.
const widestDrawn = 30.0

// ReleasedFitViews draws how submitted numbers close on the student's own
// blank, after the key is released: with figures, gaps drawn larger than they
// are by a stated factor, and the same views once more in true proportion,
// without figures. There are no views of parts that cannot be made.
func ReleasedFitViews(f *joint.Family, blank joint.Values, fit joint.Fit) ([]View, error) {
	p, l, err := paint(f, blank)
	if err != nil {
		return nil, err
	}
	if fit.Trouble != "" {
		return []View{}, nil
	}
	d, err := measuredFit(f, l, fit, p.scale(l))
	if err != nil {
		return nil, err
	}
	views := p.fit(l, d)
	if d.times <= 1 {
		return views, nil // nothing is drawn larger than it is
	}
	for _, v := range p.fit(l, d.trueProportion()) {
		v.ID += "-true"
		views = append(views, v)
	}
	return views, nil
}

// trueProportion is the same fit with its gaps as wide as they are, and without
// words: there is no room for an arrow in them.
func (d fitDrawing) trueProportion() fitDrawing {
	t := fitDrawing{faces: make(map[string]fitFace, len(d.faces)), note: d.what + " in true proportion.", tells: d.tells, times: 1}
	for id, a := range d.faces {
		a.least, a.most = a.least/d.times, a.most/d.times
		a.leastSays, a.mostSays = "", ""
		t.faces[id] = a
	}
	return t
}

// measuredFit prepares a fit with its figures, at a scale in units of paper
// for a millimetre.
func measuredFit(f *joint.Family, l joint.Layout, fit joint.Fit, k float64) (fitDrawing, error) {
	places, err := f.Places(l.Parameters, fit.Submitted)
	if err != nil {
		return fitDrawing{}, fmt.Errorf("draw %s: %w", f.ID, err)
	}
	drawn := func(o joint.Outcome) bool { return o.Gap || !hasGaps(f) && o.Unit == joint.MM }
	times := enlargement(fit, k, drawn)
	d := fitDrawing{faces: map[string]fitFace{}, what: gapsOf(f), note: enlarged(gapsOf(f), times), times: times}
	for _, o := range fit.Outcomes {
		if drawn(o) {
			d.faces[o.ID] = measuredFace(o, places[o.ID], k*times)
		}
	}
	d.tells = strings.Join(tellFaces(f, d), " ")
	return d, nil
}

// sizeOf is the size of a gap where it is least and most. What lies below zero
// farther than above counts by its depth.
func sizeOf(v joint.Spread) (least, most float64, negative bool) {
	if negative = -v.Min > v.Max; negative {
		v.Min, v.Max = -v.Max, -v.Min
	}
	return math.Max(0, v.Min), math.Max(0, v.Max), negative
}

// leastAt is how far a face stands off where that is least. One whose gap is a
// single size, as large as it gets, touches at its other end.
func leastAt(o joint.Outcome, p joint.Place, least float64) float64 {
	if !o.Spread && p.Least != "" {
		return 0
	}
	return least
}

// gapsOf is what a family's fit pictures draw.
func gapsOf(f *joint.Family) string {
	if hasGaps(f) {
		return "Gaps"
	}
	return "Errors"
}

// enlarged tells the factor; 0 means that there is nothing to draw.
func enlarged(what string, times float64) string {
	if times == 0 {
		return "No " + strings.ToLower(strings.TrimSuffix(what, "s")) + " is left."
	}
	return fmt.Sprintf("%s drawn %s times their size.", what, num(times))
}

// enlargement is the largest factor of 1, 2, 5, 10 and so on that draws every
// gap within its room; numbers far off give less than 1. It is 0 where there
// is no gap.
func enlargement(fit joint.Fit, k float64, drawn func(joint.Outcome) bool) float64 {
	worst := touching
	for _, o := range fit.Outcomes {
		if drawn(o) {
			_, most, _ := sizeOf(o.Value)
			worst = math.Max(worst, most)
		}
	}
	if worst == touching {
		return 0
	}
	best := 0.1
	for _, n := range []float64{0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200} {
		if worst*k*n <= widestDrawn {
			best = n
		}
	}
	return best
}

// measuredFace turns a consequence into drawn widths and figures.
func measuredFace(o joint.Outcome, p joint.Place, k float64) fitFace {
	least, most, negative := sizeOf(o.Value)
	least = leastAt(o, p, least)
	a := fitFace{
		least: math.Min(least*k, widestDrawn), most: math.Min(most*k, widestDrawn), negative: negative,
		leastSays: fmt.Sprintf("%.2f", least), mostSays: fmt.Sprintf("%.2f", most),
		leastAt: p.Least, mostAt: p.Most,
	}
	if least <= touching {
		a.least, a.leastSays = 0, "touches here"
	}
	if most <= touching {
		a.most, a.leastSays, a.mostSays = 0, "", "touches"
	}
	if a.leastAt == "" || a.mostAt == "" {
		a.leastSays = ""
	}
	return a
}

// off is what is said of something that is off its place by a size, or not.
func (a fitFace) off() string {
	if a.most == 0 && a.mostSays != "" {
		return "where it should be"
	}
	return a.mostSays
}

// at is how wide the gap is drawn at a corner of the face, named by its
// places. Between the least and the most it is half-way.
func (a fitFace) at(corner ...string) float64 {
	switch {
	case a.leastAt == "" || a.mostAt == "" || within(a.mostAt, corner):
		return a.most
	case within(a.leastAt, corner):
		return a.least
	}
	return (a.least + a.most) / 2
}

// within says that every word of a place is among a corner's.
func within(place string, corner []string) bool {
	for _, w := range strings.Fields(place) {
		if !strings.Contains(" "+strings.Join(corner, " ")+" ", " "+w+" ") {
			return false
		}
	}
	return true
}

// places are the words of the families' places, in the order they are told.
var places = []struct{ word, says string }{
	{"mouth", "at the mouth"}, {"tip", "at the tip"}, {"face", "on the face"}, {"back", "on the back"},
	{"inner", "at the inner corner"}, {"outer", "at the outer corner"},
	{"inside", "on the inside"}, {"outside", "on the outside"},
	{"front-inner", "at the front leg on the inner face"}, {"front-outer", "at the front leg on the outer face"},
}

// Place says a place on a mating face in words: "at the mouth, on the back".
// An unknown or empty place gives "all along".
func Place(at string) string {
	var parts []string
	for _, p := range places {
		if within(p.word, strings.Fields(at)) {
			parts = append(parts, p.says)
		}
	}
	if len(parts) == 0 {
		return "all along"
	}
	return strings.Join(parts, ", ")
}
