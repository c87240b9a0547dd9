package joint

import (
	"maps"
	"testing"
)

// The goals: a layout in at most 20 µs and 50 allocations, a fit in at most
// 100 µs, the slack of all quantities of a family in at most 10 ms.

// eachFamilyOf runs a benchmark for every family, on its house blank.
func eachFamilyOf(b *testing.B, run func(b *testing.B, f *Family)) {
	for _, f := range All() {
		b.Run(f.ID, func(b *testing.B) {
			b.ReportAllocs()
			run(b, f)
		})
	}
}

// offByALittle is a house blank's key with every number off by 0.3.
func offByALittle(b *testing.B, f *Family) Values {
	l, err := f.Layout(f.House)
	if err != nil || !l.Buildable() {
		b.Fatal(l.Problems, err)
	}
	s := maps.Clone(l.Quantities)
	for id := range s {
		s[id] += 0.3
	}
	return s
}

func BenchmarkLayout(b *testing.B) {
	eachFamilyOf(b, func(b *testing.B, f *Family) {
		for b.Loop() {
			if l, err := f.Layout(f.House); err != nil || !l.Buildable() {
				b.Fatal(l.Problems, err)
			}
		}
	})
}

func BenchmarkFit(b *testing.B) {
	eachFamilyOf(b, func(b *testing.B, f *Family) {
		submitted := offByALittle(b, f)
		for b.Loop() {
			if fit, err := f.Fit(f.House, submitted); err != nil || len(fit.Outcomes) != len(f.Consequences) {
				b.Fatal(fit.Trouble, err)
			}
		}
	})
}

func BenchmarkFitPrepared(b *testing.B) {
	eachFamilyOf(b, func(b *testing.B, f *Family) {
		submitted := offByALittle(b, f)
		blank, err := f.Prepare(f.House)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if fit, err := blank.Fit(submitted); err != nil || len(fit.Outcomes) != len(f.Consequences) {
				b.Fatal(fit.Trouble, err)
			}
		}
	})
}

func BenchmarkSlackOfAll(b *testing.B) {
	eachFamilyOf(b, func(b *testing.B, f *Family) {
		want := 0
		for _, q := range f.Quantities {
			if touchesAGap(f, testFamilies[f.ID], q.ID) {
				want++
			}
		}
		for b.Loop() {
			blank, err := f.Prepare(f.House)
			if err != nil {
				b.Fatal(err)
			}
			found := 0
			for _, q := range f.Quantities {
				if _, ok, _ := blank.Slack(q.ID, Tight); ok {
					found++
				}
			}
			if found != want {
				b.Fatalf("%d quantities with slack, want %d", found, want)
			}
		}
	})
}
