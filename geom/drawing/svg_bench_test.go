package drawing

import (
	"encoding/xml"
	"math"
	"testing"
	"time"

	"github.com/llgcode/draw2d/draw2dsvg"
)

// The same 200 primitives, as a sheet has them, through the writer here and
// through a general drawing library: 120 lines, 40 arcs, 40 arrowheads.

func twoHundred() View {
	c := &canvas{}
	for i := range 120 {
		x := float64(i)
		kind := []layer{narrow, visible}[i%2]
		c.line(kind, pt{x, 10}, pt{x + 50.5, 80.3})
	}
	for i := range 40 {
		c.arc(narrow, pt{50, float64(i)}, 20, 0, math.Pi/2)
	}
	for i := range 40 {
		c.arrow(pt{float64(i), 40}, pt{1, 0})
	}
	return c.view("many", "A", "two hundred primitives")
}

func BenchmarkWrite200(b *testing.B) {
	b.Run("here", func(b *testing.B) {
		v := twoHundred()
		n := 0
		b.ReportAllocs()
		for b.Loop() {
			n = len(v.SVG())
		}
		b.ReportMetric(float64(n), "bytes")
	})
	b.Run("here, drawing included", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			v := twoHundred()
			_ = v.SVG()
		}
	})
	b.Run("general library", func(b *testing.B) {
		n := 0
		b.ReportAllocs()
		for b.Loop() {
			out, err := xml.Marshal(libraryTwoHundred())
			if err != nil {
				b.Fatal(err)
			}
			n = len(out)
		}
		b.ReportMetric(float64(n), "bytes")
	})
}

// BenchmarkWrite200Ratio takes turns, so that whatever else the machine does
// slows both down alike, and says how many times as fast the writer here is.
func BenchmarkWrite200Ratio(b *testing.B) {
	v := twoHundred()
	var here, library time.Duration
	for b.Loop() {
		from := time.Now()
		for range 10 {
			_ = v.SVG()
		}
		between := time.Now()
		if _, err := xml.Marshal(libraryTwoHundred()); err != nil {
			b.Fatal(err)
		}
		here, library = here+between.Sub(from)/10, library+time.Since(between)
	}
	b.ReportMetric(float64(library)/float64(here), "times")
}

func libraryTwoHundred() *draw2dsvg.Svg {
	svg := draw2dsvg.NewSvg()
	g := draw2dsvg.NewGraphicContext(svg)
	for i := range 120 {
		x := float64(i)
		g.SetLineWidth([]float64{1, 2}[i%2])
		g.MoveTo(x, 10)
		g.LineTo(x+50.5, 80.3)
		g.Stroke()
	}
	for i := range 40 {
		g.MoveTo(70, float64(i))
		g.ArcTo(50, float64(i), 20, 20, 0, math.Pi/2)
		g.Stroke()
	}
	for i := range 40 {
		x := float64(i)
		g.MoveTo(x, 40)
		g.LineTo(x-arrowLong, 40+arrowHalf)
		g.LineTo(x-arrowLong, 40-arrowHalf)
		g.Close()
		g.Fill()
	}
	return svg
}

// Both put the same number of primitives on the paper, so the benchmark
// compares like with like.
func TestTheTwoHundredAreThere(t *testing.T) {
	lines, arcs, heads := 0, 0, 0
	for _, i := range twoHundred().items {
		switch m := i.(type) {
		case solid:
			heads++
		case stroke:
			if m.steps[len(m.steps)-1].op == 'A' {
				arcs++
			} else {
				lines++
			}
		}
	}
	if lines != 120 || arcs != 40 || heads != 40 {
		t.Errorf("%d lines, %d arcs and %d arrowheads, want 120, 40 and 40", lines, arcs, heads)
	}
	if n := len(libraryTwoHundred().Groups); n != 200 {
		t.Errorf("the library holds %d primitives, want 200", n)
	}
}
