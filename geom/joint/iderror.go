package joint

import (
	"math"
	"sort"
)

// IDError says that an id is unknown, missing or carries no usable number.
type IDError struct {
	ID      string
	Reason  string // "is not a parameter of head-v-joint"
	Nearest string // the id that was probably meant, or ""
}

func (e *IDError) Error() string {
	s := e.ID + " " + e.Reason
	if e.Nearest != "" {
		s += ": did you mean " + e.Nearest + "?"
	}
	return s
}

// checkIDs looks for ids that are not known and for numbers that are none.
// The first fault in alphabetical order is reported, so that the same input
// always gets the same answer.
func checkIDs(v Values, known func(id string) bool, reason string, ids []string) error {
	var bad []string
	for id, x := range v {
		if !known(id) || math.IsNaN(x) || math.IsInf(x, 0) {
			bad = append(bad, id)
		}
	}
	if len(bad) == 0 {
		return nil
	}
	sort.Strings(bad)
	if known(bad[0]) {
		return &IDError{ID: bad[0], Reason: "has no usable number"}
	}
	return &IDError{ID: bad[0], Reason: reason, Nearest: Nearest(bad[0], ids)}
}

// Nearest is the id that was probably meant by text: the one that the fewest
// slips of the keyboard turn into it, or "" where more than a third of the
// letters would have to change (two, in a short id).
func Nearest(text string, ids []string) string {
	best, nearest := len(text)+1, ""
	for _, id := range ids {
		if d := editDistance(text, id); d < best && d <= max(2, len(id)/3) {
			best, nearest = d, id
		}
	}
	return nearest
}

// editDistance counts the letters to insert, remove, change or exchange with
// their neighbour (optimal string alignment).
func editDistance(a, b string) int {
	if len(a) > 64 || len(b) > 64 {
		return 64 // no id is that long, and text from outside may be
	}
	var rows [3][65]int
	before, last, row := &rows[0], &rows[1], &rows[2]
	for j := range row {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
