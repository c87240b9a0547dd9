package drawing

// Cell is one field of a title block.
type Cell struct {
	Label, Text string
	Share       float64 // of the row's width; 0 is 1
	Picture     *View   // instead of a text
}

// Lettering of title blocks: never under 9 points, as on a drawing sheet.
var (
	cellLabel = Lettering{Points: 9}
	cellText  = Lettering{Points: 10}
)

// RowHeight is the height of one row of a title block with room for its text;
// a row to write into takes twice that.
const RowHeight = 10.0

// TitleBlock draws rows of cells from (x, y) down, w wide, within a wide frame
// line above, in the spirit of ISO 7200. Texts too long for their cell are
// cut. heights are the rows' own.
func (p *Page) TitleBlock(x, y, w float64, rows [][]Cell, heights []float64) {
	p.Rule(WideLine, x, y, x+w, y)
	for n, row := range rows {
		if n > 0 {
			p.Rule(NarrowLine, x, y, x+w, y)
		}
		p.cells(x, y, w, heights[n], row)
		y += heights[n]
	}
}

func (p *Page) cells(x, y, w, h float64, row []Cell) {
	all := 0.0
	for _, c := range row {
		all += c.share()
	}
	for n, c := range row {
		wide := w * c.share() / all
		if n > 0 {
			p.Rule(NarrowLine, x, y, x, y+h)
		}
		p.Write(x+1.5, y+3.7, cellLabel, c.Label)
		if c.Picture != nil {
			p.Put(*c.Picture, x+1.5, y+4.2, 0.8)
		}
		p.Write(x+1.5, y+8.3, cellText, Shorten(c.Text, cellText, wide-3))
		x += wide
	}
}

func (c Cell) share() float64 {
	if c.Share == 0 {
		return 1
	}
	return c.Share
}

// Shorten cuts a text that is wider than width millimetres and ends it with an
// ellipsis.
func Shorten(words string, l Lettering, width float64) string {
	if l.Width(words) <= width {
		return words
	}
	letters := []rune(words)
	for len(letters) > 0 && l.Width(string(letters)+"…") > width {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}
