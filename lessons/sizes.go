package lessons

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

// sizes is a page's example: one blank, and every number that follows from it.
type sizes struct {
	line    int
	caption string
	family  *joint.Family // nil for an exercise over its own givens
	givens  []joint.Parameter
	blank   joint.Values
	values  joint.Values // the blank and what follows from it
}

// readSizes reads a sizes block: the family or the exercise it is an example
// of, and a value for every given.
func (p *page) readSizes(line int, text []byte) *sizes {
	f := &form{p: p, first: line + 1, line: line, what: "the sizes block"}
	n, ok := f.read(text)
	if !ok {
		return nil
	}
	s := &sizes{line: line, caption: "The example blank", blank: joint.Values{}}
	var exercise string
	var own []entry
	for _, e := range f.entries(n, f.what) {
		switch e.key {
		case "family":
			s.family = p.family(f, e.value)
		case "exercise":
			exercise = f.text(e.value, "exercise")
		case "caption":
			s.caption = f.text(e.value, "caption")
		default:
			own = append(own, e)
		}
	}
	ex, ok := p.exampleOf(s, exercise, f, n)
	if !ok || !s.take(f, n, own) {
		return nil
	}
	return s.work(f, n, ex)
}

// exampleOf finds what the sizes are an example of, and its givens. ok is
// false where it is nothing, or something with faults of its own.
func (p *page) exampleOf(s *sizes, exercise string, f *form, n *yaml.Node) (ex *grading.Exercise, ok bool) {
	switch {
	case p.broken[exercise]: // said at the exercise
		return nil, false
	case exercise != "":
		ex = p.exerciseNamed(exercise)
		if ex == nil {
			f.fault(n, "the sizes block names the exercise %s, which this page does not have", exercise)
			return nil, false
		}
		s.family = ex.Family
		for _, g := range ex.Givens {
			s.givens = append(s.givens, g.Parameter)
		}
		return ex, true
	case s.family != nil:
		s.givens = s.family.Parameters
		return nil, true
	case !mentions(n, "family"):
		f.fault(n, "the sizes block names no family and no exercise")
	}
	return nil, false
}

// mentions says whether a mapping has a key.
func mentions(n *yaml.Node, key string) bool {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return true
		}
	}
	return false
}

// take reads the values of the givens.
func (s *sizes) take(f *form, n *yaml.Node, own []entry) bool {
	ok := true
	ids := make([]string, len(s.givens))
	for i, g := range s.givens {
		ids[i] = g.ID
	}
	for _, e := range own {
		if !slices.Contains(ids, e.key) {
			f.fault(e.name, "%s is not a given here%s", e.key, suggestion(e.key, ids))
			ok = false
			continue
		}
		text := f.text(e.value, e.key)
		v, err := parseNumber(text)
		s.blank[e.key] = v
		if text != "" && err != nil {
			f.fault(e.value, "%s: %q %v", e.key, text, err)
		}
		ok = ok && err == nil
	}
	missing := slices.DeleteFunc(ids, func(id string) bool { _, given := s.blank[id]; return given })
	if len(missing) > 0 {
		f.fault(n, "there is no size for %s", strings.Join(missing, ", "))
		ok = false
	}
	return ok
}

// work builds the example and collects every number that follows.
func (s *sizes) work(f *form, n *yaml.Node, ex *grading.Exercise) *sizes {
	var follow joint.Values
	if s.family != nil {
		l, err := s.family.Layout(s.blank)
		if err != nil {
			f.fault(n, "the example blank cannot be laid out: %v", err)
			return nil
		}
		if !l.Buildable() {
			f.fault(n, "the example blank cannot be built: %s", strings.Join(l.Problems, " "))
			return nil
		}
		follow = l.Quantities
	} else {
		follow = grading.Key(ex, s.blank)
	}
	s.values = joint.Values{}
	for _, vs := range []joint.Values{follow, s.blank} {
		for id, v := range vs {
			s.values[id] = v
		}
	}
	return s
}

func (s *sizes) value(id string) (float64, bool) {
	v, ok := s.values[id]
	return v, ok
}

// table writes the example's givens.
func (s *sizes) table(names scope) string {
	var b strings.Builder
	b.WriteString("<table class=\"sizes\">\n<caption>" + prose(s.caption) + "</caption>\n<tbody>\n")
	for _, g := range s.givens {
		fmt.Fprintf(&b, "<tr><th scope=\"row\">%s</th><td>%s</td><td class=\"num\">%s</td></tr>\n",
			prose(g.Name), names.symbolHTML(g.ID), quantity(shortest(s.blank[g.ID]), g.Unit))
	}
	b.WriteString("</tbody>\n</table>\n")
	return b.String()
}

// shortest prints a size as it was given.
func shortest(v float64) string { return minus(strconv.FormatFloat(v, 'f', -1, 64)) }

// twoPlaces prints a result: two decimals, as all worked figures have.
func twoPlaces(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	if s == "-0.00" {
		s = "0.00"
	}
	return minus(s)
}

// minus writes a negative number with the real minus sign.
func minus(s string) string { return strings.Replace(s, "-", "−", 1) }

// quantity puts the unit behind a number; a space that does not break goes
// between, except before a degree sign.
func quantity(number string, u joint.Unit) string {
	switch u {
	case joint.Deg:
		return number + "°"
	case joint.MM:
		return number + "\u00a0mm"
	case joint.MM2:
		return number + "\u00a0mm²"
	case joint.One:
		return number
	}
	return number + "\u00a0" + string(u)
}

// unitOf gives the unit of a dimension at the boundary.
func unitOf(d formula.Dim) joint.Unit {
	switch d {
	case formula.Length:
		return joint.MM
	case formula.Angle:
		return joint.Deg
	case formula.Area:
		return joint.MM2
	}
	return joint.One
}

// agree says whether two figures are the same but for rounding in the last
// places of the machine.
func agree(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b))
}
