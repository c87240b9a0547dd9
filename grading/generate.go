package grading

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"arrisbook/geom/joint"
)

// mostDraws is how many blanks are tried for one seed. At the shipped ranges
// more than one draw in ten passes, so a seed that needs so many shows ranges
// that cannot do it.
const mostDraws = 5000

// A NoBlankError says that an exercise's ranges give no usable blank.
type NoBlankError struct {
	Exercise string
	Draws    int
	// Step and the two things that lie too near each other on it, most often;
	// "" where a rule refused the blanks instead.
	Step, One, Other string
	Rule             string // the rule that refused most blanks
}

func (e *NoBlankError) Error() string {
	s := fmt.Sprintf("%s: no usable blank in %d draws.", e.Exercise, e.Draws)
	if e.Rule != "" {
		return s + fmt.Sprintf(" Most were refused because of: %s.", e.Rule)
	}
	return s + fmt.Sprintf(" On %s, %s and %s lie within twice the tolerance of each other too often: widen the ranges, or declare that slip harmless there.", e.Step, e.One, e.Other)
}

// Generate draws the blank of a seed: inside the ranges, buildable, kept by
// the rules, and discriminating. The same exercise version, seed and shop give
// the same sheet for ever. A *NoBlankError says that the ranges cannot do it.
func Generate(ex *Exercise, seed uint64, shop Shop) (Sheet, error) {
	m, err := ex.ready()
	if err != nil {
		return Sheet{}, err
	}
	g := generator{
		ex: ex, m: m, shop: shop, givens: ex.ranges(shop.Units), even: m.evennessFor(shop.Units),
		vals: make([]float64, len(m.names)), refused: map[refusal]int{},
	}
	s := newStream(seed)
	for range mostDraws {
		m.draw(ex, g.givens, s, g.vals)
		if steps, ok := g.accept(); ok {
			return Sheet{Exercise: ex.ID, Version: ex.Version, Seed: seed, Parameters: m.blank(g.vals), Steps: steps}, nil
		}
	}
	return Sheet{}, g.failure()
}

type generator struct {
	ex      *Exercise
	m       *model
	shop    Shop
	givens  []Given
	even    evenness
	vals    []float64
	refused map[refusal]int
}

// refusal is why a blank was not taken.
type refusal struct{ rule, step, slip string }

func (g *generator) refuse(r refusal) ([]SheetStep, bool) {
	g.refused[r]++
	return nil, false
}

// accept judges the blank in the slots: cheap rules first, the geometry and
// the fit last.
func (g *generator) accept() ([]SheetStep, bool) {
	for _, r := range g.m.keep {
		if r.early && !r.holds(g.vals) {
			return g.refuse(refusal{rule: r.text})
		}
	}
	if !g.even.holds(g.m.difficulty(g.givens, g.vals, g.shop.Units)) {
		return nil, false // others of the same ranges are as hard as each other
	}
	g.m.fill(g.vals)
	for i := range g.m.defs {
		if d := &g.m.defs[i]; d.step != nil && !finite(g.vals[d.slot]) {
			return g.refuse(refusal{rule: d.id + " has no value"})
		}
	}
	for _, r := range g.m.keep {
		if !r.early && !r.holds(g.vals) {
			return g.refuse(refusal{rule: r.text})
		}
	}
	return g.discriminate()
}

// discriminate asks of every asked step that each slip lands outside twice the
// tolerance. Tolerances cost a search over fits, so a blank is first held
// against the least and the most that they can be.
func (g *generator) discriminate() ([]SheetStep, bool) {
	blank := g.m.blank(g.vals)
	nearest := make([]float64, len(g.m.defs))
	for i := range g.m.defs {
		d := &g.m.defs[i]
		if d.step == nil {
			continue
		}
		least, _ := g.m.bounds(g.ex, blank, d, g.shop)
		off, slip := g.m.nearestSlip(g.ex, d, g.vals)
		if !tellable(off, least) {
			return g.refuse(refusal{step: d.id, slip: slip})
		}
		nearest[i] = off
	}
	if g.ex.Family == nil {
		return g.settle(nil, blank, nearest)
	}
	prepared, err := g.ex.Family.Prepare(blank)
	if err != nil {
		return g.refuse(refusal{rule: err.Error()})
	}
	if l := prepared.Layout(); !l.Buildable() {
		return g.refuse(refusal{rule: l.Problems[0]})
	}
	return g.settle(prepared, blank, nearest)
}

// settle works out the tolerances, those that may still refuse the blank first.
func (g *generator) settle(prepared *joint.Blank, blank joint.Values, nearest []float64) ([]SheetStep, bool) {
	byDef := make([]SheetStep, len(g.m.defs))
	for _, tight := range []bool{true, false} {
		for i := range g.m.defs {
			d := &g.m.defs[i]
			if d.step == nil {
				continue
			}
			_, most := g.m.bounds(g.ex, blank, d, g.shop)
			if tellable(nearest[i], most) == tight {
				continue
			}
			t, why := g.m.tolerance(g.ex, prepared, blank, d, g.shop)
			if !tellable(nearest[i], t) {
				_, slip := g.m.nearestSlip(g.ex, d, g.vals)
				return g.refuse(refusal{step: d.id, slip: slip})
			}
			byDef[i] = SheetStep{ID: d.id, Unit: d.unit, Tolerance: t, Why: why}
		}
	}
	var steps []SheetStep
	for _, s := range g.ex.Steps {
		steps = append(steps, byDef[g.m.bySlot[g.m.slots[s.ID]]])
	}
	return steps, true
}

// tellable says that a slip so far from the key cannot pass for near.
func tellable(off, tolerance float64) bool { return off > 2*tolerance+1e-9 }

// nearestSlip gives the smallest distance of a slip that matters from the key.
func (m *model) nearestSlip(ex *Exercise, d *definition, vals []float64) (off float64, name string) {
	key := vals[d.slot]
	off = math.Inf(1)
	slips := m.slips[m.bySlot[d.slot]]
	for i := range slips {
		s := &slips[i]
		if s.harmless {
			continue
		}
		if v := math.Abs(s.prog.run(vals) - key); v < off { // NaN is never less
			off, name = v, s.named()
		}
	}
	for _, sw := range swaps(key, 1, nil) {
		if v := math.Abs(sw.value - key); v < off && !ex.isHarmless(d.id, digitsSwapped, sw.detail()) {
			off, name = v, digitsSwapped
		}
	}
	return off, name
}

func (s *slip) named() string {
	if s.detail == "" {
		return s.id
	}
	return s.id + " (" + s.detail + ")"
}

// failure names what refused most blanks. Where some of them kept all rules, it
// is a slip too near the right number that refused those.
func (g *generator) failure() error {
	var all []refusal
	near := false
	for r := range g.refused {
		all, near = append(all, r), near || r.step != ""
	}
	if near {
		all = slices.DeleteFunc(all, func(r refusal) bool { return r.step == "" })
	}
	slices.SortFunc(all, func(a, b refusal) int {
		return cmp.Or(cmp.Compare(g.refused[b], g.refused[a]), cmp.Compare(a.rule+a.step+a.slip, b.rule+b.step+b.slip))
	})
	e := &NoBlankError{Exercise: g.ex.ID, Draws: mostDraws}
	if len(all) > 0 {
		e.Rule, e.Step, e.One, e.Other = all[0].rule, all[0].step, "the right number", all[0].slip
	}
	return e
}
