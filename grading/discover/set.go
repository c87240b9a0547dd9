package discover

import "math/bits"

// set is a set of students by place.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

// size counts the members.
func (s set) size() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// common counts the members that both have.
func (s set) common(o set) int {
	n := 0
	for i, w := range s {
		n += bits.OnesCount64(w & o[i])
	}
	return n
}

// without takes out the members of another.
func (s set) without(o set) {
	for i := range s {
		s[i] &^= o[i]
	}
}

// within takes out who is not a member of another.
func (s set) within(o set) {
	for i := range s {
		s[i] &= o[i]
	}
}

// all is everybody.
func all(n int) set {
	s := newSet(n)
	for i := range n {
		s.add(i)
	}
	return s
}

// members lists the members.
func (s set) members() []int {
	var out []int
	for i := range len(s) * 64 {
		if s.has(i) {
			out = append(out, i)
		}
	}
	return out
}
