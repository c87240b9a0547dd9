package grading

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// Spec is an exercise as somebody writes it: plain texts. Whatever is left ""
// comes from the catalogue and from the formulas as they are taught.
// It survives JSON, so that a version of an exercise can be stored and made
// again.
type Spec struct {
	ID      string `json:"id"`
	Title   string `json:"title,omitempty"`
	Module  string `json:"module,omitempty"`
	Version int    `json:"version,omitempty"`
	// Family is "" for an exercise over its own givens.
	Family string      `json:"family,omitempty"`
	Givens []GivenSpec `json:"givens"`
	// InchGivens are the ranges for a class that works in inches; lengths
	// without a unit are inches there.
	InchGivens []GivenSpec `json:"inch_givens,omitempty"`
	Keep       []string    `json:"keep,omitempty"`
	// Steps left out asks every quantity of the family in teaching order.
	Steps    []StepSpec     `json:"steps,omitempty"`
	Harmless []HarmlessSpec `json:"harmless,omitempty"`
	Patterns []PatternSpec  `json:"patterns,omitempty"`
	// Allowances and Pairs are for exercises over their own givens; a family
	// brings its own.
	Allowances []string `json:"allowances,omitempty"`
	Pairs      []string `json:"pairs,omitempty"`
}

// GivenSpec is one given. For a family only ID and the range are needed.
type GivenSpec struct {
	ID     string `json:"id"`
	Name   string `json:"name,omitempty"`
	Symbol string `json:"symbol,omitempty"`
	Unit   string `json:"unit,omitempty"`
	Means  string `json:"means,omitempty"`
	// From, To and By are sizes such as "24", "1 1/4" or "15/16 in".
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
	By   string `json:"by,omitempty"`
	// Only lists the values instead.
	Only     []string `json:"only,omitempty"`
	Measured bool     `json:"measured,omitempty"`
}

// StepSpec is one asked number. For a family only ID is needed.
type StepSpec struct {
	ID        string            `json:"id"`
	Name      string            `json:"name,omitempty"`
	Symbol    string            `json:"symbol,omitempty"`
	Unit      string            `json:"unit,omitempty"`
	From      string            `json:"from,omitempty"`
	Formula   string            `json:"formula,omitempty"`
	Carries   []string          `json:"carries,omitempty"`
	Follow    string            `json:"follow,omitempty"`
	Across    string            `json:"across,omitempty"`
	Tolerance string            `json:"tolerance,omitempty"`
	Skill     string            `json:"skill,omitempty"`
	View      string            `json:"view,omitempty"`
	Hints     map[string]string `json:"hints,omitempty"`
}

// HarmlessSpec declares slips that may land near the key. Step "" is every
// step and Detail "*" every detail; NewExercise writes them out one by one.
type HarmlessSpec struct {
	Step    string `json:"step,omitempty"`
	Pattern string `json:"pattern"`
	Detail  string `json:"detail,omitempty"`
}

// PatternSpec is an instructor's own slip.
type PatternSpec struct {
	ID      string `json:"id"`
	Step    string `json:"step"`
	Says    string `json:"says,omitempty"`
	Hint    string `json:"hint,omitempty"`
	Formula string `json:"formula"`
}

// Fault is something wrong with a Spec. Path says where, as in
// "steps[3].formula" or "givens[0].from"; Col is the column in that text, from
// 1, or 0.
type Fault struct {
	Path string
	Col  int
	Msg  string
}

// Error gives path, column and message.
func (f Fault) Error() string {
	if f.Col > 0 {
		return fmt.Sprintf("%s, column %d: %s", f.Path, f.Col, f.Msg)
	}
	return f.Path + ": " + f.Msg
}

// NewExercise makes an exercise and finds everything wrong with it at once.
// The exercise is nil when there are faults.
func NewExercise(s Spec) (*Exercise, []Fault) {
	b := builder{spec: s, ex: &Exercise{
		ID: s.ID, Title: s.Title, Module: s.Module, Version: s.Version,
		Allowances: s.Allowances, Pairs: s.Pairs, spec: s,
	}}
	b.build()
	if len(b.faults) > 0 {
		return nil, b.faults
	}
	return b.ex, nil
}

// Spec gives back what the exercise was made from. The caller must not change
// it.
func (ex *Exercise) Spec() Spec { return ex.spec }

type builder struct {
	spec   Spec
	ex     *Exercise
	faults []Fault
}

func (b *builder) fault(path string, col int, format string, args ...any) {
	b.faults = append(b.faults, Fault{Path: path, Col: col, Msg: fmt.Sprintf(format, args...)})
}

// formulaFault keeps the column of a formula's error.
func (b *builder) formulaFault(path string, err error) {
	if e, ok := err.(*formula.Error); ok {
		b.fault(path, e.Col, "%s", e.Msg)
		return
	}
	b.fault(path, 0, "%s", err)
}

func (b *builder) build() {
	if b.spec.ID == "" {
		b.fault("id", 0, "The exercise needs an id.")
	}
	b.family()
	b.ex.Givens = b.givens("givens", b.spec.Givens, joint.MM)
	if len(b.spec.InchGivens) > 0 {
		b.ex.InchGivens = b.inchGivens()
	}
	b.steps()
	if len(b.faults) > 0 {
		return
	}
	b.patterns()
	b.keep()
	b.checkFormulas()
	if len(b.faults) > 0 {
		return
	}
	b.model()
}

func (b *builder) family() {
	if b.spec.Family == "" {
		if len(b.spec.Allowances) == 0 {
			b.ex.Allowances = []string{"allowance", "kerf", "lap"}
		}
		return
	}
	f, ok := joint.Lookup(b.spec.Family)
	if !ok {
		b.fault("family", 0, "%s is not a family of the catalogue.", b.spec.Family)
		return
	}
	b.ex.Family = f
	b.ex.Allowances = append(slices.Clone(taught[f.ID].allowances), b.spec.Allowances...)
	b.ex.Pairs = append(slices.Clone(taught[f.ID].pairs), b.spec.Pairs...)
}

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

// keep reads the keep rules.
func (b *builder) keep() {
	for i, text := range b.spec.Keep {
		c, f := parseCondition(text)
		if f != nil {
			b.fault(fmt.Sprintf("keep[%d]", i), f.Col, "%s", f.Msg)
			continue
		}
		b.ex.Keep = append(b.ex.Keep, c)
	}
}

// parseCondition reads "thickness <= v_length".
func parseCondition(text string) (Condition, *Fault) {
	for _, op := range []string{"<=", ">=", "<", ">"} {
		l, r, ok := strings.Cut(text, op)
		if !ok {
			continue
		}
		c := Condition{Op: op, Text: text}
		var err error
		if c.L, err = formula.Parse(strings.TrimSpace(l)); err != nil {
			return c, &Fault{Msg: err.Error()}
		}
		if c.R, err = formula.Parse(strings.TrimSpace(r)); err != nil {
			return c, &Fault{Msg: "right of " + op + ": " + err.Error()}
		}
		return c, nil
	}
	return Condition{}, &Fault{Msg: "A rule compares two things: write one of < <= > >= between them."}
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
	b.checkConditions(m)
	b.againstCatalogue(m)
	b.harmless(m)
	// Marking slips harmless needs them found first, so the model is made anew.
	b.ex.model, err = newModel(b.ex)
	if err != nil {
		b.fault("", 0, "%s", err)
	}
}

func (b *builder) checkConditions(m *model) {
	for i, c := range b.ex.Keep {
		path := fmt.Sprintf("keep[%d]", i)
		l, errL := c.L.Check(m.dims)
		r, errR := c.R.Check(m.dims)
		switch {
		case errL != nil:
			b.formulaFault(path, errL)
		case errR != nil:
			b.formulaFault(path, errR)
		case c.L.CheckAs(r, m.dims) != nil && c.R.CheckAs(l, m.dims) != nil:
			b.fault(path, 0, "%s is compared with %s.", l, r)
		}
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
