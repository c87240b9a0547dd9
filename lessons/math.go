package lessons

import (
	"errors"
	"fmt"
	"html"
	"regexp"
	"strings"

	"arrisbook/grading/formula"
)

// idPattern is the shape of the ids of quantities and givens.
var idPattern = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// equation is a formula as a page writes it, with the name it defines.
type equation struct {
	left  string // "" for a formula alone
	right formula.Formula
}

// splitEquation parts “name = formula”; at is how many columns the formula
// stands further to the right.
func splitEquation(src string) (left, right string, at int) {
	l, r, found := strings.Cut(src, "=")
	if !found {
		return "", src, 0
	}
	trimmed := strings.TrimLeft(r, " \t")
	return strings.TrimSpace(l), trimmed, len([]rune(src)) - len([]rune(trimmed))
}

// equation reads and checks what stands in a formula or a result. The error is
// a sentence with the column of the fault.
func (s scope) equation(src string) (equation, formula.Dim, error) {
	left, right, at := splitEquation(src)
	if left == "" && at > 0 || left != "" && !idPattern.MatchString(left) {
		return equation{}, 0, errors.New("column 1: before the equals sign stands one name, such as half_angle")
	}
	f, err := formula.Parse(right)
	if err != nil {
		return equation{}, 0, inColumn(err, at)
	}
	d, err := f.Check(s.dim)
	if err != nil {
		return equation{}, 0, inColumn(s.unknown(f, err), at)
	}
	if left == "" {
		return equation{right: f}, d, nil
	}
	want, known := s.dim(left)
	if !known {
		return equation{}, 0, fmt.Errorf("column 1: %s is no name on this page%s", left, suggestion(left, sortedKeys(s)))
	}
	if err := f.CheckAs(want, s.dim); err != nil {
		return equation{}, 0, inColumn(err, at)
	}
	return equation{left, f}, want, nil
}

// unknown turns the error about a name nobody knows into one that says which
// name was probably meant.
func (s scope) unknown(f formula.Formula, err error) error {
	for _, id := range f.Names() {
		if _, known := s[id]; known {
			continue
		}
		hint := suggestion(id, sortedKeys(s))
		if hint == "" {
			hint = ": a formula may use the ids of a family that a block of this page names, and the givens and steps of its exercises"
		}
		return &formula.Error{Col: column(err), Msg: id + " is no name on this page" + hint}
	}
	return err
}

func column(err error) int {
	var at *formula.Error
	if errors.As(err, &at) {
		return at.Col
	}
	return 1
}

// inColumn words a formula's error with its column, moved to the right.
func inColumn(err error, by int) error {
	var at *formula.Error
	if !errors.As(err, &at) {
		return err
	}
	return fmt.Errorf("column %d: %s", at.Col+by, at.Msg)
}

// write gives the equation as MathML.
func (s scope) write(e equation, block bool) string {
	return e.right.MathML(e.left, s.symbol, block)
}

// read gives the equation as it is read aloud.
func (s scope) read(e equation) string {
	right := e.right.Speech("", s.words)
	if e.left == "" {
		return right
	}
	return s.words(e.left) + " = " + right
}

// resolveFormula checks $…$ and writes it.
func (p *page) resolveFormula(n *formulaNode, line int) {
	switch {
	case n.open:
		p.fault(line, "a formula begins with $ and has no second $ on its line: write \\$ for the sign itself")
		return
	case n.src == "":
		p.fault(line, "there is no formula between the two $")
		return
	}
	e, _, err := p.names.equation(n.src)
	if err != nil {
		p.fault(line, "in $%s$, %v", n.src, err)
		return
	}
	n.left = e.left
	n.html = p.names.write(e, false)
	n.words = p.names.read(e)
	n.block = `<div class="formula">` + p.names.write(e, true) + "</div>\n" +
		`<p class="words">In words: ` + html.EscapeString(n.words) + "</p>\n"
}

// checkTaught holds a formula that stands alone, and so teaches, against the
// page's first example: it must give what the joint's geometry, or the
// exercise, gives. Wrong ways are shown inside a line, where nothing is held
// against them.
func (p *page) checkTaught(n *formulaNode, line int) {
	if n.left == "" {
		return
	}
	for _, s := range p.examples {
		if _, known := s.value(n.left); !known {
			continue
		}
		e, _, err := p.names.equation(n.src)
		if err != nil {
			return // said already
		}
		v, err := e.right.Eval(s.value)
		if err != nil {
			p.fault(line, "$%s$ has no value on the example of line %d: %v", n.src, s.line, err)
			return
		}
		holds(p, s, e, v, line)
		return
	}
}
