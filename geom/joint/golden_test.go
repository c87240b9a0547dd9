package joint

import (
	"flag"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write testdata/layouts.golden anew")

// The same blank gives the same bits on every processor: 5,000 layouts over
// all families, as a hash for every hundred of a family, and the first of each
// family written out in full.
func TestLayoutsAreTheSameBitsEverywhere(t *testing.T) {
	const blanks, hundred = 500, 100
	var text strings.Builder
	text.WriteString("# Layouts of random blanks: a hash of all bits for every hundred, and one in full.\n")
	for _, f := range All() {
		rng := rand.New(rand.NewPCG(101, uint64(len(f.ID))))
		n := 0
		for range blanks / hundred {
			hash := fnv.New64a()
			for range hundred {
				row := layoutBits(t, f, onGrid(f, rng))
				if n == 0 {
					fmt.Fprintf(&text, "%s %s\n", f.ID, row)
				}
				hash.Write([]byte(row))
				n++
			}
			fmt.Fprintf(&text, "%s to %d: %016x\n", f.ID, n, hash.Sum64())
		}
	}
	golden := filepath.Join("testdata", "layouts.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(text.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Split(text.String(), "\n")
	for i, line := range strings.Split(string(want), "\n") {
		if i >= len(got) || got[i] != line {
			t.Errorf("line %d = %q, want %q", i+1, got[min(i, len(got)-1)], line)
		}
	}
	if len(got) != strings.Count(string(want), "\n")+1 {
		t.Errorf("%d lines, want %d", len(got), strings.Count(string(want), "\n")+1)
	}
}

// onGrid draws a blank in sixteenths of its ranges' units, so that the drawing
// itself cannot differ by a bit. It need not be buildable.
func onGrid(f *Family, rng *rand.Rand) Values {
	p := Values{}
	for _, par := range f.Parameters {
		r := testFamilies[f.ID].ranges[par.ID]
		lo, hi := int(math.Ceil(r[0]*16)), int(math.Floor(r[1]*16))
		if par.Whole {
			p[par.ID] = float64(int(r[0]) + rng.IntN(int(r[1])-int(r[0])+1))
			continue
		}
		p[par.ID] = float64(lo+rng.IntN(hi-lo+1)) / 16
	}
	return p
}

// layoutBits is a layout in bits: parameters and quantities in the family's
// order.
func layoutBits(t *testing.T, f *Family, p Values) string {
	t.Helper()
	l, err := f.Layout(p)
	if err != nil {
		t.Fatal(err)
	}
	var row strings.Builder
	for _, par := range f.Parameters {
		fmt.Fprintf(&row, "%s=%g ", par.ID, p[par.ID])
	}
	row.WriteString("gives")
	for _, q := range f.Quantities {
		if x, has := l.Quantities[q.ID]; has {
			fmt.Fprintf(&row, " %s=%016x", q.ID, math.Float64bits(x))
		}
	}
	return row.String()
}
