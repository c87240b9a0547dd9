package discover

import (
	"context"
	"testing"
)

// An exercise with many givens has a bank of smaller formulas, and parts that
// are not too many; what is a little larger is still met in the middle.
func TestManyGivens(t *testing.T) {
	const s = signature("LLLLLLLLLLLLLLAAAN")
	b, err := grow(context.Background(), s, bankSize, bankMost, func(float64) {})
	if err != nil {
		t.Fatalf("grow = %v, want none", err)
	}
	if n := len(b.ops); n > bankMost || n < 10_000 {
		t.Errorf("%d formulas, want 10,000 to %d", n, bankMost)
	}
	if n := len(b.partsPlan().parts); n > mostParts {
		t.Errorf("%d parts, want at most %d", n, mostParts)
	}
	class := sharedClass(s, 30, 9, func(v []float64) float64 { return v[0] + v[1] + v[2] + v[3] })
	own, _, err := b.meet(context.Background(), class, length, func(float64) {})
	if err != nil {
		t.Fatalf("meet = %v, want none", err)
	}
	most := 0
	for _, m := range own {
		most = max(most, m.answers)
	}
	if most < 9 {
		t.Errorf("the best formula met gives %d answers, want 9", most)
	}
	t.Logf("%d formulas of up to %d nodes, %d parts, %d met", len(b.ops), len(b.spans)-1, len(b.partsPlan().parts), len(own))
}
