package grading

import (
	"math"
	"strings"
	"testing"
)

// lsat6 are the answer patterns of section 6 of the Law School Admission Test
// and how many of 1000 people gave each: R. D. Bock and M. Lieberman, "Fitting
// a response model for n dichotomously scored items", Psychometrika 35 (1970).
var lsat6 = map[string]int{
	"00000": 3, "00001": 6, "00010": 2, "00011": 11, "00100": 1, "00101": 1, "00110": 3, "00111": 4,
	"01000": 1, "01001": 8, "01010": 0, "01011": 16, "01100": 0, "01101": 3, "01110": 2, "01111": 15,
	"10000": 10, "10001": 29, "10010": 14, "10011": 81, "10100": 3, "10101": 28, "10110": 15, "10111": 80,
	"11000": 16, "11001": 56, "11010": 21, "11011": 173, "11100": 11, "11101": 61, "11110": 28, "11111": 298,
}

// answered turns "10110" into right and wrong.
func answered(pattern string) []bool {
	row := make([]bool, len(pattern))
	for i := range pattern {
		row[i] = pattern[i] == '1'
	}
	return row
}

func near(t *testing.T, what string, got Stat, want, tol float64) {
	t.Helper()
	if !got.OK || math.Abs(got.Value-want) > tol {
		t.Errorf("%s = %v, want %v within %g", what, got, want, tol)
	}
}

// The figures for section 6 are recomputed with R (psych, eRm); difficulties
// and counts are those of the published table.
func TestItemStatsOfLSAT6(t *testing.T) {
	var right [][]bool
	for pattern, n := range lsat6 {
		for range n {
			right = append(right, answered(pattern))
		}
	}
	s := NewItemStats(right)
	if s.People != 1000 {
		t.Fatalf("%d people, want 1000", s.People)
	}
	for i, want := range []struct {
		right             int
		rest, d27, thirds float64
	}{
		{924, .112833, .1966, .1749},
		{709, .153178, .6315, .5903},
		{553, .172779, .8109, .7449},
		{763, .144428, .5370, .4954},
		{870, .121596, .3203, .2904},
	} {
		got := s.Items[i]
		if got.Right != want.right {
			t.Errorf("item %d: %d right, want %d", i+1, got.Right, want.right)
		}
		near(t, "difficulty", got.Difficulty, float64(want.right)/1000, 1e-12)
		near(t, "corrected point-biserial", got.PointBiserial, want.rest, 5e-7)
		near(t, "D of the upper and lower 27 %", got.Upper27, want.d27, 5e-5)
		near(t, "D of the upper and lower third", got.UpperThird, want.thirds, 5e-5)
	}
	near(t, "mean", Stat{s.Mean, true}, 3.819, 1e-9)
	near(t, "variance", Stat{s.Variance, true}, 1.070239, 5e-7)
	near(t, "KR-20", s.KR20, .294997, 5e-7)
}

// A small whole matrix with published sums: K. Wuensch, East Carolina
// University, teaching example for KR-20. The printed shares are rounded, so
// KR-20 and the correlations are recomputed from the matrix. Mixing a variance
// over n−1 with shares over n would give .737823.
func TestItemStatsOfTenByTen(t *testing.T) {
	var right [][]bool
	for _, row := range strings.Fields(`1111110110 1011011101 1111011001 0010001000 0000010010
		1110111111 1101110111 1111111101 0101111101 1101101110`) {
		right = append(right, answered(row))
	}
	s := NewItemStats(right)
	near(t, "variance", Stat{s.Variance, true}, 5.84, 1e-12)
	near(t, "KR-20", s.KR20, .696347, 5e-7)
	rest := []float64{.7059, .7059, .0000, .4736, .5839, .2861, -.0274, .7059, -.1236, .4759}
	for i, p := range []float64{.7, .7, .6, .7, .6, .8, .7, .7, .5, .6} {
		near(t, "difficulty", s.Items[i].Difficulty, p, 1e-12)
		near(t, "corrected item-total r", s.Items[i].PointBiserial, rest[i], 5e-5)
	}
}

// Where a figure cannot exist it says so, and no figure is infinite or none.
func TestItemStatsThatDoNotExist(t *testing.T) {
	if s := NewItemStats(nil); s.People != 0 || len(s.Items) != 0 || s.KR20.OK {
		t.Errorf("of nobody: %+v, want nothing", s)
	}
	s := NewItemStats([][]bool{{true, true}, {true, false}, {true, true}})
	if s.Items[0].PointBiserial.OK {
		t.Error("a number that everybody had right has no correlation")
	}
	near(t, "D of what everybody had right", s.Items[0].Upper27, 0, 0)
	if one := NewItemStats([][]bool{{true, false, true}}); one.KR20.OK || one.Items[0].PointBiserial.OK {
		t.Errorf("of one person: %+v, want no KR-20 and no correlation", one)
	}
}
