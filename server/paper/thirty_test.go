package paper

import (
	"context"
	"runtime"
	"testing"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// thirty is a class of thirty, all of whom may have their templates.
func thirty(t testing.TB, exercise string) Order {
	o := classOrder(t, exercise, 30, grading.Millimetres)
	o.Parts = Parts{Overview: true, Key: true, Sheets: true, Templates: true}
	for n := range o.Sheets {
		o.Sheets[n].Cleared = "Ada Moss, 25 Nov 14:20"
	}
	return o
}

// mostMemory is what printing for a class of thirty may hold at once.
const mostMemory = 200 << 20

// Thirty sheets with templates take no more memory than a small machine has to
// spare, in any family.
func TestThirtyFitInMemory(t *testing.T) {
	for _, f := range joint.All() {
		o := thirty(t, f.ID)
		most := uint64(0)
		pdf, err := Compose(context.Background(), o, func(int, int) {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapAlloc)
		})
		if err != nil {
			t.Errorf("%s: %v", f.ID, err)
			continue
		}
		flats, _ := drawing.Flats(f, o.Sheets[0].Sheet.Parameters)
		t.Logf("%s: %.1f MB at most, a file of %.2f MB, %d flats a sheet", f.ID, float64(most)/(1<<20), float64(len(pdf))/1e6, len(flats))
		if most > mostMemory {
			t.Errorf("%s: printing for thirty holds %d MB, want no more than %d", f.ID, most>>20, mostMemory>>20)
		}
	}
}

// BenchmarkThirtyWithTemplates prints everything for a class of thirty.
func BenchmarkThirtyWithTemplates(b *testing.B) {
	for _, f := range joint.All() {
		b.Run(f.ID, func(b *testing.B) {
			o := thirty(b, f.ID)
			b.ReportAllocs()
			for b.Loop() {
				pdf, err := Compose(context.Background(), o, nil)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(pdf))/1e6, "MB")
			}
		})
	}
}
