package drawing

import (
	"math"
	"slices"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// real is what of a piece's arris is an arris of its whole part: not where
// other pieces of the part fill it up, and not where they carry one of its
// faces on. Where several pieces have the same arris the first one draws it.
func (w *wood) real(n int, e geom.Edge) []span {
	own := &w.pieces[n]
	var others []int
	cuts := []float64{0, 1}
	for i := range w.pieces {
		p := &w.pieces[i]
		if i == n || p.part != own.part || !p.reaches(e) {
			continue
		}
		if s, ok := p.holds(e); ok {
			others = append(others, i)
			cuts = append(cuts, s.from, s.to)
		}
	}
	if len(others) == 0 {
		return []span{{0, 1}}
	}
	slices.Sort(cuts)
	var out []span
	for i := 1; i < len(cuts); i++ {
		s := span{cuts[i-1], cuts[i]}
		if s.to-s.from > geom.Parallel && w.stands(n, e, (s.from+s.to)/2, others) {
			out = append(out, s)
		}
	}
	return tidied(out)
}

// reaches says that the boxes of the piece and of the arris touch.
func (p *piece) reaches(e geom.Edge) bool {
	apart := func(a, b, lo, hi float64) bool { return max(a, b) < lo-touch || min(a, b) > hi+touch }
	return !apart(e.A.X, e.B.X, p.min.X, p.max.X) && !apart(e.A.Y, e.B.Y, p.min.Y, p.max.Y) && !apart(e.A.Z, e.B.Z, p.min.Z, p.max.Z)
}

// holds is the part of an arris that lies in the piece or on it.
func (p *piece) holds(e geom.Edge) (span, bool) {
	s := span{0, 1}
	for _, plane := range p.planes {
		da, db := plane.Dist(e.A)-touch, plane.Dist(e.B)-touch
		switch {
		case da > 0 && db > 0:
			return span{}, false
		case da > 0:
			s.from = max(s.from, da/(da-db))
		case db > 0:
			s.to = min(s.to, da/(da-db))
		}
	}
	return s, s.to-s.from > geom.Parallel
}

// sector is what a piece fills of the turn about an arris, in radians.
type sector struct{ from, to float64 }

// stands says that about a point of the arris the pieces of the part leave
// something other than nothing or just one flat side free, and that no
// earlier piece has the arris too.
func (w *wood) stands(n int, e geom.Edge, t float64, others []int) bool {
	at := geom.Along(e.A, t, r3.Sub(e.B, e.A))
	axis, ok := geom.Unit(r3.Sub(e.B, e.A))
	if !ok {
		return false
	}
	turn := turned{axis: axis, zero: e.Left, quarter: geom.Cross(axis, e.Left)}
	filled := []sector{turn.between([]geom.Vec{e.Left, e.Right})}
	for _, i := range others {
		normals, inside := w.pieces[i].at(at, axis)
		if !inside {
			continue
		}
		if len(normals) == 2 && i < n {
			return false
		}
		filled = append(filled, turn.between(normals))
	}
	return !level(filled)
}

// at lists the faces of the piece that hold a point and run along an axis.
// inside is false where the point is not in the piece at all.
func (p *piece) at(v, axis geom.Vec) (normals []geom.Vec, inside bool) {
	for _, plane := range p.planes {
		switch d := plane.Dist(v); {
		case d > touch:
			return nil, false
		case d > -touch && math.Abs(geom.Dot(plane.N, axis)) < touch:
			normals = append(normals, plane.N)
		}
	}
	return normals, true
}

// turned measures directions about an axis.
type turned struct{ axis, zero, quarter geom.Vec }

func (t turned) angle(v geom.Vec) float64 {
	return math.Atan2(geom.Dot(v, t.quarter), geom.Dot(v, t.zero))
}

// between is the sector that the half-spaces of some faces leave: half a turn
// behind each of their normals.
func (t turned) between(normals []geom.Vec) sector {
	s := sector{0, 2 * pi}
	for i, n := range normals {
		from := t.angle(n) + pi/2
		if i == 0 {
			s = sector{from, from + pi}
			continue
		}
		// Bring the second half turn to within half a turn of the first.
		from = s.from + math.Remainder(from-s.from, 2*pi)
		s = sector{max(s.from, from), min(s.to, from+pi)}
	}
	return s
}

// level says that sectors fill the whole turn, or all of it but half a turn in
// one place.
func level(filled []sector) bool {
	const same = 1e-5 // radians: a hundredth of a hair at arm's length
	var round []span
	for _, s := range filled {
		long := min(s.to-s.from, 2*pi)
		from := math.Mod(math.Mod(s.from, 2*pi)+2*pi, 2*pi)
		round = append(round, span{from, from + long})
		if over := from + long - 2*pi; over > 0 {
			round = append(round, span{0, over})
		}
	}
	round = joined(round, same)
	gaps := 0
	half := false
	for i, s := range round {
		next := round[0].from + 2*pi
		if i+1 < len(round) {
			next = round[i+1].from
		}
		if free := next - s.to; free > same {
			gaps++
			half = math.Abs(free-pi) < same
		}
	}
	return gaps == 0 || gaps == 1 && half
}
