package discover

import (
	"math"
	"slices"
)

// listed is the formulas of a size and kind.
type listed struct {
	size int
	kind kind
}

// atAnchor is a formula with its number on the anchor's blank, in single
// precision: packed so that plain numbers are sorted, and in the order of the
// formulas' numbers. What is found by it is tried exactly.
type atAnchor uint64

func pack(v float64, i int32) atAnchor { return atAnchor(ordered(v))<<32 | atAnchor(uint32(i)) }

func (a atAnchor) formula() int32 { return int32(uint32(a)) }

// ordered maps numbers to whole ones in the same order.
func ordered(v float64) uint32 {
	b := math.Float32bits(float32(v))
	if b>>31 == 1 {
		return ^b
	}
	return b | 1<<31
}

// list sorts the formulas of a size and kind by their numbers at the anchor.
func (m *meeting) list(size int, k kind, anchor int) []atAnchor {
	key := listed{size, k}
	if list, ok := m.sorted[key]; ok {
		return list
	}
	span := m.spans[size][k]
	list := make([]atAnchor, 0, span.to-span.from)
	for i := span.from; i < span.to; i++ {
		if v := m.s.rowOf(i)[anchor]; !math.IsNaN(v) {
			list = append(list, pack(v, i))
		}
	}
	slices.Sort(list)
	m.sorted[key] = list
	return list
}

// stretchOfNumbers is where a number must lie.
type stretchOfNumbers struct{ lo, hi float64 }

func stretchOf(mid, reach float64) stretchOfNumbers {
	if reach < 0 {
		return stretchOfNumbers{1, 0}
	}
	half := math.Sqrt(reach)
	return stretchOfNumbers{mid - half, mid + half}
}

// needed tells what one part of a step must be where the other is known: the
// left one where the one that is sought stands right.
func needed(o op, known float64, right bool, w stretchOfNumbers) []stretchOfNumbers {
	switch o {
	case opAdd:
		return []stretchOfNumbers{{w.lo - known, w.hi - known}}
	case opApart:
		return []stretchOfNumbers{{known - w.hi, known - w.lo}, {known + w.lo, known + w.hi}}
	case opHypot:
		if hi := float64(w.hi*w.hi) - float64(known*known); hi >= 0 {
			return []stretchOfNumbers{{math.Sqrt(max(0, float64(w.lo*w.lo)-float64(known*known))), math.Sqrt(hi)}}
		}
	case opMul:
		if known > 0 {
			return []stretchOfNumbers{{w.lo / known, w.hi / known}}
		}
	case opDiv:
		switch {
		case !right && known > 0:
			return []stretchOfNumbers{{w.lo * known, w.hi * known}}
		case right && known > 0 && w.lo > 0:
			return []stretchOfNumbers{{known / w.hi, known / w.lo}}
		case right && known > 0 && w.hi > 0:
			return []stretchOfNumbers{{known / w.hi, math.MaxFloat32}}
		}
	}
	return nil
}
