package grading

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
)

// Grade judges an attempt. It is pure: the same exercise, sheet and answers
// always give the same result. Answers may hold any quantity of the family;
// asked steps without an answer come back blank. Answers to anything else are
// passed over: [Unknown] lists them.
func Grade(ex *Exercise, sheet Sheet, answers map[string]string, units Units) Result {
	out := Result{OutOf: len(sheet.Steps)}
	m, err := ex.ready()
	if err != nil {
		return out
	}
	j := newJudge(m, ex, sheet, units)
	out.Steps = make([]StepResult, 0, len(sheet.Steps))
	for i, s := range sheet.Steps {
		d, ok := m.def(s.ID)
		if !ok {
			continue
		}
		j.readWithdrawn(d, answers)
		r := j.step(d, i+1, s.Tolerance, answers[s.ID])
		if r.Verdict == Right || r.Verdict == Follows {
			out.Score++
		}
		out.Steps = append(out.Steps, r)
	}
	for i := range m.defs {
		d := &m.defs[i]
		text, answered := answers[d.id]
		if !answered || sheet.asks(d.id) || slices.Contains(sheet.Withdrawn, d.id) {
			continue
		}
		t, _ := m.tolerance(ex, j.blank, sheet.Parameters, d, ShopFor(units))
		out.Steps = append(out.Steps, j.step(d, 0, t, text))
	}
	out.Fit = j.fit()
	return out
}

// Unknown lists the answers that belong to no number of the exercise or its
// family, sorted.
func Unknown(ex *Exercise, answers map[string]string) []string {
	m, err := ex.ready()
	if err != nil {
		return nil
	}
	var ids []string
	for id := range answers {
		if _, ok := m.def(id); !ok {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids
}

func (s Sheet) asks(id string) bool {
	return slices.ContainsFunc(s.Steps, func(t SheetStep) bool { return t.ID == id })
}

// judge holds what the steps of one attempt share.
type judge struct {
	m     *model
	ex    *Exercise
	units Units
	blank *joint.Blank // nil without a family
	right []float64    // by slot
	// own holds by slot the student's number where there is one, or what it
	// leads to, else the right one.
	own     []float64
	read    []bool     // by slot: own is a number the student gave
	sources [][]source // by slot: whose value own came from, where it is not right
	trial   []float64  // by slot: room to work a step out from carried numbers
	values  []float64  // room for the values of a step's slips
	near    []float64  // room for those near an answer
	fitting []int      // the slips that fit, of all steps
	swaps   []swap     // room for swapped digits
	beside  []Slip     // room for the slips beside one
	kept    []Slip     // what the steps' results point into
	stack   [24]float64
	// withdrawn are steps that are read for what was built on them only.
	withdrawn []string
}

// eval works a program out on this blank.
func (j *judge) eval(p *program) float64 {
	if p.depth > len(j.stack) {
		return p.run(j.right)
	}
	return p.runOn(j.stack[:], j.right)
}

// source is a step whose value went into another.
type source struct {
	number int // on the sheet, 0 where the sheet does not ask it
	id     string
}

func newJudge(m *model, ex *Exercise, sheet Sheet, units Units) *judge {
	n := len(m.names)
	j := &judge{m: m, ex: ex, units: units, read: make([]bool, n), sources: make([][]source, n)}
	j.withdrawn = sheet.Withdrawn
	j.right, j.blank = m.rightValues(ex, sheet.Parameters)
	j.own, j.trial = slices.Clone(j.right), slices.Clone(j.right)
	return j
}

// step judges one answer. number is the step's place on the sheet, 0 for a
// number that the sheet does not ask.
func (j *judge) step(d *definition, number int, tolerance float64, text string) StepResult {
	r := StepResult{ID: d.id, Given: text, Verdict: Blank, Also: []Slip{}}
	led, sources, carried := j.carry(d)
	if carried {
		j.own[d.slot], j.sources[d.slot] = led, sources
	}
	if strings.TrimSpace(text) == "" {
		return r
	}
	reading, err := Asked{Unit: d.unit, Units: j.units, Names: j.named, UnitOf: j.unitOf}.Read(text)
	if err != nil {
		r.Verdict, r.Reason = Unreadable, reasonOf(err)
		return r
	}
	r.Reading = &reading
	key := j.right[d.slot]
	off := math.Abs(reading.Value - key)
	switch {
	case !finite(key):
		r.Verdict, r.Reason = Unreadable, "This number has no value on this blank."
		return r
	case within(off, tolerance, key):
		r.Verdict = Right
	case within(off, 2*tolerance, key):
		r.Verdict = Near
	case carried && within(math.Abs(reading.Value-led), tolerance, led):
		r.Verdict, r.Reason = Follows, j.followsReason(sources)
	default:
		r.Verdict = Wrong
		j.diagnose(d, reading, text, tolerance, carriedFrom(carried, sources), &r)
	}
	j.own[d.slot], j.read[d.slot] = reading.Value, true
	j.sources[d.slot] = nil
	if r.Verdict != Right {
		j.sources[d.slot] = []source{{number: number, id: d.id}}
	}
	return r
}

// carriedFrom is whose values a step can go on from: nil where it cannot.
func carriedFrom(carried bool, from []source) []source {
	if !carried {
		return nil
	}
	return append([]source{}, from...)
}

// within says that a deviation keeps a tolerance, rounding aside.
func within(off, tolerance, of float64) bool { return off <= tolerance+1e-9*(1+math.Abs(of)) }

func reasonOf(err error) string {
	if e, ok := err.(*InputError); ok {
		return e.Reason
	}
	return err.Error()
}

// named gives the values that working may use by name: the givens, and the
// student's own numbers for the steps before. The right ones stay out of it,
// or a name would do for an answer.
func (j *judge) named(id string) (float64, bool) {
	s, ok := j.m.slots[id]
	if !ok || s >= j.m.givens && !j.read[s] {
		return 0, false
	}
	return j.own[s], true
}

func (j *judge) unitOf(id string) (joint.Unit, bool) {
	s, ok := j.m.slots[id]
	if !ok {
		return "", false
	}
	return j.m.units[s], true
}

// carry works a step out from the student's own earlier numbers. ok is false
// where the step carries nothing, where nothing carried is the student's, where
// the number carried would only be copied, and where it makes the joint
// impossible.
func (j *judge) carry(d *definition) (led float64, from []source, ok bool) {
	if len(d.carried) == 0 {
		return 0, nil, false
	}
	differs := false
	for _, s := range d.carried {
		from = append(from, j.sources[s]...)
		differs = differs || j.own[s] != j.right[s]
	}
	if !differs {
		return 0, nil, false
	}
	vals := j.trial
	copy(vals, j.right)
	for _, s := range d.carried {
		vals[s] = j.own[s]
	}
	led = d.follow.run(vals)
	if !finite(led) || !j.possible(d, vals, led) {
		return 0, nil, false
	}
	for _, s := range d.carried {
		if same(led, vals[s]) && !same(j.right[d.slot], j.right[s]) {
			return 0, nil, false // copied: nothing was worked out
		}
	}
	return led, from, true
}

// possible asks the family's rules that speak of the carried numbers or of
// what they lead to.
func (j *judge) possible(d *definition, vals []float64, led float64) bool {
	vals[d.slot] = led
	for _, r := range j.m.possible {
		speaks := slices.ContainsFunc(r.slots, func(s int) bool { return s == d.slot || slices.Contains(d.carried, s) })
		if speaks && !r.holds(vals) {
			return false
		}
	}
	return true
}

// followsReason says whose value was followed.
func (j *judge) followsReason(from []source) string { return "Follows from " + j.whose(from) + "." }

// whose names the student's numbers that a value came from: "your number 5",
// "your numbers 7 and 8", "your number for the cheek length".
func (j *judge) whose(from []source) string {
	var numbers, names []string
	for _, s := range from {
		if n := strconv.Itoa(s.number); s.number > 0 && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		} else if name := j.ex.nameOf(s.id); s.number == 0 && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	switch {
	case len(numbers) == 1:
		return "your number " + numbers[0]
	case len(numbers) > 1:
		return "your numbers " + strings.Join(numbers[:len(numbers)-1], ", ") + " and " + numbers[len(numbers)-1]
	case len(names) > 0:
		return "your number for " + strings.Join(names, " and ")
	}
	return "your numbers before it"
}

// hint is the exercise's own hint for a slip, the one for its detail first, or
// the usual one.
func (d *definition) hint(pattern, detail, usual string) string {
	if d.step == nil {
		return usual
	}
	if h := d.step.Hints[pattern+" "+detail]; h != "" {
		return h
	}
	return orElse(d.step.Hints[pattern], usual)
}

// fit puts the numbers that were read together, the others taken as right.
func (j *judge) fit() *FitResult {
	if j.blank == nil {
		return nil
	}
	submitted := joint.Values{}
	for i := range j.m.defs {
		d := &j.m.defs[i]
		if _, ok := quantityOf(j.ex.Family, d.id); ok && j.read[d.slot] && !slices.Contains(j.withdrawn, d.id) {
			submitted[d.id] = j.own[d.slot]
		}
	}
	if len(submitted) == 0 {
		return nil
	}
	f, err := j.blank.Fit(submitted)
	if err != nil {
		return nil
	}
	return NewFitResult(f)
}
