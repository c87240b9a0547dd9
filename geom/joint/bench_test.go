package joint

import "testing"

// The goals: a layout in at most 20 µs and 50 allocations, a fit in at most
// 100 µs, the slack of all thirteen quantities in at most 10 ms.

func BenchmarkLayout(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if l, err := headVJoint.Layout(headVJoint.House); err != nil || !l.Buildable() {
			b.Fatal(l.Problems, err)
		}
	}
}

func BenchmarkFit(b *testing.B) {
	b.ReportAllocs()
	submitted := Values{"half_angle": 22, "mouth_near": 13.4, "back_shift": 4.5}
	for b.Loop() {
		if f, err := headVJoint.Fit(headVJoint.House, submitted); err != nil || len(f.Outcomes) != 6 {
			b.Fatal(f.Trouble, err)
		}
	}
}

func BenchmarkFitPrepared(b *testing.B) {
	b.ReportAllocs()
	blank, err := headVJoint.Prepare(headVJoint.House)
	if err != nil {
		b.Fatal(err)
	}
	submitted := Values{"half_angle": 22, "mouth_near": 13.4, "back_shift": 4.5}
	for b.Loop() {
		if f, err := blank.Fit(submitted); err != nil || len(f.Outcomes) != 6 {
			b.Fatal(f.Trouble, err)
		}
	}
}

func BenchmarkSlackOfAll(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		blank, err := headVJoint.Prepare(headVJoint.House)
		if err != nil {
			b.Fatal(err)
		}
		found := 0
		for _, q := range headVJoint.Quantities {
			if _, ok, _ := blank.Slack(q.ID, Tight); ok {
				found++
			}
		}
		if found != 7 {
			b.Fatalf("%d quantities with slack, want 7", found)
		}
	}
}
