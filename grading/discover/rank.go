package discover

import (
	"cmp"
	"slices"
)

// rank lists by level the roots with the highest counts, from least on: as many
// as most a level, and none of a count that would make them more; with cut the
// earliest of that count fill them up. floor is by level the highest count that
// is not listed.
func rank(counts []uint16, of []level, least, most int, cut bool) (listed [levels][]int, floor [levels]int) {
	var many [levels][]int // by count
	for k, n := range counts {
		l := of[k]
		for int(n) >= len(many[l]) {
			many[l] = append(many[l], 0)
		}
		many[l][n]++
	}
	var from, spare [levels]int
	for l, m := range many {
		kept := 0
		for from[l] = len(m); from[l] > least && kept+m[from[l]-1] <= most; {
			from[l]--
			kept += m[from[l]]
		}
		floor[l] = highestBelow(m, from[l])
		if cut && from[l] > least {
			spare[l] = most - kept
		}
	}
	for k, n := range counts {
		switch l := of[k]; {
		case int(n) >= from[l]:
			listed[l] = append(listed[l], k)
		case int(n) == from[l]-1 && spare[l] > 0:
			listed[l] = append(listed[l], k)
			spare[l]--
		}
	}
	return listed, floor
}

// highestBelow is the highest count under a limit that anything has.
func highestBelow(many []int, limit int) int {
	for n := limit - 1; n > 0; n-- {
		if many[n] > 0 {
			return n
		}
	}
	return 0
}

// topOf lists the places of the highest counts, most of them, the earliest first
// where they are equal.
func topOf(counts []int, most int) []int {
	places := make([]int, len(counts))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(a, b int) int { return cmp.Compare(counts[b], counts[a]) })
	return places[:min(most, len(places))]
}
