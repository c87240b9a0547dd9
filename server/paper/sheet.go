package paper

import (
	"fmt"
	"strconv"
	"strings"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// Places of a sheet in millimetres: a frame line with a wider margin on the
// left for filing.
const (
	margin = 10.0
	filing = 20.0
	inside = 3.0 // from the frame to what is inside
)

// caution stands on every sheet that sends people to saw and bench.
const caution = "Numbers first, saw later. Only the instructor clears you to cut. " +
	"Edge tools and saws only as the shop’s rules and your instructor say."

// form is one sheet on its way: its lettering and how large all is drawn.
type form struct {
	Order
	s     Sheet
	times float64 // 1, or more in large print
	key   map[string]string
}

// largeTimes is how much larger large print is: 10 points become 16 (RNIB's
// and the American Printing House's least for large print is 16 to 18, from
// memory).
const largeTimes = 1.6

// sheet is a student's sheet: own sizes, drawing, and a field for each number.
func (o Order) sheet(s Sheet) ([]*drawing.Page, error) {
	f := form{Order: o, s: s, times: 1}
	if s.Large {
		f.times = largeTimes
	}
	if s.Released {
		f.key = o.keyOf(s)
	}
	blocks, err := f.blocks()
	if err != nil {
		return nil, err
	}
	return f.flow().Pages(blocks), nil
}

// keyOf are the right numbers of a sheet as the class writes them.
func (o Order) keyOf(s Sheet) map[string]string {
	texts := map[string]string{}
	for id, v := range grading.Key(o.Exercise, s.Sheet.Parameters) {
		if step, ok := o.step(id); ok {
			texts[id] = grading.Print(v, step.Unit, o.Class.Units)
		}
	}
	return texts
}

func (o Order) step(id string) (grading.Step, bool) {
	for _, st := range o.Exercise.Steps {
		if st.ID == id {
			return st, true
		}
	}
	return grading.Step{}, false
}

func (f form) size(points float64, bold bool) drawing.Lettering {
	return drawing.Lettering{Points: points * f.times, Bold: bold}
}

// flow says where the blocks of a sheet go: two columns, one in large print.
func (f form) flow() drawing.Flow {
	flow := drawing.Flow{Columns: 2, Gap: 1}
	if f.s.Large {
		flow.Columns = 1
	}
	paper := f.Class.Paper
	wide := paper.W - filing - margin
	flow.Start = func(n int) (*drawing.Page, drawing.Room) {
		p := drawing.NewPage(paper)
		p.Box(drawing.WideLine, filing, margin, wide, paper.H-2*margin)
		foot := f.titleBlock(p, n)
		top := f.head(p, n)
		return p, drawing.Room{X: filing + 1, Y: top, W: wide - 2, H: paper.H - margin - foot - 1 - top}
	}
	flow.Rest = f.working
	return flow
}

// working offers what is left of the last page for the student's own working.
func (f form) working(p *drawing.Page, left drawing.Room) {
	l := f.size(9.5, false)
	if left.H < 25 || f.key != nil {
		return
	}
	p.Rule(drawing.NarrowLine, left.X+2, left.Y, left.X+left.W-2, left.Y)
	p.Write(left.X+2, left.Y+1.5*l.Height(), l, "Room for your working")
}

// titleBlock puts the sheet's block at the foot, on the first page with the
// fields that are signed, and gives its height.
func (f form) titleBlock(p *drawing.Page, n int) float64 {
	symbol := drawing.ProjectionSymbol(f.Class.Method)
	scale := "not to scale"
	if f.s.Released {
		scale = "true shape"
	}
	rows := [][]drawing.Cell{
		{{Label: "Title", Text: f.Title, Share: 1.5}, {Label: "Student", Text: f.student(), Share: 1.5}, {Label: "Class", Text: f.Class.Name, Share: 1.5}},
		{
			{Label: "Sheet", Text: fmt.Sprintf("%d, page %d", f.s.No, n+1), Share: 1.1}, {Label: "Bench", Text: strconv.Itoa(f.s.Bench), Share: 0.8},
			{Label: "Code", Text: f.s.Code}, {Label: "Unit", Text: f.unitText(), Share: 1.2}, {Label: "Scale", Text: scale, Share: 1.2},
			{Label: "Projection", Picture: &symbol}, {Label: "Date", Text: f.Date, Share: 1.2},
		},
	}
	if !f.hasDrawing() {
		rows[1] = append(rows[1][:4], rows[1][6])
	}
	heights := []float64{drawing.RowHeight, drawing.RowHeight}
	if n == 0 {
		sign := []drawing.Cell{{Label: "Cleared to cut: instructor’s initials", Text: f.s.Cleared, Share: 1.4}, {Label: "Day and time"}, {Label: "Gap made, " + f.lengthWord()}}
		rows, heights = append([][]drawing.Cell{sign}, rows...), append([]float64{1.5 * drawing.RowHeight}, heights...)
	}
	high := 0.0
	for _, h := range heights {
		high += h
	}
	p.TitleBlock(filing, p.Paper.H-margin-high, p.Paper.W-filing-margin, rows, heights)
	return high
}

// student is the name, or room to write it where it cannot be printed.
func (f form) student() string {
	if drawing.Printable(f.s.Student) {
		return f.s.Student
	}
	return ""
}

func (o Order) unitText() string { return o.lengthWord() + ", degrees" }

func (o Order) lengthWord() string {
	if o.Class.Units == grading.Inches {
		return "inches"
	}
	return "mm"
}

// squareSide is the printed square with its quiet zone.
const squareSide = 27.0

// head writes what stands on top and says where the room for blocks begins.
func (f form) head(p *drawing.Page, n int) float64 {
	x, y := filing+inside, margin+2.0
	width := p.Paper.W - margin - filing - 2*inside
	title := f.size(18, true)
	if n > 0 {
		p.Write(x, y+6, drawing.Lettering{Points: 12, Bold: true}, drawing.Shorten(f.Title+", sheet "+strconv.Itoa(f.s.No)+", continued", drawing.Lettering{Points: 12, Bold: true}, width))
		return y + 9
	}
	f.square(p, p.Paper.W-margin-1-squareSide, margin+1)
	width -= squareSide
	y += title.Height()
	p.Write(x, y+1, title, drawing.Shorten(f.Title, title, width))
	lead := f.size(10, false)
	y = p.Paragraph(x, y+2+1.4*lead.Height(), width, lead, f.lead())
	code := f.size(10.5, true)
	p.Write(x, y+1, code, "Code to type: "+f.s.Code)
	return max(y+4, margin+squareSide+4)
}

// lead is the sentence under the title.
func (f form) lead() string {
	n := len(f.s.Sheet.Steps)
	asks := fmt.Sprintf("%d numbers to set out before anyone saws.", n)
	if n == 1 {
		asks = "One number to set out before anyone saws."
	}
	switch {
	case !f.hasDrawing():
		return asks
	case f.s.Released:
		return "The key is released: this is your joint in its true shape, with its numbers."
	}
	return asks + " Do not measure the drawing: it is not your wood."
}

// square draws the code as dark modules with their quiet zone.
func (f form) square(p *drawing.Page, x, y float64) {
	if len(f.s.Link) == 0 {
		return
	}
	side := squareSide / float64(len(f.s.Link))
	for j, row := range f.s.Link {
		for i := 0; i < len(row); i++ {
			from := i
			for i < len(row) && row[i] {
				i++
			}
			if i > from {
				p.Fill(x+float64(from)*side, y+float64(j)*side, float64(i-from)*side, side)
			}
		}
	}
}

// hasDrawing says whether the exercise's joint can be drawn.
func (o Order) hasDrawing() bool {
	return o.Exercise.Family != nil && len(drawing.FigureNames(o.Exercise.Family)) > 0
}

// blocks are what a sheet holds, in order: the first view, the sizes, the
// other views, the fields, the caution.
func (f form) blocks() ([]drawing.Block, error) {
	var blocks []drawing.Block
	if f.hasDrawing() {
		views, err := drawing.SheetViews(f.Exercise.Family, f.drawn())
		if err != nil && f.key == nil {
			return nil, err // of the house blank: our own mistake
		}
		// Measured wood may be of a shape that no drawing can show. Its numbers
		// are worth their paper all the same.
		for _, v := range views {
			blocks = append(blocks, drawing.ViewBlock(v, f.times))
		}
	}
	at := min(1, len(blocks))
	blocks = append(blocks[:at], append([]drawing.Block{f.givens()}, blocks[at:]...)...)
	heads := f.fieldHeads()
	for n, st := range f.s.Sheet.Steps {
		b := f.field(n+1, st)
		if n == 0 {
			b = under(heads, b)
		} else {
			b.Over = &heads
		}
		blocks = append(blocks, b)
	}
	return append(blocks, f.cautionBlock()), nil
}

// drawn says what the views show: the house blank before the release.
func (f form) drawn() drawing.Sheet {
	sheet := drawing.Sheet{Blank: f.Exercise.Family.House, Given: map[string]string{}, Method: f.Class.Method, Plain: true}
	for _, g := range f.Exercise.Givens {
		if v, ok := f.s.Sheet.Parameters[g.ID]; ok {
			sheet.Given[g.ID] = bare(grading.Print(v, g.Unit, f.Class.Units))
		}
	}
	if f.key != nil {
		sheet.Blank, sheet.Answers = f.s.Sheet.Parameters, map[string]string{}
		for id, text := range f.key {
			sheet.Answers[id] = bare(text)
		}
	}
	for n, st := range f.s.Sheet.Steps {
		step, _ := f.step(st.ID)
		sheet.Asked = append(sheet.Asked, drawing.Balloon{Number: n + 1, Quantity: st.ID, Name: step.Name})
	}
	return sheet
}

// bare leaves a length's unit away: drawings and title blocks state it once.
func bare(text string) string {
	return strings.TrimSuffix(strings.TrimSuffix(text, " mm"), " in")
}

// unitSign is what stands behind a field.
func (o Order) unitSign(u joint.Unit) string {
	inch := o.Class.Units == grading.Inches
	switch {
	case u == joint.Deg:
		return "°"
	case u == joint.MM && inch:
		return "in"
	case u == joint.MM:
		return "mm"
	case u == joint.MM2 && inch:
		return "in²"
	case u == joint.MM2:
		return "mm²"
	}
	return ""
}
