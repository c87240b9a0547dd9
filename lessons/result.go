package lessons

import (
	"html"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// millimetresPerInch is exact by definition.
const millimetresPerInch = 25.4

// resultUnits are the units a result may ask for, by the word behind the
// formula.
var resultUnits = map[string]struct {
	dim   formula.Dim
	scale float64
	unit  joint.Unit
}{
	"mm":  {formula.Length, 1, joint.MM},
	"in":  {formula.Length, 1 / millimetresPerInch, "in"},
	"deg": {formula.Angle, 1, joint.Deg},
	"mm2": {formula.Area, 1, joint.MM2},
}

// cutUnit parts a unit word from the end of a result's text.
func cutUnit(src string) (text, unit string) {
	i := strings.LastIndexAny(src, " \t")
	if i < 0 {
		return src, ""
	}
	if _, known := resultUnits[src[i+1:]]; known {
		return strings.TrimSpace(src[:i]), src[i+1:]
	}
	return src, ""
}

// resolveResult works out [= …] on the nearest example above it.
func (p *page) resolveResult(n *resultNode, line int) {
	switch {
	case n.open:
		p.fault(line, "a result begins with [= and has no ] on its line")
		return
	case n.src == "":
		p.fault(line, "there is no formula in [= ]")
		return
	case p.noExample:
		return // said at the sizes block
	case p.example == nil:
		p.fault(line, "[= %s] has no sizes block above it to be worked out on", n.src)
		return
	}
	text, unit := cutUnit(n.src)
	e, d, err := p.names.equation(text)
	if err != nil {
		p.fault(line, "in [= %s], %v", n.src, err)
		return
	}
	if u, asked := resultUnits[unit]; asked && u.dim != d {
		p.fault(line, "[= %s] gives %s, which is not written in %s", n.src, d, unit)
		return
	}
	v, err := e.right.Eval(p.example.value)
	if err != nil {
		p.fault(line, "[= %s] has no value on the example of line %d: %v", n.src, p.example.line, err)
		return
	}
	if holds(p, p.example, e, v, line) {
		p.writeResult(n, e, d, unit, v)
	}
}

// holds checks an equation with what an example really gives.
func holds(p *page, s *sizes, e equation, v float64, line int) bool {
	if e.left == "" {
		return true
	}
	right, known := s.value(e.left)
	switch {
	case !known:
		p.fault(line, "%s has no value on the example of line %d", e.left, s.line)
		return false
	case !agree(v, right):
		p.fault(line, "%s = %s gives %s on the example of line %d, where %s is %s",
			e.left, e.right, twoPlaces(v), s.line, e.left, twoPlaces(right))
		return false
	}
	return true
}

// writeResult prints the value, and for an equation the formula before it with
// the figures of the example put in.
func (p *page) writeResult(n *resultNode, e equation, d formula.Dim, unit string, v float64) {
	shown, u := v, unitOf(d)
	if r, asked := resultUnits[unit]; asked {
		shown, u = v*r.scale, r.unit
	}
	number := twoPlaces(shown)
	if name, lone := e.right.Root().(formula.Name); lone && unit == "" {
		if size, given := p.example.blank[name.ID]; given {
			number = shortest(size)
		}
	}
	n.text = quantity(number, u)
	n.html = html.EscapeString(n.text)
	if e.left == "" {
		return
	}
	worked := e.right.Substitute(p.figure)
	n.text = p.names.words(e.left) + " = " + n.text
	n.html = `<span class="worked">` + worked.MathML(e.left, p.names.symbol, false) +
		" =\u00a0<b>" + n.html + `</b></span>`
}

// figure gives a name's value on the example as a written number: a given as
// it stands, everything else with two decimals.
func (p *page) figure(id string) (formula.Formula, bool) {
	v, ok := p.example.value(id)
	if !ok || v < 0 {
		return formula.Formula{}, false
	}
	text := twoPlaces(v)
	if size, given := p.example.blank[id]; given {
		text = shortest(size)
	}
	return formula.FromNode(formula.Num{Value: v, Text: text}), true
}
