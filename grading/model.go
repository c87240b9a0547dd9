package grading

import (
	"errors"
	"fmt"
	"math"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// model is an exercise made ready for working out: every given and every
// quantity has a numbered slot, every formula is a program over the slots.
type model struct {
	slots    map[string]int
	names    []string     // by slot: givens, then quantities
	units    []joint.Unit // by slot
	givens   int          // slots below this are givens
	defs     []definition // in an order in which each can be worked out
	bySlot   []int        // slot → index into defs, -1 for a given
	keep     []rule
	possible []rule
	slips    [][]slip // by index into defs, simplest first
	simple   []simplicities
	pairs    []pairs     // by index into defs
	even     [2]evenness // for millimetres and for inches
}

// definition is one quantity: asked or not.
type definition struct {
	id     string
	unit   joint.Unit
	slot   int
	taught formula.Formula
	full   formula.Formula // written out in givens, as far as that can be read
	size   int             // of full, in nodes
	prog   program
	step   *Step // nil where the exercise does not ask it
	// carried are the slots of the steps it builds on, follow the program that
	// works it out from them.
	carried []int
	follow  program
	across  string
	when    []rule // without which it has no value
}

// rule is a condition made ready.
type rule struct {
	text  string
	l, r  program
	op    string
	slots []int // of the names in it
	early bool  // over givens alone
}

func (r rule) holds(vals []float64) bool {
	return compares(r.l.run(vals), r.op, r.r.run(vals))
}

func compares(a float64, op string, b float64) bool {
	switch op {
	case "<":
		return a < b-rulePlay(b)
	case "<=":
		return a <= b+rulePlay(b)
	case ">":
		return a > b+rulePlay(b)
	default:
		return a >= b-rulePlay(b)
	}
}

// rulePlay keeps rounding out of a rule: sizes on a grid often meet a limit
// exactly.
func rulePlay(limit float64) float64 { return 1e-9 * (1 + math.Abs(limit)) }

// ready gives the model of an exercise. An exercise that did not come from
// NewExercise pays for it at every call.
func (ex *Exercise) ready() (*model, error) {
	if ex.model != nil {
		return ex.model, nil
	}
	return newModel(ex)
}

// newModel makes the model. The error joins all faults, each a Fault.
func newModel(ex *Exercise) (*model, error) {
	m := &model{slots: map[string]int{}}
	for _, g := range ex.parameters() {
		m.addSlot(g.ID, g.Unit)
	}
	m.givens = len(m.names)
	pending := ex.definitions()
	for _, d := range pending {
		m.addSlot(d.id, d.unit)
	}
	if err := m.order(pending); err != nil {
		return nil, err
	}
	var faults []error
	for i := range m.defs {
		faults = append(faults, m.prepare(ex, &m.defs[i]))
	}
	faults = append(faults, m.addRules(ex))
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	m.even = [2]evenness{m.newEvenness(ex, Millimetres), m.newEvenness(ex, Inches)}
	m.slips, m.pairs = findSlips(m, ex), make([]pairs, len(m.defs))
	for _, slips := range m.slips {
		m.simple = append(m.simple, newSimplicities(slips))
	}
	return m, nil
}

func (m *model) addSlot(id string, u joint.Unit) {
	m.slots[id] = len(m.names)
	m.names = append(m.names, id)
	m.units = append(m.units, u)
}

func (m *model) slot(id string) (int, bool) {
	s, ok := m.slots[id]
	return s, ok
}

// dims tells the formula checker what a name is.
func (m *model) dims(id string) (formula.Dim, bool) {
	s, ok := m.slots[id]
	if !ok {
		return formula.Number, false
	}
	return DimOf(m.units[s]), true
}

// parameters lists the givens in display order: the exercise's own, then
// whatever else the family needs.
func (ex *Exercise) parameters() []joint.Parameter {
	var ps []joint.Parameter
	seen := map[string]bool{}
	for _, g := range ex.Givens {
		ps, seen[g.ID] = append(ps, g.Parameter), true
	}
	if ex.Family != nil {
		for _, p := range ex.Family.Parameters {
			if !seen[p.ID] {
				ps = append(ps, p)
			}
		}
	}
	return ps
}

// definitions lists every quantity: the asked ones as the exercise states
// them, the family's others as they are taught.
func (ex *Exercise) definitions() []definition {
	var defs []definition
	asked := map[string]bool{}
	for i := range ex.Steps {
		s := &ex.Steps[i]
		asked[s.ID] = true
		defs = append(defs, definition{id: s.ID, unit: s.Unit, taught: s.Formula, step: s, across: s.Across})
	}
	if ex.Family == nil {
		return defs
	}
	for _, q := range ex.Family.Quantities {
		f, ok := Taught(ex.Family.ID, q.ID)
		if !asked[q.ID] && ok {
			defs = append(defs, definition{id: q.ID, unit: q.Unit, taught: f, across: acrossOf(ex.Family.ID, q.ID)})
		}
	}
	return defs
}

// when lists the rules without which a quantity of the family has no value.
func (ex *Exercise) when(id string) []Condition {
	if ex.Family == nil {
		return nil
	}
	return whenOf(ex.Family.ID, id)
}

// order sorts the definitions so that each stands after those it is built on.
func (m *model) order(pending []definition) error {
	done := map[string]bool{}
	for _, name := range m.names[:m.givens] {
		done[name] = true
	}
	for len(pending) > 0 {
		var later []definition
		for _, d := range pending {
			if allKnown(d.taught, done) {
				done[d.id] = true
				m.defs = append(m.defs, d)
			} else {
				later = append(later, d)
			}
		}
		if len(later) == len(pending) {
			return m.cycle(later)
		}
		pending = later
	}
	m.bySlot = make([]int, len(m.names))
	for i := range m.bySlot {
		m.bySlot[i] = -1
	}
	for i := range m.defs {
		m.defs[i].slot = m.slots[m.defs[i].id]
		m.bySlot[m.defs[i].slot] = i
	}
	return nil
}

func allKnown(f formula.Formula, known map[string]bool) bool {
	for _, id := range f.Names() {
		if !known[id] {
			return false
		}
	}
	return true
}

// cycle explains why no order was found: a name nobody gives, or a circle.
func (m *model) cycle(left []definition) error {
	var faults []error
	for _, d := range left {
		for _, id := range d.taught.Names() {
			if _, ok := m.slots[id]; !ok {
				faults = append(faults, Fault{Path: stepPath(d.id, "formula"), Msg: id + " is neither a given nor a step."})
			}
		}
	}
	if len(faults) == 0 {
		faults = append(faults, Fault{Path: stepPath(left[0].id, "formula"),
			Msg: fmt.Sprintf("%s is built on itself by way of %s.", left[0].id, left[len(left)-1].id)})
	}
	return errors.Join(faults...)
}

// prepare compiles one definition.
func (m *model) prepare(ex *Exercise, d *definition) error {
	d.full = formula.FromNode(m.writtenOut(d.taught.Root()))
	d.size = d.full.Size()
	var err error
	if d.prog, err = compile(d.taught.Root(), m.slot); err != nil {
		return Fault{Path: stepPath(d.id, "formula"), Msg: err.Error() + "."}
	}
	for _, c := range ex.when(d.id) {
		r, err := m.rule(c)
		if err != nil {
			return err
		}
		d.when = append(d.when, r)
	}
	if d.step == nil || len(d.step.Carries) == 0 {
		return nil
	}
	f := d.taught
	if d.step.Follow.Root() != nil {
		f = d.step.Follow
	}
	if d.follow, err = compile(f.Root(), m.slot); err != nil {
		return Fault{Path: stepPath(d.id, "follow"), Msg: err.Error() + "."}
	}
	for _, id := range d.step.Carries {
		s, ok := m.slots[id]
		if !ok || s < m.givens {
			return Fault{Path: stepPath(d.id, "carries"), Msg: id + " is not a step."}
		}
		d.carried = append(d.carried, s)
	}
	return nil
}

// mostWritten is how large a formula may grow by being written out, in nodes.
// Those that are taught stay under a hundred; a chain of steps that each use
// the one before twice would double with every step.
const mostWritten = 300

// writtenOut puts the formulas of quantities in place of their names, or leaves
// the formula as it is where that would make it too large.
func (m *model) writtenOut(n formula.Node) formula.Node {
	if m.sizeWritten(n) > mostWritten {
		return n
	}
	return writeOut(formula.FromNode(n), func(id string) (formula.Formula, bool) {
		if d, ok := m.def(id); ok {
			return d.taught, true
		}
		return formula.Formula{}, false
	}).Root()
}

// sizeWritten is how large a formula becomes when it is written out; more than
// mostWritten stands for anything above it. Definitions stand in order, so what
// a quantity comes to is known before it is used.
func (m *model) sizeWritten(n formula.Node) int {
	size := formula.FromNode(n).Size()
	eachName(n, func(id string) {
		if d, ok := m.def(id); ok && size <= mostWritten {
			size += d.size - 1
			if d.full.Root() != nil && !m.overGivens(d.full) {
				size = mostWritten + 1 // it could not be written out itself
			}
		}
	})
	return size
}

// overGivens says that a formula names nothing but givens.
func (m *model) overGivens(f formula.Formula) bool {
	for _, id := range f.Names() {
		if s, ok := m.slots[id]; !ok || s >= m.givens {
			return false
		}
	}
	return true
}

func (m *model) addRules(ex *Exercise) error {
	var faults []error
	for i, c := range ex.Keep {
		r, err := m.rule(c)
		if err != nil {
			faults = append(faults, Fault{Path: fmt.Sprintf("keep[%d]", i), Msg: err.Error() + "."})
			continue
		}
		m.keep = append(m.keep, r)
	}
	if ex.Family != nil {
		for _, text := range taught[ex.Family.ID].possible {
			c, fault := parseCondition(text)
			if fault == nil {
				r, err := m.rule(c)
				faults = append(faults, err)
				m.possible = append(m.possible, r)
			}
		}
	}
	return errors.Join(faults...)
}

func (m *model) rule(c Condition) (rule, error) {
	l, err := compile(c.L.Root(), m.slot)
	if err != nil {
		return rule{}, err
	}
	r, err := compile(c.R.Root(), m.slot)
	if err != nil {
		return rule{}, err
	}
	out := rule{text: c.Text, l: l, r: r, op: c.Op, early: true}
	for _, id := range append(c.L.Names(), c.R.Names()...) {
		s := m.slots[id]
		out.slots = append(out.slots, s)
		out.early = out.early && s < m.givens
	}
	return out, nil
}

// fill works out every quantity from the givens that stand in the slots. What
// has no value becomes NaN, as program says.
func (m *model) fill(vals []float64) {
	for i := range m.defs {
		d := &m.defs[i]
		vals[d.slot] = d.prog.run(vals)
		for _, r := range d.when {
			if !r.holds(vals) {
				vals[d.slot] = math.NaN()
			}
		}
	}
}

// values puts a blank into slots and works out the quantities.
func (m *model) values(parameters joint.Values) []float64 {
	vals := make([]float64, len(m.names))
	for i := range m.givens {
		v, ok := parameters[m.names[i]]
		if !ok {
			v = math.NaN()
		}
		vals[i] = v
	}
	m.fill(vals)
	return vals
}

// def finds a quantity by id.
func (m *model) def(id string) (*definition, bool) {
	s, ok := m.slots[id]
	if !ok || s < m.givens {
		return nil, false
	}
	return &m.defs[m.bySlot[s]], true
}
