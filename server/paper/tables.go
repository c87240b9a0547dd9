package paper

import (
	"fmt"
	"strconv"

	"arrisbook/geom/drawing"
	"arrisbook/grading"
)

// table is a ruled list over whole pages, for the instructor.
type table struct {
	paper   drawing.Paper
	head    string
	lead    string
	legend  []string // lines under the table of the last page
	columns []tableColumn
	rows    [][]string
	onePage bool // rows shrink until they fit
}

// tableColumn is one column: its heading and width in millimetres.
type tableColumn struct {
	head string
	wide float64
	end  bool // figures stand at its right
	bold bool
	rule bool // a line at its left
}

// Heights of a table's rows, in millimetres.
const (
	rowMost  = 7.0
	rowLeast = 3.2
)

func (t table) pages() []*drawing.Page {
	top := margin + 20.0
	legend := 4.4*float64(len(t.legend)) + 2
	room := t.paper.H - margin - top - rowMost - 4
	row := rowMost
	if t.onePage {
		row = min(rowMost, max(rowLeast, (room-legend)/float64(len(t.rows))))
	}
	each := max(1, int((room-legend)/row))
	var pages []*drawing.Page
	for from := 0; from < len(t.rows) || from == 0; from += each {
		p := drawing.NewPage(t.paper)
		to := min(len(t.rows), from+each)
		t.draw(p, top, row, t.rows[from:to], len(pages)+1)
		pages = append(pages, p)
	}
	return pages
}

// draw sets one page.
func (t table) draw(p *drawing.Page, y, row float64, rows [][]string, no int) {
	x := t.left()
	head := t.head
	if no > 1 {
		head = fmt.Sprintf("%s, page %d", head, no)
	}
	p.Write(x, margin+6, drawing.Lettering{Points: 16, Bold: true}, head)
	p.Paragraph(x, margin+12, t.paper.W-x-margin, drawing.Lettering{Points: 10}, t.lead)
	small := drawing.Lettering{Points: 9}
	t.row(p, y, rowMost, small, nil, heads(t.columns))
	y += rowMost
	p.Rule(drawing.WideLine, x, y, x+t.width(), y)
	points := min(10, row/1.55/drawing.Lettering{Points: 1}.Height())
	for _, cells := range rows {
		t.row(p, y, row, drawing.Lettering{Points: points}, t.columns, cells)
		y += row
		p.Rule(drawing.NarrowLine, x, y, x+t.width(), y)
	}
	for n, line := range t.legend {
		p.Write(x, y+5+4.4*float64(n), small, line)
	}
}

// left is the left edge: wide tables leave the filing margin.
func (t table) left() float64 { return max(margin, min(filing, t.paper.W-margin-t.width())) }

func (t table) width() float64 {
	w := 0.0
	for _, c := range t.columns {
		w += c.wide
	}
	return w
}

func heads(columns []tableColumn) []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = c.head
	}
	return out
}

// row writes one row of cells; looks, where given, says which are bold.
func (t table) row(p *drawing.Page, y, h float64, l drawing.Lettering, looks []tableColumn, cells []string) {
	x := t.left()
	for i, c := range t.columns {
		cell := l
		cell.Bold = looks != nil && looks[i].bold
		if c.rule {
			p.Rule(drawing.NarrowLine, x, y, x, y+h)
		}
		at := x + 1
		if c.end {
			cell.Anchor, at = drawing.AtEnd, x+c.wide-1
		}
		p.Write(at, y+h*0.5+0.36*cell.Height(), cell, drawing.Shorten(cells[i], cell, c.wide-1.2))
		x += c.wide
	}
}

// overview is the class on one page: who sits where, how each sheet stands,
// and room for initials.
func (o Order) overview() []*drawing.Page {
	steps := o.Sheets[0].Sheet.Steps
	t := table{
		paper: o.Class.Paper, head: o.Title, onePage: true,
		lead: fmt.Sprintf("%s, %s. %d by bench, as they stood when printed. For the instructor.", o.Class.Name, o.Date, len(o.Sheets)),
	}
	t.columns = []tableColumn{{head: "Bench", wide: 12, end: true}, {head: "Student", wide: 42, bold: true}, {head: "Code", wide: 16}, {head: "Stands", wide: 28}}
	initials := tableColumn{head: "Initials", wide: 18, rule: true}
	mark := max(5.6, min(8, (t.paper.W-2*margin-t.width()-initials.wide)/float64(len(steps))))
	for n := range steps {
		t.columns = append(t.columns, tableColumn{head: strconv.Itoa(n + 1), wide: mark, rule: true})
	}
	if t.paper.W-2*margin-t.width() >= initials.wide {
		t.columns = append(t.columns, initials)
	}
	for _, s := range o.Sheets {
		row := []string{strconv.Itoa(s.Bench), o.named(s), s.Code, s.State.Says}
		for _, st := range steps {
			row = append(row, verdictMark(s, st.ID))
		}
		t.rows = append(t.rows, row)
	}
	for n, row := range t.rows {
		for len(row) < len(t.columns) {
			row = append(row, "")
		}
		t.rows[n] = row
	}
	t.legend = append([]string{"R right, N near, F follows an earlier slip, W wrong, U unreadable, – not sent. Numbers:"}, o.legend(o.Class.Paper)...)
	return t.pages()
}

// named is a student's name in a list, or what to do where the lettering lacks
// a letter of it: a name with gaps would be nobody's.
func (o Order) named(s Sheet) string {
	if drawing.Printable(s.Student) {
		return s.Student
	}
	return "(write the name in)"
}

// verdictMark is a verdict as one letter.
func verdictMark(s Sheet, step string) string {
	switch s.State.Verdicts[step] {
	case grading.Right:
		return "R"
	case grading.Near:
		return "N"
	case grading.Follows:
		return "F"
	case grading.Wrong:
		return "W"
	case grading.Unreadable:
		return "U"
	}
	return "–"
}

// legend tells which number is which, in lines as wide as the paper.
func (o Order) legend(paper drawing.Paper) []string {
	words := ""
	for n, st := range o.Sheets[0].Sheet.Steps {
		step, _ := o.step(st.ID)
		if n > 0 {
			words += "; "
		}
		words += fmt.Sprintf("%d %s", n+1, lowerFirst(step.Name))
	}
	return drawing.Lettering{Points: 9}.Wrap(words+".", paper.W-2*filing)
}

// lowerFirst writes a name inside a sentence: "tip depth", "V length".
func lowerFirst(name string) string {
	if len(name) > 1 && name[1] >= 'a' && name[1] <= 'z' && name[0] >= 'A' && name[0] <= 'Z' {
		return string(name[0]+'a'-'A') + name[1:]
	}
	return name
}

// key is every sheet's right numbers, for the instructor: across the paper,
// since there are many.
func (o Order) key() []*drawing.Page {
	steps := o.Sheets[0].Sheet.Steps
	t := table{
		paper: o.Class.Paper.Across(), head: "Key: " + o.Title,
		lead: fmt.Sprintf("%s, %s. Not for the bench: whoever sees a line of it needs no layout. Lengths in %s.", o.Class.Name, o.Date, o.lengthWord()),
	}
	t.columns = []tableColumn{{head: "Bench", wide: 12, end: true}, {head: "Student", wide: 44}, {head: "Sheet", wide: 11, end: true}, {head: "Blank", wide: 30}}
	each := min(26, (t.paper.W-2*margin-t.width())/float64(len(steps)))
	for n := range steps {
		t.columns = append(t.columns, tableColumn{head: strconv.Itoa(n + 1), wide: each, end: true, rule: true})
	}
	for _, s := range o.Sheets {
		key := o.keyOf(s)
		row := []string{strconv.Itoa(s.Bench), o.named(s), strconv.Itoa(s.No), o.blankText(s)}
		for _, st := range steps {
			row = append(row, bare(key[st.ID]))
		}
		t.rows = append(t.rows, row)
	}
	t.legend = o.legend(t.paper)
	return t.pages()
}

// blankText names a blank by the sizes of its wood: "26 × 60".
func (o Order) blankText(s Sheet) string {
	text := ""
	for _, g := range o.Exercise.Givens {
		v, ok := s.Sheet.Parameters[g.ID]
		if !ok || !g.Measured {
			continue
		}
		if text != "" {
			text += " × "
		}
		text += bare(grading.Print(v, g.Unit, o.Class.Units))
	}
	return text
}
