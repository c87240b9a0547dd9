package joint

import (
	"strings"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Place says where on a mating face its gap is least and where it is most, in
// words such as "mouth", "back", "face tip". A word that is left out does not
// matter: "mouth" is the whole mouth, from face to back. Both are empty where
// the gap is the same all along.
type Place struct{ Least, Most string }

// sameGap is the difference in millimetres below which a gap counts as the
// same all along: a twentieth of the limit of a tight joint.
const sameGap = 0.005

// alike is the part of the difference between most and least within which
// corners count as alike: a wrong number along the face tilts it a little
// across as well, which nobody would call a second place.
const alike = 0.2

// Places says where on each mating face the gap that [Family.Fit] gives is
// least and most, by consequence. A face that has no gap is left out, and all
// are where the parts cannot be made. Errors as for Layout.
func (f *Family) Places(parameters, submitted Values) (map[string]Place, error) {
	b, err := f.Prepare(parameters)
	if err != nil {
		return nil, err
	}
	fit, err := b.Fit(submitted)
	if err != nil {
		return nil, err
	}
	if f.places == nil || fit.Trouble != "" {
		return map[string]Place{}, nil
	}
	return f.places(b.layout.Parameters, b.asSubmitted(submitted)), nil
}

// split tells two halves of a mating face apart by how far their corners lie
// along a direction.
type split struct {
	along     geom.Vec
	low, high string
}

// place finds where the face's gap is least and most, in the words of the
// splits.
func (m mating) place(splits ...split) Place {
	nearest, farthest, ok := m.face.Reach(m.wall)
	if !ok || farthest-nearest < sameGap {
		return Place{}
	}
	within := max(sameGap, alike*(farthest-nearest))
	return Place{
		Least: m.words(splits, func(d float64) bool { return farthest-d < within }),
		Most:  m.words(splits, func(d float64) bool { return d-nearest < within }),
	}
}

// words names the half of each split that holds all the corners that count.
func (m mating) words(splits []split, counts func(distance float64) bool) string {
	var words []string
	for _, s := range splits {
		lo, hi := r3.Dot(s.along, m.face[0]), r3.Dot(s.along, m.face[0])
		for _, v := range m.face {
			lo, hi = min(lo, r3.Dot(s.along, v)), max(hi, r3.Dot(s.along, v))
		}
		low, high := false, false
		for _, v := range m.face {
			if counts(m.wall.Dist(v)) {
				isLow := r3.Dot(s.along, v) < (lo+hi)/2
				low, high = low || isLow, high || !isLow
			}
		}
		switch {
		case low && !high:
			words = append(words, s.low)
		case high && !low:
			words = append(words, s.high)
		}
	}
	return strings.Join(words, " ")
}
