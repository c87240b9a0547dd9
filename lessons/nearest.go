package lessons

import "slices"

// suggestion says which known word was probably meant, or nothing. A short word
// must agree in more than half of its letters.
func suggestion(word string, known []string) string {
	best, least := "", min(3, (len(word)+1)/2)
	for _, k := range known {
		if d := distance(word, k); d < least {
			best, least = k, d
		}
	}
	if best == "" {
		return ""
	}
	return ": did you mean " + best + "?"
}

// distance counts the letters to change, add or leave out to make b of a.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		prev := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			prev, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, prev+cost)
		}
	}
	return row[len(b)]
}

// sortedKeys lists a set's members in order.
func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
