package drawing

import (
	"html"
	"math"
	"strconv"
	"strings"
)

// classes are the line types' classes; the page's style sheet gives them
// width, dashes and colour.
var classes = [...]string{narrow: "n", phantom: "p", hidden: "h", centre: "c", visible: "v", ink: "a"}

// SVG writes the view as one <svg> element. Links go to "#n<number>" and
// balloons carry the id "d<number>"; classes carry the line types so that the
// page's style sheet colours them. No style attribute and no script. A view
// with links is a group to assistive technology, any other an image.
func (v View) SVG() string {
	w := &svgWriter{}
	w.open(v)
	w.items(v.items)
	w.s("</svg>")
	return w.b.String()
}

func (w *svgWriter) items(items []item) {
	for i := 0; i < len(items); {
		i += w.run(items[i:])
	}
}

type svgWriter struct {
	b       strings.Builder
	windows int
}

func (w *svgWriter) s(parts ...string) {
	for _, p := range parts {
		w.b.WriteString(p)
	}
}

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
	w.s(`<svg class="`, class, `" viewBox="0 0 `, num(v.W), " ", num(v.H), `" role="`, role)
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
		w.steps(outlineOf(items[n]))
	}
	w.s(`"/>`)
	return n
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
	var at pt
	for _, s := range steps {
		p := pt{tenth(s.p.x), tenth(s.p.y)}
		switch {
		case s.op == 'Z':
			w.s("z")
			continue
		case s.op == 'A':
			sweep := "0"
			if s.clockwise {
				sweep = "1"
			}
			w.s("A", num(s.r), " ", num(s.r), " 0 0 ", sweep, " ", num(p.x), " ", num(p.y))
		case s.op == 'L' && p.y == at.y:
			w.s("H", num(p.x))
		case s.op == 'L' && p.x == at.x:
			w.s("V", num(p.y))
		default:
			w.s(string(rune(s.op)), num(p.x), " ", num(p.y))
		}
		at = p
	}
}

// window writes part of a template, with the thinner lines that those have.
func (w *svgWriter) window(v window) {
	w.windows++
	id := "w" + strconv.Itoa(w.windows)
	w.s(`<clipPath id="`, id, `"><rect x="`, num(v.lo.x), `" y="`, num(v.lo.y),
		`" width="`, num(v.hi.x-v.lo.x), `" height="`, num(v.hi.y-v.lo.y), `"/></clipPath><g class="thin" clip-path="url(#`, id, `)">`)
	w.items(v.marks)
	w.s("</g>")
}

func (w *svgWriter) ring(c pt, r float64, class string) {
	w.s(`<circle`)
	if class != "" {
		w.s(` class="`, class, `"`)
	}
	w.s(` cx="`, num(c.x), `" cy="`, num(c.y), `" r="`, num(r), `"/>`)
}

func (w *svgWriter) text(t text) {
	class := "t"
	if t.size == sizeNote {
		class += " k"
	}
	class += [...]string{middle: "", start: " s", end: " e"}[t.anchor]
	class += [...]string{upright: "", strong: " b"}[t.face]
	x, y := num(t.at.x), num(t.at.y)
	w.s(`<text class="`, class, `" x="`, x, `" y="`, y, `"`)
	if t.size != sizeText && t.size != sizeNote {
		w.s(` font-size="`, num(t.size), `"`)
	}
	if turn := num(t.turn); turn != "0" {
		w.s(` transform="rotate(`, turn, " ", x, " ", y, `)"`)
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
	w.s(`<text x="`, num(d.at.x), `" y="`, num(d.at.y+0.355*sizeNumber), `">`, n, `</text>`)
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
