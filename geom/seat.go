package geom

import "math"

// Contact is one thing in the way of a part that is being slid: a move m is
// possible while N·m ≤ Room.
type Contact struct {
	N    Vec
	Room float64
}

// Seat is where a part comes to rest.
type Seat struct {
	// Travel is how far it went along the direction, negative if it has to
	// stay back.
	Travel float64
	// Side is how far it went along each free direction: the middle of the
	// play that is left there.
	Side [2]float64
	// Play is that play, from end to end.
	Play [2]float64
	// Move is all of it together.
	Move Vec
}

// SlideHome pushes a part along dir as far as the contacts let it, free to
// move along up to two other directions, and then puts it in the middle of the
// play that is left along these, one after the other. Where play has an end on
// one side only, the part stays as near to its own place as it can.
//
// This is a linear programme in at most three variables, solved exactly by
// elimination: two contacts that oppose each other along a free direction add
// up to one that does not depend on it (Fourier and Motzkin). ok is false
// where nothing stops the part, where contacts exclude each other by more than
// tol, or where numbers are not finite.
func SlideHome(dir Vec, free []Vec, contacts []Contact, tol float64) (seat Seat, ok bool) {
	if len(free) > 2 {
		return Seat{}, false
	}
	var store [3][16]room // room enough for most, so that no memory is taken
	level := [3][]room{store[0][:0], store[1][:0], store[2][:0]}
	for _, c := range contacts {
		r := room{of: [3]float64{0: Dot(c.N, dir)}, atMost: c.Room}
		for i, f := range free {
			r.of[i+1] = Dot(c.N, f)
		}
		if !r.finite() {
			return Seat{}, false
		}
		level[0] = append(level[0], r)
	}
	// level[i] are the contacts with the last i free directions eliminated.
	for i := range free {
		level[i+1] = eliminate(level[i+1], level[i], len(free)-i)
	}
	var x [3]float64
	for _, r := range level[len(free)] {
		// What depends on no variable is kept or broken whatever is done.
		if math.Abs(r.of[0]) < Parallel && r.atMost < -tol {
			return Seat{}, false
		}
	}
	lo, hi := interval(level[len(free)], 0, x)
	if math.IsInf(hi, 1) || lo > hi+tol {
		return Seat{}, false
	}
	x[0] = hi
	seat = Seat{Travel: hi, Move: Along(Vec{}, hi, dir)}
	for i := range free {
		lo, hi := interval(level[len(free)-1-i], i+1, x)
		x[i+1] = middle(lo, hi)
		seat.Side[i] = x[i+1]
		seat.Play[i] = max(0, hi-lo)
		seat.Move = Along(seat.Move, x[i+1], free[i])
	}
	return seat, Finite(seat.Move)
}

// room is a contact written out in the variables: of·x ≤ atMost, x being
// travel and the free moves.
type room struct {
	of     [3]float64
	atMost float64
}

func (r room) finite() bool {
	return finite(r.of[0]) && finite(r.of[1]) && finite(r.of[2]) && finite(r.atMost)
}

// eliminate appends to out the contacts of in rid of variable v.
func eliminate(out, in []room, v int) []room {
	for _, r := range in {
		switch c := r.of[v]; {
		case c >= Parallel:
			for _, q := range in {
				if q.of[v] <= -Parallel {
					out = append(out, opposed(r, q, v))
				}
			}
		case c > -Parallel:
			r.of[v] = 0
			out = append(out, r)
		}
	}
	return out
}

// opposed adds two contacts so that variable v, which they bound from opposite
// sides, drops out. The shares add up to one, which keeps the size of things.
func opposed(p, n room, v int) room {
	whole := p.of[v] - n.of[v]
	a, b := -n.of[v]/whole, p.of[v]/whole
	var r room
	for i := range r.of {
		r.of[i] = float64(a*p.of[i]) + float64(b*n.of[i])
	}
	r.of[v] = 0
	r.atMost = float64(a*p.atMost) + float64(b*n.atMost)
	return r
}

// interval is what the contacts leave to variable v when those before it are
// settled.
func interval(rooms []room, v int, x [3]float64) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for _, r := range rooms {
		left := r.atMost
		for i := 0; i < v; i++ {
			left -= float64(r.of[i] * x[i])
		}
		switch c := r.of[v]; {
		case c >= Parallel:
			hi = min(hi, left/c)
		case c <= -Parallel:
			lo = max(lo, left/c)
		}
	}
	return lo, hi
}

// middle is the middle of an interval, or what of it is nearest to 0 where it
// has no end on one side.
func middle(lo, hi float64) float64 {
	switch {
	case math.IsInf(lo, -1) && math.IsInf(hi, 1):
		return 0
	case math.IsInf(lo, -1):
		return min(0, hi)
	case math.IsInf(hi, 1):
		return max(0, lo)
	}
	return lo + (hi-lo)/2
}
