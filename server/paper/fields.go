package paper

import (
	"arrisbook/geom/drawing"
	"arrisbook/grading"
)

// column is the width of a view, and so of a column, in millimetres.
const column = drawing.Width / 4.0

// givens is the table of the student's own sizes, from which the sheet can be
// worked out without the picture.
func (f form) givens() drawing.Block {
	row := 5.8 * f.times
	name, value := f.size(10, false), f.size(10, false)
	value.Anchor = drawing.AtEnd
	head := "Your blank, as given"
	if f.s.Measured {
		head = "Your blank, as measured"
	}
	return drawing.Block{H: (float64(len(f.Exercise.Givens))+1)*row + 3*f.times, Draw: func(p *drawing.Page, x, y float64) {
		x, right := x+2, x+column*f.times-3
		p.Write(x, y+0.72*row, f.size(10.5, true), head)
		for n, g := range f.Exercise.Givens {
			at := y + float64(n+1)*row
			p.Rule(drawing.NarrowLine, x, at, right, at)
			label := g.Name
			if g.Symbol != "" {
				label += "  " + g.Symbol
			}
			p.Write(x, at+0.72*row, name, drawing.Shorten(label, name, right-x-24*f.times))
			if v, ok := f.s.Sheet.Parameters[g.ID]; ok {
				p.Write(right, at+0.72*row, value, grading.Print(v, g.Unit, f.Class.Units))
			}
		}
	}}
}

// Columns of the fields: two boxes with their unit between name and edge.
const (
	boxWide = 26.0
	boxHigh = 8.0
	boxUnit = 10.0
)

func (f form) fullWidth() float64 { return f.Class.Paper.W - filing - margin - 2 }

// boxes gives the left edges of the boxes of a row.
func (f form) boxes(x float64) (first, second float64) {
	second = x + f.fullWidth() - inside - (boxWide+boxUnit)*f.boxTimes()
	return second - (boxWide+boxUnit)*f.boxTimes(), second
}

// boxTimes is how much larger the boxes are: large print needs taller ones,
// and its names need the width.
func (f form) boxTimes() float64 { return 1 + (f.times-1)/3 }

// fieldHeads names the columns of the fields.
func (f form) fieldHeads() drawing.Block {
	l := f.size(9.5, false)
	h := 1.5 * l.Height()
	return drawing.Block{Wide: true, H: h, Draw: func(p *drawing.Page, x, y float64) {
		first, second := f.boxes(x)
		if f.key != nil {
			p.Write(first, y+l.Height(), l, "key")
			return
		}
		p.Write(first, y+l.Height(), l, "first")
		p.Write(second, y+l.Height(), l, "corrected")
	}}
}

// under joins a table's heads and its first row, which must not be torn.
func under(heads, row drawing.Block) drawing.Block {
	return drawing.Block{Wide: true, H: heads.H + row.H, Draw: func(p *drawing.Page, x, y float64) {
		heads.Draw(p, x, y)
		row.Draw(p, x, y+heads.H)
	}}
}

// field is the row of one asked number: its balloon, name and datum, and where
// to write it. After the release its right number stands there.
func (f form) field(n int, st grading.SheetStep) drawing.Block {
	step, _ := f.step(st.ID)
	name, from := f.size(10.5, true), f.size(9, false)
	first, _ := f.boxes(0)
	width := first - 16*f.times
	nameHigh := name.Height() * (1.35 + drawing.LineStep*float64(len(name.Wrap(step.Name, width))-1))
	text := nameHigh + drawing.LineStep*from.Height()*float64(len(from.Wrap(step.From, width)))
	h := text + 2
	if f.key == nil {
		h = max(h, boxHigh*f.boxTimes()+2)
	}
	return drawing.Block{Wide: true, H: h, Draw: func(p *drawing.Page, x, y float64) {
		p.Rule(drawing.NarrowLine, x+2, y, x+f.fullWidth()-2, y)
		p.Balloon(x+6*f.times, y+5*f.times, 0.85*f.times, n)
		at := x + 12*f.times
		p.Paragraph(at, y+1+name.Height(), width, name, step.Name)
		p.Paragraph(at, y+1+nameHigh+from.Height(), width, from, step.From)
		f.writeHere(p, x, y+1, st)
	}}
}

func (f form) writeHere(p *drawing.Page, x, y float64, st grading.SheetStep) {
	first, second := f.boxes(x)
	unit := f.size(10, false)
	if f.key != nil {
		answer := f.size(11, true)
		p.Write(first, y+boxHigh*0.7, answer, f.key[st.ID])
		return
	}
	k := f.boxTimes()
	for _, left := range []float64{first, second} {
		p.Box(drawing.NarrowLine, left, y, boxWide*k, boxHigh*k)
		p.Write(left+boxWide*k+1, y+boxHigh*k*0.7, unit, f.unitSign(st.Unit))
	}
}

// cautionBlock is the last thing on a sheet.
func (f form) cautionBlock() drawing.Block {
	l := f.size(9.5, false)
	width := f.fullWidth() - 2*inside
	lines := float64(len(l.Wrap(caution, width)))
	return drawing.Block{Wide: true, H: (lines*drawing.LineStep + 1.2) * l.Height(), Draw: func(p *drawing.Page, x, y float64) {
		p.Rule(drawing.NarrowLine, x+2, y, x+f.fullWidth()-2, y)
		p.Paragraph(x+2, y+1.5*l.Height(), width, l, caution)
	}}
}
