package grading

import (
	"fmt"
	"math"
	"testing"
)

func TestSwaps(t *testing.T) {
	for _, row := range []struct {
		key      float64
		decimals int
		want     string
	}{
		{37.79, 1, "[{73.8 1} {38.7 2}]"},
		{37.79, 2, "[{73.79 1} {37.97 3}]"},
		{16.5, 1, "[{61.5 1} {15.6 2}]"},
		{4.776, 1, "[{8.4 1}]"},
		{-12, 0, "[{-21 1}]"},
		{5, 0, "[]"},
		{math.NaN(), 1, "[]"},
		{1e12, 1, "[]"},
	} {
		if got := fmt.Sprint(swaps(row.key, row.decimals, nil)); got != row.want {
			t.Errorf("swaps(%v, %d) = %s, want %s", row.key, row.decimals, got, row.want)
		}
	}
}

func TestWrittenDecimals(t *testing.T) {
	for text, want := range map[string]int{
		"73.8": 1, "73,80": 2, " 7 mm": 0, "0.65\"": 2, "25.9°": 1, "14° 30'": -1, "3/8": -1, "1:6": -1, "(70-36)/2": -1, "": -1, "x": -1, "７３.８": 1,
	} {
		got, ok := writtenDecimals(text)
		if !ok {
			got = -1
		}
		if got != want {
			t.Errorf("writtenDecimals(%q) = %d, want %d", text, got, want)
		}
	}
}
