package drawing

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

// shippedBlanks are two hundred blanks that the shipped exercise of the
// family's name drew, one a line, by
// `arrisbook generate FAMILY -seed 1 -count 200`.
func shippedBlanks(t testing.TB, f *joint.Family) []joint.Values {
	t.Helper()
	b, err := os.ReadFile("testdata/blanks/" + f.ID + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []joint.Values
	for line := range strings.Lines(string(b)) {
		v := joint.Values{}
		for _, field := range strings.Fields(line) {
			id, size, _ := strings.Cut(field, "=")
			x, err := strconv.ParseFloat(size, 64)
			if err != nil {
				t.Fatalf("%s: %q: %v", f.ID, field, err)
			}
			v[id] = x
		}
		out = append(out, v)
	}
	if len(out) != 200 {
		t.Fatalf("%s: %d blanks, want 200", f.ID, len(out))
	}
	return out
}
