package joint

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// readTable reads a table of testdata: a row a line, cells apart by tabs, and
// lines that begin with # for the source and the columns.
func readTable(t *testing.T, name string, columns int) [][]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) != columns {
			t.Fatalf("%s: %d cells in %q, want %d", name, len(cells), line, columns)
		}
		rows = append(rows, cells)
	}
	return rows
}

// cell reads 12.5, 44°50' or 11 15/16.
func cell(t *testing.T, s string) float64 {
	t.Helper()
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	if deg, min, ok := strings.Cut(s, "°"); ok {
		return number(deg) + number(strings.TrimSuffix(min, "'"))/60
	}
	whole, fraction, ok := strings.Cut(s, " ")
	if !ok {
		return number(s)
	}
	above, below, _ := strings.Cut(fraction, "/")
	return number(whole) + number(above)/number(below)
}

// printed is a figure as a source prints it, beside the one worked out here.
type printed struct {
	name      string
	figure    float64
	tolerance float64 // what the source's rounding allows
	exact     float64
	// erratum says what is wrong with the figure as it is printed. It stays in
	// the table as it is, and has to be out by more than the tolerance.
	erratum string
}

// check holds the printed figure to the exact one. It hands back how far it
// is off.
func (p printed) check(t *testing.T) float64 {
	t.Helper()
	off := math.Abs(p.figure - p.exact)
	// A hair for figures that are rounded from just half a digit.
	wrong := off > p.tolerance*(1+1e-6)+1e-9
	switch {
	case p.erratum == "" && wrong:
		t.Errorf("%s is %.6f, but %g is printed, want within %g", p.name, p.exact, p.figure, p.tolerance)
	case p.erratum != "" && !wrong:
		t.Errorf("%s is %.6f and %g is printed, within %g: want no erratum (%s)", p.name, p.exact, p.figure, p.tolerance, p.erratum)
	case p.erratum != "":
		t.Logf("%s is %.4f, printed %g: %s", p.name, p.exact, p.figure, p.erratum)
	}
	return off
}

// quantitiesOf lays out a blank, buildable or not.
func quantitiesOf(t *testing.T, family string, p Values) Values {
	t.Helper()
	f, ok := Lookup(family)
	if !ok {
		t.Fatalf("no family %s", family)
	}
	l, err := f.Layout(p)
	if err != nil {
		t.Fatal(err)
	}
	return l.Quantities
}
