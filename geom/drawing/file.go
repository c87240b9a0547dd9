package drawing

import "html"

// fileStyles are the line types for a file that stands alone, black on white:
// a page of the program has its own style sheet.
const fileStyles = `svg{background:#fff;fill:none;stroke:#000;stroke-width:1px;` +
	`font:14px "Liberation Sans",sans-serif;font-variant-numeric:tabular-nums}` +
	`.v{stroke-width:2px;stroke-linejoin:round;stroke-linecap:round}` +
	`.thin .v{stroke-width:1px}.thin .n,.thin .h,.thin .c,.thin .p{stroke-width:.72px}` +
	`.h{stroke-dasharray:7 4}.c{stroke-dasharray:16 3 2 3}.p{stroke-dasharray:14 3 2 3 2 3}` +
	`.a{fill:#000;stroke:none}text{fill:#000;stroke:none;text-anchor:middle}` +
	`.s{text-anchor:start}.e{text-anchor:end}.k{font-size:13px}.b{font-weight:700}` +
	`.ball circle{fill:#fff;stroke-width:2px}.ball text{font-size:15px;font-weight:700}.hit{display:none}`

// File writes the view as an SVG file of its own: at its size on paper in
// millimetres, with its styles and its caption, without links.
func (v View) File() string {
	if v.Caption != "" {
		block := ViewBlock(v, 1)
		p := NewPage(Paper{W: v.W / unitsPerMM, H: block.H})
		block.Draw(p, 0, 0)
		return View{Title: v.Title, Desc: v.Desc, W: v.W, H: block.H * unitsPerMM, items: p.items}.File()
	}
	w := &svgWriter{b: make([]byte, 0, 8<<10)}
	w.s(`<svg xmlns="http://www.w3.org/2000/svg" width="`, mm(v.W), `" height="`, mm(v.H),
		`" viewBox="0 0 `).n(v.W).s(" ").n(v.H).s(`" role="img"><title>`, html.EscapeString(v.Title), `</title>`)
	if v.Desc != "" {
		w.s(`<desc>`, html.EscapeString(v.Desc), `</desc>`)
	}
	w.s("<style>", fileStyles, "</style>")
	w.items(rescaled(v.items, pt{}, 1))
	w.s("</svg>\n")
	return string(w.b)
}
