package discover

import "testing"

func setOf(members ...int) set {
	s := newSet(100)
	for _, i := range members {
		s.add(i)
	}
	return s
}

func upTo(n int) set {
	s := newSet(100)
	for i := range n {
		s.add(i)
	}
	return s
}

func TestAccepted(t *testing.T) {
	for _, c := range []struct {
		k, decoy int
		want     bool
	}{{4, 0, false}, {5, 0, true}, {5, 1, true}, {5, 2, false}, {6, 2, true}, {9, 4, false}, {10, 4, true}, {100, 50, false}, {102, 50, true}} {
		if got := accepted(c.k, c.decoy); got != c.want {
			t.Errorf("accepted(%d, %d) = %v, want %v", c.k, c.decoy, got, c.want)
		}
	}
}

func TestExact(t *testing.T) {
	for _, c := range []struct {
		k, beside int
		want      bool
	}{{5, 0, true}, {5, 1, true}, {5, 3, false}, {10, 4, true}, {10, 8, false}, {37, 35, false}, {300, 12, true}, {30, 60, false}} {
		if got := exact(c.k, c.beside); got != c.want {
			t.Errorf("exact(%d, %d) = %v, want %v", c.k, c.beside, got, c.want)
		}
	}
}

func TestTake(t *testing.T) {
	c := func(l level, nodes int, own set) candidate {
		return candidate{level: l, nodes: nodes, own: own, beside: newSet(100)}
	}
	deep := bankStart + 4
	for _, tc := range []struct {
		name string
		pool pool
		left set
		want int // the place of the one that is taken, -1 for none
	}{
		{"nothing", pool{}, upTo(100), -1},
		{"too few", pool{own: []candidate{c(bankStart, 3, upTo(4))}}, upTo(100), -1},
		{"most answers first", pool{own: []candidate{c(bankStart, 3, upTo(6)), c(deep, 7, setOf(20, 21, 22, 23, 24, 25, 26))}}, upTo(100), 1},
		{"then fewest nodes", pool{own: []candidate{c(deep, 7, upTo(6)), c(bankStart, 3, setOf(20, 21, 22, 23, 24, 25))}}, upTo(100), 1},
		{"of nearly the same answers the simplest, though it has one less",
			pool{own: []candidate{c(deep, 7, upTo(11)), c(bankStart, 3, upTo(10))}}, upTo(100), 1},
		{"but not the simpler with far fewer", pool{own: []candidate{c(deep, 7, upTo(14)), c(bankStart, 3, upTo(11))}}, upTo(100), 0},
		{"only answers that are left count", pool{own: []candidate{c(bankStart, 3, upTo(10))}}, setOf(0, 1, 2, 3), -1},
		{"a decoy as good stops it", pool{own: []candidate{c(deep, 7, upTo(7))}, decoys: []decoy{{deep, setOf(50, 51, 52)}}}, upTo(100), -1},
		{"a decoy of a level before counts too", pool{own: []candidate{c(deep, 7, upTo(7))}, decoys: []decoy{{bankStart, setOf(50, 51, 52)}}}, upTo(100), -1},
		{"one of a level after does not", pool{own: []candidate{c(bankStart, 3, upTo(7))}, decoys: []decoy{{deep, setOf(50, 51, 52)}}}, upTo(100), 0},
		{"nor does one of other formulas", pool{own: []candidate{c(bankStart, 3, upTo(7))}, decoys: []decoy{{twoEdits, setOf(50, 51, 52)}}}, upTo(100), 0},
		{"nor its answers that are explained", pool{own: []candidate{c(deep, 7, upTo(7))}, decoys: []decoy{{deep, setOf(50, 51, 52)}}}, upTo(51), 0},
		{"one that only comes near is not taken", pool{own: []candidate{{level: bankStart, nodes: 3, own: upTo(10), beside: setOf(20, 21, 22, 23, 24, 25, 26, 27, 28)}}}, upTo(100), -1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := -1
			if f, ok := tc.pool.take(tc.left); ok {
				got = f.index
			}
			if got != tc.want {
				t.Errorf("take = %d, want %d", got, tc.want)
			}
		})
	}
}

// What was not kept by name of the decoys still counts with the most that it
// can give.
func TestFloorCounts(t *testing.T) {
	p := pool{own: []candidate{{level: bankStart, nodes: 3, own: upTo(7), beside: newSet(100)}}}
	p.floor[bankStart] = 3
	if _, ok := p.take(upTo(100)); ok {
		t.Errorf("take = a formula with 7 answers where the decoy's floor is 3, want none")
	}
}
