package discover

// hashes is a set of hashes: a table with open places, no more than half full,
// several times as quick as a map for millions of them.
type hashes struct {
	table []uint64 // 0 for an open place
	used  int
}

// add puts a hash in and says whether it is new.
func (s *hashes) add(h uint64) bool {
	if h == 0 {
		h = 1
	}
	if 2*s.used >= len(s.table) {
		s.grow()
	}
	i := s.place(h)
	if s.table[i] == h {
		return false
	}
	s.table[i] = h
	s.used++
	return true
}

// place is where a hash stands or would stand.
func (s *hashes) place(h uint64) uint64 {
	last := uint64(len(s.table) - 1) // the length is a power of two
	i := h & last
	for s.table[i] != 0 && s.table[i] != h {
		i = (i + 1) & last
	}
	return i
}

func (s *hashes) grow() {
	old := s.table
	s.table = make([]uint64, max(1024, 2*len(old)))
	for _, h := range old {
		if h != 0 {
			s.table[s.place(h)] = h
		}
	}
}
