package grading

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// checkFormulas holds every step's formula to its unit, and a formula that
// replaces the taught one to the construction.
func (b *builder) checkFormulas() {
	m := &model{slots: map[string]int{}}
	for _, p := range b.ex.parameters() {
		m.addSlot(p.ID, p.Unit)
	}
	for _, d := range b.ex.definitions() {
		m.addSlot(d.id, d.unit)
	}
	for i, s := range b.ex.Steps {
		path := fmt.Sprintf("steps[%d].", i)
		if err := s.Formula.CheckAs(DimOf(s.Unit), m.dims); err != nil {
			b.formulaFault(path+"formula", err)
		}
		if s.Follow.Root() != nil {
			if err := s.Follow.CheckAs(DimOf(s.Unit), m.dims); err != nil {
				b.formulaFault(path+"follow", err)
			}
		}
		b.checkCarries(path, i, s)
	}
	b.checkRules(m)
	for i, p := range b.ex.Patterns {
		step, ok := b.ex.step(p.Step)
		if !ok {
			b.fault(fmt.Sprintf("patterns[%d].step", i), 0, "%s is not a step of this exercise.", p.Step)
			continue
		}
		if err := p.Formula.CheckAs(DimOf(step.Unit), m.dims); err != nil {
			b.formulaFault(fmt.Sprintf("patterns[%d].formula", i), err)
		}
	}
}

// checkCarries makes sure that there is something to follow: the steps carried
// stand earlier, the formula names them, and it does not merely copy one.
func (b *builder) checkCarries(path string, at int, s Step) {
	f := s.Formula
	if s.Follow.Root() != nil {
		f = s.Follow
	}
	if len(s.Carries) > 0 {
		if _, ok := f.Root().(formula.Name); ok {
			b.fault(path+"carries", 0, "The step only copies %s: an answer to it would follow without being worked out.", f)
		}
	}
	for j, id := range s.Carries {
		p := fmt.Sprintf("%scarries[%d]", path, j)
		switch i := b.ex.stepIndex(id); {
		case i < 0:
			b.fault(p, 0, "%s is not a step of this exercise.", id)
		case i >= at:
			b.fault(p, 0, "%s comes later: only earlier answers can be carried.", id)
		case !slices.Contains(f.Names(), id):
			b.fault(p, 0, "The formula does not use %s. Give a follow formula that does.", id)
		}
	}
}

func (ex *Exercise) stepIndex(id string) int {
	return slices.IndexFunc(ex.Steps, func(s Step) bool { return s.ID == id })
}

func (ex *Exercise) step(id string) (Step, bool) {
	i := ex.stepIndex(id)
	if i < 0 {
		return Step{}, false
	}
	return ex.Steps[i], true
}

// checkRules holds the two sides of every rule to one dimension.
func (b *builder) checkRules(m *model) {
	for i, c := range b.ex.Keep {
		path := fmt.Sprintf("keep[%d]", i)
		l, err := c.L.Check(m.dims)
		if err != nil {
			b.place(path, ruleFault(c.Text, false, err))
			continue
		}
		r, err := c.R.Check(m.dims)
		if err != nil {
			b.place(path, ruleFault(c.Text, true, err))
			continue
		}
		if c.L.CheckAs(r, m.dims) != nil && c.R.CheckAs(l, m.dims) != nil {
			b.fault(path, 0, "%s is compared with %s.", capitalised(l.String()), r)
		}
	}
}

// place gives a fault its path.
func (b *builder) place(path string, f *Fault) { b.fault(path, f.Col, "%s", f.Msg) }

// keep reads the keep rules.
func (b *builder) keep() {
	for i, text := range b.spec.Keep {
		c, f := parseCondition(text)
		if f != nil {
			b.place(fmt.Sprintf("keep[%d]", i), f)
			continue
		}
		b.ex.Keep = append(b.ex.Keep, c)
	}
}

// parseCondition reads "thickness <= v_length".
func parseCondition(text string) (Condition, *Fault) {
	l, op, r := splitRule(text)
	if op == "" {
		return Condition{}, &Fault{Msg: "A rule compares two things: write one of < <= > >= between them."}
	}
	c := Condition{Op: op, Text: text}
	var err error
	if c.L, err = formula.Parse(l); err != nil {
		return c, ruleFault(text, false, err)
	}
	if c.R, err = formula.Parse(r); err != nil {
		return c, ruleFault(text, true, err)
	}
	return c, nil
}

// splitRule takes a rule apart; op is "" where it has none.
func splitRule(text string) (l, op, r string) {
	for _, op := range []string{"<=", ">=", "<", ">"} {
		if l, r, ok := strings.Cut(text, op); ok {
			return l, op, r
		}
	}
	return text, "", ""
}

// ruleFault gives an error of one side of a rule its column in the whole rule.
func ruleFault(text string, right bool, err error) *Fault {
	var at *formula.Error
	if !errors.As(err, &at) {
		return &Fault{Msg: err.Error()}
	}
	before, op, side := splitRule(text)
	if !right {
		before, op, side = "", "", before
	}
	side = side[:len(side)-len(strings.TrimLeftFunc(side, unicode.IsSpace))]
	return &Fault{Col: at.Col + utf8.RuneCountInString(before+op+side), Msg: at.Msg}
}

// model makes the exercise ready and checks what needs blanks to be checked.
func (b *builder) model() {
	m, err := newModel(b.ex)
	if err != nil {
		for _, f := range faultsOf(err) {
			b.faults = append(b.faults, b.placed(f))
		}
		return
	}
	b.againstCatalogue(m)
	b.ownPatterns(m)
	b.harmless(m)
	// Marking slips harmless needs them found first, so the model is made anew.
	b.ex.model, err = newModel(b.ex)
	if err != nil {
		b.fault("", 0, "%s", err)
	}
}

// againstCatalogue holds a step's own formula against the construction, on
// blanks of the exercise.
func (b *builder) againstCatalogue(m *model) {
	if b.ex.Family == nil {
		return
	}
	for i, s := range b.ex.Steps {
		if _, ok := quantityOf(b.ex.Family, s.ID); !ok {
			continue
		}
		for _, vals := range m.sampleBlanks(b.ex) {
			l, err := b.ex.Family.Layout(m.blank(vals))
			if err != nil {
				continue
			}
			want, ok := l.Quantities[s.ID]
			got := vals[m.slots[s.ID]]
			if ok && finite(got) && math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
				b.fault(fmt.Sprintf("steps[%d].formula", i), 0,
					"This gives %s where the catalogue builds %s for %s.", fourDecimals(got), fourDecimals(want), s.ID)
				break
			}
		}
	}
}

// ownPatterns refuses own patterns that can never be told: those that give the
// right number on every blank, or none on any.
func (b *builder) ownPatterns(m *model) {
	for i, p := range b.ex.Patterns {
		slips := m.slips[m.bySlot[m.slots[p.Step]]]
		if !slices.ContainsFunc(slips, func(s slip) bool { return s.id == p.ID }) {
			b.fault(fmt.Sprintf("patterns[%d].formula", i), 0, "This is no slip: it gives the right number on every blank, or none on any.")
		}
	}
}

func fourDecimals(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }

// quantityOf finds a family's quantity.
func quantityOf(f *joint.Family, id string) (joint.Quantity, bool) {
	for _, q := range f.Quantities {
		if q.ID == id {
			return q, true
		}
	}
	return joint.Quantity{}, false
}

// harmless writes the declarations out and refuses those that name no slip.
func (b *builder) harmless(m *model) {
	for i, h := range b.spec.Harmless {
		found := false
		for _, d := range m.defs {
			if h.Step != "" && h.Step != d.id {
				continue
			}
			// Which digits there are to swap depends on the key.
			if d.step != nil && h.Pattern == digitsSwapped && h.Detail == "*" {
				b.ex.Harmless = append(b.ex.Harmless, Harmless{Step: d.id, Pattern: digitsSwapped, Detail: "*"})
				found = true
			}
			for _, s := range m.slips[m.bySlot[d.slot]] {
				if s.id == h.Pattern && (h.Detail == "*" || h.Detail == s.detail) {
					b.ex.Harmless = append(b.ex.Harmless, Harmless{Step: d.id, Pattern: s.id, Detail: s.detail})
					found = true
				}
			}
		}
		if !found {
			b.fault(fmt.Sprintf("harmless[%d]", i), 0, "%s %q is not a slip of %s.", h.Pattern, h.Detail, orEvery(h.Step))
		}
	}
}

func orEvery(step string) string {
	if step == "" {
		return "any step"
	}
	return step
}
