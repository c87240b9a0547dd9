package discover

import (
	"reflect"
	"testing"
)

func TestRank(t *testing.T) {
	counts := []uint16{3, 1, 2, 3, 0, 2, 9}
	of := []level{4, 4, 4, 4, 4, 4, 5}
	for _, c := range []struct {
		name        string
		least, most int
		cut         bool
		want        []int // of level 4
		floor       int
	}{
		{"all there is", 0, 10, false, []int{0, 1, 2, 3, 4, 5}, 0},
		{"from a count on", 2, 10, false, []int{0, 2, 3, 5}, 1},
		{"only as many as asked", 0, 2, false, []int{0, 3}, 2},
		{"none of a count that is too many", 0, 3, false, []int{0, 3}, 2},
		{"or the earliest of it", 0, 3, true, []int{0, 2, 3}, 2},
		{"but not below the least", 3, 3, true, []int{0, 3}, 2},
		{"none where the highest are too many", 0, 1, false, nil, 3},
	} {
		listed, floor := rank(counts, of, c.least, c.most, c.cut)
		if !reflect.DeepEqual(listed[4], c.want) || floor[4] != c.floor {
			t.Errorf("%s: rank = %v, floor %d, want %v, %d", c.name, listed[4], floor[4], c.want, c.floor)
		}
		if got := listed[5]; !reflect.DeepEqual(got, []int{6}) {
			t.Errorf("%s: rank of the other level = %v, want [6]", c.name, got)
		}
	}
	if got, want := topOf([]int{1, 5, 5, 2}, 3), []int{1, 2, 3}; !reflect.DeepEqual(got, want) {
		t.Errorf("topOf = %v, want %v", got, want)
	}
}
