package drawing

import (
	"html"
	"math"
	"strconv"
)

// classes are the line types' classes; the page's style sheet gives them
// width, dashes and colour.
var classes = [...]string{narrow: "n", phantom: "p", hidden: "h", centre: "c", visible: "v", ink: "a"}

// SVG writes the view as one <svg> element. Links go to "#n<number>" and
// balloons carry the id "d<number>"; classes carry the line types so that the
// page's style sheet colours them. No style attribute and no script. A view
// with links is a group to assistive technology, any other an image.
func (v View) SVG() string {
	w := &svgWriter{b: make([]byte, 0, 8<<10)}
	w.open(v)
	w.items(v.items)
	w.s("</svg>")
	return string(w.b)
}

func (w *svgWriter) items(items []item) {
	for i := 0; i < len(items); {
		i += w.run(items[i:])
	}
}

// svgWriter appends to one buffer. Numbers are written without a string of
// their own: a drawing is mostly numbers.
type svgWriter struct {
	b       []byte
	windows int
}

// s writes texts as they are.
func (w *svgWriter) s(parts ...string) *svgWriter {
	for _, p := range parts {
		w.b = append(w.b, p...)
	}
	return w
}

// c writes one letter.
func (w *svgWriter) c(letter byte) *svgWriter {
	w.b = append(w.b, letter)
	return w
}

// n writes a number as num does.
func (w *svgWriter) n(x float64) *svgWriter { return w.t(tenths(x)) }

// t writes a number of tenths.
func (w *svgWriter) t(n int64) *svgWriter {
	if n < 0 {
		w.b, n = append(w.b, '-'), -n
	}
	w.b = strconv.AppendInt(w.b, n/10, 10)
	if rest := n % 10; rest > 0 {
		w.b = append(w.b, '.', '0'+byte(rest))
	}
	return w
}

// tenths is a number in whole tenths.
func tenths(x float64) int64 { return int64(math.Round(x * 10)) }

func (w *svgWriter) open(v View) {
	role := "img"
	for _, i := range v.items {
		if d, ok := i.(disc); ok && d.linked {
			role = "group"
		}
	}
	class := "drawing"
	if v.class != "" {
		class += " " + v.class
	}
	id := html.EscapeString(v.ID)
	w.s(`<svg class="`, class, `" viewBox="0 0 `).n(v.W).s(" ").n(v.H).s(`" role="`, role)
	if id == "" {
		w.s(`" aria-label="`, html.EscapeString(v.Title), `">`)
		return
	}
	w.s(`" aria-labelledby="`, id, `-t`)
	if v.Desc != "" {
		w.s(" ", id, "-d")
	}
	w.s(`"><title id="`, id, `-t">`, html.EscapeString(v.Title), `</title>`)
	if v.Desc != "" {
		w.s(`<desc id="`, id, `-d">`, html.EscapeString(v.Desc), `</desc>`)
	}
}

// run writes the first item, or as many of one line type as follow each other
// as one path, and says how many that was.
func (w *svgWriter) run(items []item) int {
	switch i := items[0].(type) {
	case text:
		w.text(i)
		return 1
	case disc:
		w.disc(i)
		return 1
	case ring:
		w.ring(i.centre, i.r, classes[i.kind])
		return 1
	case window:
		w.window(i)
		return 1
	}
	l := items[0].layer()
	w.s(`<path class="`, classes[l], `" d="`)
	n := 0
	for ; n < len(items) && items[n].layer() == l && isPath(items[n]); n++ {
		w.outline(items[n])
	}
	w.s(`"/>`)
	return n
}

// outline writes a stroke's or a filled outline's steps.
func (w *svgWriter) outline(i item) {
	switch m := i.(type) {
	case stroke:
		w.steps(m.steps)
	case solid:
		op := byte('M')
		for _, p := range m.corners {
			w.c(op).n(p.x).c(' ').n(p.y)
			op = 'L'
		}
		w.c('z')
	}
}

func isPath(i item) bool {
	switch i.(type) {
	case stroke, solid:
		return true
	}
	return false
}

func outlineOf(i item) []step {
	if s, ok := i.(stroke); ok {
		return s.steps
	}
	var steps []step
	for k, p := range i.(solid).corners {
		op := byte('L')
		if k == 0 {
			op = 'M'
		}
		steps = append(steps, step{op: op, p: p})
	}
	return append(steps, step{op: 'Z'})
}

func (w *svgWriter) steps(steps []step) {
	var atX, atY int64
	for _, s := range steps {
		x, y := tenths(s.p.x), tenths(s.p.y)
		switch {
		case s.op == 'Z':
			w.c('z')
			continue
		case s.op == 'A':
			sweep := " 0 0 0 "
			if s.clockwise {
				sweep = " 0 0 1 "
			}
			w.c('A').n(s.r).c(' ').n(s.r).s(sweep).t(x).c(' ').t(y)
		case s.op == 'L' && y == atY:
			w.c('H').t(x)
		case s.op == 'L' && x == atX:
			w.c('V').t(y)
		case s.op == 'L':
			w.c('L').t(x).c(' ').t(y)
		default:
			w.c('M').t(x).c(' ').t(y)
		}
		atX, atY = x, y
	}
}

// window writes part of a template, with the thinner lines that those have.
func (w *svgWriter) window(v window) {
	w.windows++
	id := "w" + strconv.Itoa(w.windows)
	w.s(`<clipPath id="`, id, `"><rect x="`).n(v.lo.x).s(`" y="`).n(v.lo.y)
	w.s(`" width="`).n(v.hi.x - v.lo.x).s(`" height="`).n(v.hi.y - v.lo.y)
	w.s(`"/></clipPath><g class="thin" clip-path="url(#`, id, `)">`)
	w.items(v.marks)
	w.s("</g>")
}

func (w *svgWriter) ring(c pt, r float64, class string) {
	w.s(`<circle`)
	if class != "" {
		w.s(` class="`, class, `"`)
	}
	w.s(` cx="`).n(c.x).s(`" cy="`).n(c.y).s(`" r="`).n(r).s(`"/>`)
}

func (w *svgWriter) text(t text) {
	class := "t"
	if t.size == sizeNote {
		class = "t k"
	}
	w.s(`<text class="`, class, [...]string{middle: "", start: " s", end: " e"}[t.anchor], [...]string{upright: "", strong: " b"}[t.face])
	w.s(`" x="`).n(t.at.x).s(`" y="`).n(t.at.y).s(`"`)
	if t.size != sizeText && t.size != sizeNote {
		w.s(` font-size="`).n(t.size).s(`"`)
	}
	if tenth(t.turn) != 0 {
		w.s(` transform="rotate(`).n(t.turn).s(" ").n(t.at.x).s(" ").n(t.at.y).s(`)"`)
	}
	w.s(">", html.EscapeString(t.words), "</text>")
}

// disc writes a balloon: an unseen disc for the finger, a second ring where it
// is the next thing to do, the circle and the number.
func (w *svgWriter) disc(d disc) {
	n := strconv.Itoa(d.Number)
	class := "ball"
	if d.Next {
		class += " red"
	}
	w.s(`<g class="`, class, `"`)
	switch k := d.scale(); {
	case d.times == 0:
		w.s(` id="d`, n, `"`)
	case k != 1:
		w.s(` transform="matrix(`, fine(k), ` 0 0 `, fine(k), " ", fine(d.at.x*(1-k)), " ", fine(d.at.y*(1-k)), `)"`)
	}
	w.s(">")
	if d.linked {
		w.s(`<a href="#n`, n, `" aria-label="`, html.EscapeString(linkName(d.Balloon)), `">`)
		w.ring(d.at, hitRadius, "hit")
	}
	if d.Next {
		w.ring(d.at, ringRadius, "")
	}
	w.ring(d.at, ballRadius, "")
	w.s(`<text x="`).n(d.at.x).s(`" y="`).n(d.at.y+0.355*sizeNumber).s(`">`, n, `</text>`)
	if d.linked {
		w.s("</a>")
	}
	w.s("</g>")
}

func linkName(b Balloon) string {
	s := "To number " + strconv.Itoa(b.Number)
	if b.Name != "" {
		s += ", " + lowerFirst(b.Name)
	}
	return s
}

// tenth rounds to a tenth of a unit, a fortieth of a millimetre of paper.
func tenth(x float64) float64 {
	r := math.Round(x*10) / 10
	if r == 0 {
		return 0 // no minus sign
	}
	return r
}

func hundredth(x float64) float64 { return math.Round(x*100) / 100 }

// num2 writes a gap: two decimals.
func num2(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

// fine writes a factor: three decimals.
func fine(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64) }

func num(x float64) string { return strconv.FormatFloat(tenth(x), 'f', -1, 64) }
