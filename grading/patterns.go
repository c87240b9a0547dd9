package grading

import (
	"math"
	"slices"

	"arrisbook/grading/formula"
)

// Pattern is one error pattern on one step of one blank.
type Pattern struct {
	ID       string  `json:"id"`
	Detail   string  `json:"detail"`
	Value    float64 `json:"value"`
	Harmless bool    `json:"harmless"`
}

// patternKind is one way of going wrong: one entry of the table, one function
// that writes the wrong trees, one hint.
type patternKind struct {
	id string
	// onAnswer says that it acts on the answer; otherwise it acts on the
	// formula, as taught and written out in givens.
	onAnswer bool
	// loose lets through what mixes kinds of numbers, a length less a cosine or
	// a length times a length: pocket calculators do, and so do people.
	loose bool
	// write gives the wrong trees for a quantity. root is the formula, or the
	// quantity's own name for a pattern on the answer.
	write func(q subject, root formula.Node) []variant
	says  func(w wording) string
}

// variant is one wrong tree. detail tells it from the pattern's others;
// about is the id that the hint may name.
type variant struct {
	tree          formula.Node
	detail, about string
}

// kinds is the table, simplest first, and among equals the more telling first.
// Where two of them give one number the first is named and the others go
// beside it.
var kinds = []patternKind{
	{id: "complement", onAnswer: true, write: complement, says: saysComplement},
	{id: "supplement", onAnswer: true, write: supplement, says: saysSupplement},
	{id: "far-edge", onAnswer: true, write: farEdge, says: saysFarEdge},
	{id: "other-quantity", onAnswer: true, write: otherQuantity, says: saysOtherQuantity},
	{id: "double", onAnswer: true, write: double, says: saysDouble},
	{id: "half", onAnswer: true, write: half, says: saysHalf},
	{id: "inches-as-mm", onAnswer: true, write: inchesAsMM, says: saysInchesAsMM},
	{id: "mm-as-inches", onAnswer: true, write: mmAsInches, says: saysMMAsInches},
	{id: "radians", onAnswer: true, write: radians, says: saysRadians},
	{id: "decimal-shift", onAnswer: true, write: decimalShift, says: saysDecimalShift},
	{id: "rule-from-one", onAnswer: true, write: ruleFromOne, says: saysRuleFromOne},

	{id: "half-forgotten", write: halfForgotten, says: saysHalfForgotten},
	{id: "tilt-ignored", write: tiltIgnored, says: saysTiltIgnored},
	{id: "allowance-forgotten", write: allowanceForgotten, says: saysAllowanceForgotten},
	{id: "allowance-subtracted", write: allowanceSubtracted, says: saysAllowanceSubtracted},
	{id: "ratio-inverted", loose: true, write: ratioInverted, says: saysRatioInverted},
	{id: "inverse-missing", loose: true, write: inverseMissing, says: saysInverseMissing},
	{id: "factor-inverted", write: factorInverted, says: saysFactorInverted},
	{id: "wrong-function", write: wrongFunction, says: saysWrongFunction},
	{id: "sign-flipped", write: signFlipped, says: saysSignFlipped},
	{id: "one-sided", write: oneSided, says: saysOneSided},
	{id: "halved-twice", write: halvedTwice, says: saysHalvedTwice},
	{id: "slope-for-run", write: slopeForRun, says: saysSlopeForRun},
	{id: "slopes-combined", write: slopesCombined, says: saysSlopesCombined},
	{id: "added-for-multiplied", loose: true, write: addedForMultiplied, says: saysAddedForMultiplied},
	{id: "wrong-measure", write: wrongMeasure, says: saysWrongMeasure},
	{id: "radian-mode", loose: true, write: radianMode, says: saysRadianMode},
	{id: "rounded-early", loose: true, write: roundedEarly, says: saysRoundedEarly},
}

// simplicity is how likely a kind is before anything else is known, beside the
// others: each a tenth less than the one before it in the table.
func simplicity(kind float64) float64 { return math.Pow(0.9, kind) }

// swapRank is where swapped digits stand among the kinds: behind those on the
// answer.
var swapRank = float64(slices.IndexFunc(kinds, func(k patternKind) bool { return !k.onAnswer })) - 0.5

// digitsSwapped stands outside the table: it depends on how the answer was
// written.
const digitsSwapped = "digits-swapped"

// PatternIDs lists the ids of the program's own patterns.
func PatternIDs() []string {
	ids := make([]string, len(kinds), len(kinds)+1)
	for i, k := range kinds {
		ids[i] = k.id
	}
	return append(ids, digitsSwapped)
}

// isPatternID says whether a pattern of that name exists.
func isPatternID(id string) bool { return slices.Contains(PatternIDs(), id) }

// subject is what a pattern is written for: one quantity of one exercise.
type subject struct {
	m  *model
	ex *Exercise
	d  *definition
}

// slip is one way to get one step wrong, ready to be worked out on any blank.
type slip struct {
	id, detail string
	key        string // of both
	prog       program
	tree       formula.Node
	kind       int // its place in kinds, -1 for an instructor's own
	simplicity float64
	onAnswer   bool
	harmless   bool
	copied     bool // a given written down as the answer
	says       string
	// also holds the second of two that come together, and other pairs that
	// always give the same number; weight is how likely the two are.
	also   []Slip
	weight float64
	base   int // the first of two, where the second is on the answer
}

// findSlips lists the slips of every quantity, simplest first. A slip that has
// no value on any sample blank, or gives the key on all of them, does not
// apply; of two with one id and one value the first stays.
func findSlips(m *model, ex *Exercise) [][]slip {
	blanks := m.sampleBlanks(ex)
	all := make([][]slip, len(m.defs))
	for i := range m.defs {
		f := finder{q: subject{m: m, ex: ex, d: &m.defs[i]}, blanks: blanks, left: mostSingles}
		all[i] = f.find()
	}
	return all
}

type finder struct {
	q      subject
	blanks [][]float64
	found  []slip
	values [][]float64 // of the found ones, on the sample blanks
	// once keeps one slip for a value, whatever it is called.
	once bool
	// share is the weight of one variant of each kind, for pairs.
	share []float64
	// left is how much may still be looked at, in nodes of wrong trees.
	left int
}

// How much is looked at for one number, in nodes of wrong trees: one slip at a
// time, and two together. What is taught takes a tenth of it; the limits are for
// formulas that nobody teaches.
const (
	mostSingles = 60_000
	mostPairs   = 250_000
)

func (f *finder) find() []slip {
	for _, own := range f.q.ex.Patterns {
		if own.Step == f.q.d.id {
			f.consider(-1, slip{id: own.ID, tree: own.Formula.Root(), onAnswer: true, says: ownSays(own)})
		}
	}
	name := formula.Name{ID: f.q.d.id}
	for i, k := range kinds {
		roots := []formula.Node{name}
		if !k.onAnswer {
			roots = []formula.Node{f.q.d.taught.Root(), f.q.d.full.Root()}
		}
		for _, root := range roots {
			for _, v := range k.write(f.q, root) {
				if k.onAnswer || k.loose || f.q.fitsUnit(v.tree) {
					f.consider(i, slip{id: k.id, detail: v.detail, tree: v.tree, onAnswer: k.onAnswer, says: f.q.hint(k, v)})
				}
			}
		}
	}
	return f.found
}

// fitsUnit says that the wrong tree still comes to the kind of number that is
// asked: nobody writes a length as an angle without noticing.
func (q subject) fitsUnit(n formula.Node) bool {
	return formula.FromNode(n).CheckAs(DimOf(q.d.unit), q.m.dims) == nil
}

// consider keeps a slip if it applies and says something new.
func (f *finder) consider(kind int, s slip) {
	if f.left -= formula.FromNode(s.tree).Size(); f.left < 0 {
		return
	}
	prog, err := compile(s.tree, f.q.m.slot)
	if err != nil {
		return
	}
	values, some, off := make([]float64, len(f.blanks)), false, false
	for i, b := range f.blanks {
		values[i] = prog.run(b)
		if finite(values[i]) {
			some = true
			off = off || !same(values[i], b[f.q.d.slot])
		}
	}
	if !some || !off {
		return
	}
	if i := f.known(s.id, values); i >= 0 {
		f.found[i].join(s)
		return
	}
	s.simplicity = simplicity(float64(kind))
	_, s.copied = s.tree.(formula.Name)
	s.copied = s.copied && !s.onAnswer
	s.key, s.prog, s.kind, s.harmless = key(s.id, s.detail), prog, kind, f.q.ex.isHarmless(f.q.d.id, s.id, s.detail)
	f.found, f.values = append(f.found, s), append(f.values, values)
}

// known finds a slip with the same id, or any where once is set, that has the
// same values; -1 where there is none.
func (f *finder) known(id string, values []float64) int {
next:
	for i, s := range f.found {
		if s.id != id && !f.once {
			continue
		}
		for j, v := range values {
			if finite(v) != finite(f.values[i][j]) || finite(v) && !same(v, f.values[i][j]) {
				continue next
			}
		}
		return i
	}
	return -1
}

// same says that two numbers differ by rounding only.
func same(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*(1+max(math.Abs(a), math.Abs(b)))
}

func (ex *Exercise) isHarmless(step, pattern, detail string) bool {
	for _, h := range ex.Harmless {
		if h.Step == step && h.Pattern == pattern && (h.Detail == detail || h.Detail == "*") {
			return true
		}
	}
	return false
}

// Patterns lists the slips that have a value on a step of this sheet's blank,
// simplest first. digits-swapped is listed for the key written to one decimal;
// nil for an unknown step.
func Patterns(ex *Exercise, sheet Sheet, step string) []Pattern {
	m, err := ex.ready()
	if err != nil {
		return nil
	}
	d, ok := m.def(step)
	if !ok {
		return nil
	}
	vals := m.values(sheet.Parameters)
	var out []Pattern
	for _, s := range m.slips[m.bySlot[d.slot]] {
		if v := s.prog.run(vals); finite(v) {
			out = append(out, Pattern{ID: s.id, Detail: s.detail, Value: v, Harmless: s.harmless})
		}
	}
	for _, sw := range swaps(vals[d.slot], 1, nil) {
		out = append(out, Pattern{ID: digitsSwapped, Detail: sw.detail(), Value: sw.value,
			Harmless: ex.isHarmless(step, digitsSwapped, sw.detail())})
	}
	return out
}
