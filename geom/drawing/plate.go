package drawing

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"arrisbook/geom/joint"
)

// Plate is a finished workshop drawing of one blank: all views of its sheet at
// standard scales with their sizes, and a table of its numbers.
type Plate struct {
	Family *joint.Family
	Blank  joint.Values
	Method Angle
	View   string // only this view; "" for all
}

// ViewNames lists what [OneView] can draw of a family, the views of its sheet
// first, then the lesson figures.
func ViewNames(f *joint.Family) []string {
	p, ok := painters[f.ID]
	if !ok {
		return nil
	}
	var names []string
	if l, err := f.Layout(f.House); err == nil {
		for _, v := range p.sheet(l, plateSheet(f, l)) {
			names = append(names, v.View.ID)
		}
	}
	for _, figure := range FigureNames(f) {
		if !slices.Contains(names, figure) {
			names = append(names, figure)
		}
	}
	return names
}

// plateSheet says what views show when nothing is asked: every size and
// quantity as symbol and value.
func plateSheet(f *joint.Family, l joint.Layout) Sheet {
	return Sheet{Blank: l.Parameters, Given: labels(f, l), Answers: map[string]string{}, Plain: true}
}

// OneView draws one view of a blank by its name, with figures: a view of its
// sheet, else a lesson figure. An unknown name is a *NameError.
func OneView(f *joint.Family, blank joint.Values, name string) (View, error) {
	_, l, err := paintBuildable(f, blank)
	if err != nil {
		return View{}, err
	}
	views, err := SheetViews(f, plateSheet(f, l))
	if err != nil {
		return View{}, err
	}
	for _, v := range views {
		if v.ID == name {
			return v, nil
		}
	}
	if slices.Contains(FigureNames(f), name) {
		return Figure(f, name, blank)
	}
	return View{}, &NameError{Name: name, Known: ViewNames(f)}
}

// paintBuildable is paint for drawings of wood that is to be cut: a blank that
// cannot be built is refused.
func paintBuildable(f *joint.Family, blank joint.Values) (painter, joint.Layout, error) {
	p, l, err := paint(f, blank)
	if err == nil && !l.Buildable() {
		err = fmt.Errorf("this blank cannot be built, so it is not drawn: %s", l.Problems[0])
	}
	return p, l, err
}

// NameError says that a family has no view of a name.
type NameError struct {
	Name  string
	Known []string
}

func (e *NameError) Error() string { return fmt.Sprintf("there is no view %q", e.Name) }

// Pages sets the plate on paper. With no end to the paper, which a height of
// nothing says, it is one page as high as it must be.
func (d Plate) Pages(paper Paper) ([]*Page, error) {
	_, l, err := paintBuildable(d.Family, d.Blank)
	if err != nil {
		return nil, err
	}
	views, err := d.views(l)
	if err != nil {
		return nil, err
	}
	blocks := []Block{}
	for _, v := range views {
		blocks = append(blocks, ViewBlock(v, 1))
	}
	blocks = append(blocks, numbersBlock(d.Family, l))
	return d.flow(paper, blocks).Pages(blocks), nil
}

func (d Plate) views(l joint.Layout) ([]View, error) {
	if d.View == "" {
		return SheetViews(d.Family, plateSheet(d.Family, l))
	}
	v, err := OneView(d.Family, d.Blank, d.View)
	return []View{v}, err
}

// plateMargin is the frame's distance from the paper's edge; the wider one on
// the left is for filing.
const (
	plateMargin = 10.0
	plateFiling = 20.0
)

func (d Plate) flow(paper Paper, blocks []Block) Flow {
	f := Flow{Columns: 2, Gap: 1}
	room := Room{X: plateFiling + 1, Y: plateMargin + 2, W: paper.W - plateFiling - plateMargin - 2}
	if paper.H == 0 {
		paper.H = roll(f, room, blocks) + 2*plateMargin + RowHeight + 4
	}
	room.H = paper.H - 2*plateMargin - RowHeight - 4
	f.Start = func(n int) (*Page, Room) {
		p := NewPage(paper)
		w := paper.W - plateFiling - plateMargin
		p.Box(WideLine, plateFiling, plateMargin, w, paper.H-2*plateMargin)
		p.TitleBlock(plateFiling, paper.H-plateMargin-RowHeight, w, [][]Cell{d.cells(n)}, []float64{RowHeight})
		return p, room
	}
	return f
}

// roll is how high a room must be that takes all blocks on one page.
func roll(f Flow, room Room, blocks []Block) float64 {
	room.H = math.Inf(1)
	f.Start = func(int) (*Page, Room) { return NewPage(Paper{}), room }
	c := &composition{flow: f}
	c.turn()
	high := 0.0
	for _, b := range blocks {
		c.set(b)
		for _, used := range c.used {
			high = max(high, used)
		}
	}
	return high
}

func (d Plate) cells(n int) []Cell {
	symbol := ProjectionSymbol(d.Method)
	return []Cell{
		{Label: "Title", Text: d.Family.Title, Share: 2.4},
		{Label: "Sheet", Text: strconv.Itoa(n + 1), Share: 0.6},
		{Label: "Unit", Text: "mm, degrees", Share: 1.3},
		{Label: "Scale", Text: "as noted"},
		{Label: "Projection", Picture: &symbol},
	}
}

// ViewBlock is a view with its caption under it, times its own size.
func ViewBlock(v View, times float64) Block {
	h := v.H * times / unitsPerMM
	caption := Lettering{Points: 9.5 * times}
	letter := Lettering{Points: 9.5 * times, Bold: true}
	indent := 2.0
	if v.Letter != "" {
		indent += letter.Width(v.Letter + "  ")
	}
	width := Width*times/unitsPerMM - indent - 1
	more := LineStep * caption.Height() * float64(max(0, len(caption.Wrap(v.Caption, width))-1))
	return Block{H: h + 7*times + more, Draw: func(p *Page, x, y float64) {
		p.Put(v, x, y, times)
		if v.Letter != "" {
			p.Write(x+2, y+h+2.5*times, letter, v.Letter)
		}
		p.Paragraph(x+indent, y+h+2.5*times, width, caption, v.Caption)
	}}
}

// numbersBlock is the table of a blank's sizes and numbers.
func numbersBlock(f *joint.Family, l joint.Layout) Block {
	type line struct{ symbol, name, value string }
	var lines []line
	value := func(unit joint.Unit, x float64) string {
		s := strconv.FormatFloat(hundredth(x), 'f', -1, 64)
		return s + map[joint.Unit]string{joint.MM: " mm", joint.Deg: "°", joint.MM2: " mm²"}[unit]
	}
	for _, p := range f.Parameters {
		lines = append(lines, line{p.Symbol, p.Name, value(p.Unit, l.Parameters[p.ID])})
	}
	given := len(lines)
	for _, q := range f.Quantities {
		if x, ok := l.Quantities[q.ID]; ok {
			lines = append(lines, line{q.Symbol, q.Name, value(q.Unit, x)})
		}
	}
	const row, width = 5.6, Width / unitsPerMM
	l1, l2 := Lettering{Points: 10}, Lettering{Points: 10, Anchor: AtEnd}
	return Block{H: float64(len(lines))*row + 6, Draw: func(p *Page, x, y float64) {
		x += 2
		for n, ln := range lines {
			at := y + float64(n)*row
			p.Write(x, at+4, l1, ln.symbol)
			p.Write(x+12, at+4, l1, Shorten(ln.name, l1, width-42))
			p.Write(x+width-5, at+4, l2, ln.value)
			kind := NarrowLine
			if n+1 == given {
				kind = WideLine
			}
			p.Rule(kind, x, at+row, x+width-5, at+row)
		}
	}}
}
