package drawing

import "math"

// sliver is the length in millimetres below which a piece of a line is left
// out, or a break in it closed: what rounding leaves where wood touches wood.
const sliver = 1e-3

// track is all edges of a picture that lie on one straight line, as spans
// along it.
type track struct {
	at, u           pt
	visible, hidden []span
}

// merged puts edges that lie on one line together: what is visible hides what
// is dashed behind it, and pieces that follow each other become one line.
func merged(es []edge) []edge {
	var tracks []*track
	for _, e := range es {
		if e.a.to(e.b) < sliver {
			continue
		}
		tracks = onTrack(tracks, e)
	}
	var out []edge
	for _, t := range tracks {
		out = t.edges(out)
	}
	return out
}

// onTrack adds an edge to the track it lies on, or to a new one.
func onTrack(tracks []*track, e edge) []*track {
	u := e.b.sub(e.a).unit()
	for _, t := range tracks {
		if math.Abs(u.dot(t.u.left())) < 1e-4 && t.off(e.a) < 10*touch && t.off(e.b) < 10*touch {
			t.add(e)
			return tracks
		}
	}
	t := &track{at: e.a, u: u}
	t.add(e)
	return append(tracks, t)
}

func (t *track) off(p pt) float64 { return math.Abs(p.sub(t.at).dot(t.u.left())) }

func (t *track) add(e edge) {
	a, b := e.a.sub(t.at).dot(t.u), e.b.sub(t.at).dot(t.u)
	s := span{min(a, b), max(a, b)}
	if e.hidden {
		t.hidden = append(t.hidden, s)
		return
	}
	t.visible = append(t.visible, s)
}

// edges appends the track's lines: visible ones, and what is hidden between.
func (t *track) edges(out []edge) []edge {
	visible := joined(t.visible, sliver)
	add := func(spans []span, hidden bool) {
		for _, s := range spans {
			if s.to-s.from >= sliver {
				out = append(out, edge{t.at.add(t.u.times(s.from)), t.at.add(t.u.times(s.to)), hidden})
			}
		}
	}
	add(visible, false)
	add(without(joined(t.hidden, sliver), visible), true)
	return out
}
