package drawing

// Check bars say whether a printer kept the size: one of 100 mm and one of
// 4 in, along the paper and across it, since printers stretch one way only.
const (
	barMetric = 100.0
	barInch   = 4 * 25.4
)

// BarsSay is what to do with the bars.
const BarsSay = "Lay a steel rule on all four bars. If one does not measure true, do not use this page: " +
	"print it again at 100 % or “actual size”, never fitted to the page. " +
	"If it still does not, work from your numbers and not from the paper."

// checkBar is one check bar: its length, its divisions, and its two labels.
type checkBar struct {
	long      float64
	parts     int
	from, end string
}

var checkBars = [...]checkBar{{barMetric, 10, "0", "100 mm"}, {barInch, 8, "0", "4 in"}}

const (
	barTick  = 2.0 // of a division
	barEnd   = 4.0 // of the ends
	barWrite = 8.0 // points of the labels
)

// barsAcross draws both bars lying, their left ends at (x, y) and below.
func (p *Page) barsAcross(x, y float64) {
	for _, b := range checkBars {
		p.Rule(NarrowLine, x, y, x+b.long, y)
		for i := 0; i <= b.parts; i++ {
			at := x + b.long*float64(i)/float64(b.parts)
			p.Rule(NarrowLine, at, y, at, y-b.tick(i))
		}
		l := Lettering{Points: barWrite}
		p.Write(x, y+3.4, l, b.from)
		l.Anchor = AtEnd
		p.Write(x+b.long, y+3.4, l, b.end)
		y += barPitch
	}
}

// barsDown draws both bars standing, their upper ends at (x, y) and to the
// right.
func (p *Page) barsDown(x, y float64) {
	for _, b := range checkBars {
		p.Rule(NarrowLine, x, y, x, y+b.long)
		for i := 0; i <= b.parts; i++ {
			at := y + b.long*float64(i)/float64(b.parts)
			p.Rule(NarrowLine, x, at, x-b.tick(i), at)
		}
		l := Lettering{Points: barWrite, Turn: -90, Anchor: AtEnd}
		p.Write(x+3.4, y, l, b.from)
		l.Anchor = FromStart
		p.Write(x+3.4, y+b.long, l, b.end)
		x += barPitch
	}
}

// barPitch is the distance of the two bars.
const barPitch = 9.0

func (b checkBar) tick(i int) float64 {
	if i == 0 || i == b.parts {
		return barEnd
	}
	return barTick
}
