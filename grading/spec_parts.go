package grading

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// givens reads the ranges. lengths is the unit of a length that names none.
func (b *builder) givens(field string, specs []GivenSpec, lengths joint.Unit) []Given {
	var out []Given
	seen := map[string]bool{}
	for i, s := range specs {
		path := fmt.Sprintf("%s[%d].", field, i)
		p, ok := b.parameter(path, s)
		if !ok {
			continue
		}
		if seen[p.ID] {
			b.fault(path+"id", 0, "%s is given twice.", p.ID)
		}
		seen[p.ID] = true
		g := Given{Parameter: p}
		b.span(path, s, &g, lengths)
		out = append(out, g)
	}
	if b.ex.Family != nil {
		for _, p := range b.ex.Family.Parameters {
			if !seen[p.ID] {
				b.fault(field, 0, "%s needs a range.", p.ID)
			}
		}
	} else if len(out) == 0 {
		b.fault(field, 0, "The exercise needs at least one given.")
	}
	return out
}

// inchGivens reads the ranges for inches; a given that is not repeated there
// keeps its range (angles).
func (b *builder) inchGivens() []Given {
	specs := slices.Clone(b.spec.InchGivens)
	for _, s := range b.spec.Givens {
		if !slices.ContainsFunc(specs, func(o GivenSpec) bool { return o.ID == s.ID }) {
			if p, _ := b.known(s.ID); p.Unit == joint.MM {
				b.fault("inch_givens", 0, "%s needs a range in inches.", s.ID)
			}
			specs = append(specs, s)
		}
	}
	return b.givens("inch_givens", specs, "in")
}

// known finds a given by id: in the family or among the exercise's own.
func (b *builder) known(id string) (joint.Parameter, bool) {
	if b.ex.Family != nil {
		for _, p := range b.ex.Family.Parameters {
			if p.ID == id {
				return p, true
			}
		}
		return joint.Parameter{}, false
	}
	for _, g := range b.ex.Givens {
		if g.ID == id {
			return g.Parameter, true
		}
	}
	return joint.Parameter{}, false
}

func (b *builder) parameter(path string, s GivenSpec) (joint.Parameter, bool) {
	p, ok := b.known(s.ID)
	if !ok {
		if b.ex.Family != nil {
			b.fault(path+"id", 0, "%q is not a parameter of %s.", s.ID, b.ex.Family.ID)
			return p, false
		}
		if !isID(s.ID) {
			b.fault(path+"id", 0, "%q cannot be an id: write lower-case letters, digits and underscores, a letter first.", s.ID)
			return p, false
		}
		p = joint.Parameter{ID: s.ID, Unit: joint.MM, Min: math.Inf(-1), Max: math.Inf(1)}
		if s.Unit == "" && b.spec.Family == "" {
			b.fault(path+"unit", 0, "%s needs a unit: mm, deg, mm2 or 1.", s.ID)
		}
	}
	if s.Unit != "" && s.Unit != "in" {
		p.Unit = b.unit(path+"unit", s.Unit)
	}
	p.Name, p.Symbol, p.Means = orElse(s.Name, p.Name), orElse(s.Symbol, p.Symbol), orElse(s.Means, p.Means)
	if p.Name == "" {
		p.Name = capitalised(strings.ReplaceAll(s.ID, "_", " "))
	}
	if p.Symbol == "" {
		p.Symbol = s.ID
	}
	p.Measured = p.Measured || s.Measured
	return p, true
}

func capitalised(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func orElse(s, otherwise string) string {
	if s != "" {
		return s
	}
	return otherwise
}

// isID says whether a text can be the id of a given or a step: a name in the
// formula language that is no function.
func isID(s string) bool {
	f, err := formula.Parse(s)
	if err != nil {
		return false
	}
	n, ok := f.Root().(formula.Name)
	return ok && n.ID == s && s != "pi" && strings.ToLower(s) == s
}

func (b *builder) unit(path, text string) joint.Unit {
	u := joint.Unit(text)
	switch u {
	case joint.MM, joint.Deg, joint.MM2, joint.One:
		return u
	}
	b.fault(path, 0, "%q is not a unit: write mm, deg, mm2 or 1.", text)
	return joint.MM
}

// span reads from, to and by, or the list of values.
func (b *builder) span(path string, s GivenSpec, g *Given, lengths joint.Unit) {
	scale := 1.0
	if g.Unit == joint.MM && (lengths == "in" || s.Unit == "in") {
		scale = inch
	}
	unread := false
	read := func(field, text string) float64 {
		v, err := readSize(text, g.Unit, scale)
		if err != nil {
			unread = true
			b.fault(path+field, 0, "%s", err)
		}
		return v
	}
	for i, text := range s.Only {
		g.Only = append(g.Only, read(fmt.Sprintf("only[%d]", i), text))
	}
	if len(s.Only) > 0 {
		g.From, g.To = slices.Min(g.Only), slices.Max(g.Only)
		return
	}
	g.From, g.To, g.By = read("from", s.From), read("to", s.To), read("by", s.By)
	switch {
	case unread:
	case g.To < g.From:
		b.fault(path+"to", 0, "The range of %s ends before it begins.", g.ID)
	case g.By <= 0 && g.To > g.From:
		b.fault(path+"by", 0, "The range of %s needs a step above nothing.", g.ID)
	case g.By > 0 && (g.To-g.From)/g.By > 1e6:
		b.fault(path+"by", 0, "The step of %s is too fine.", g.ID)
	}
}

// readSize reads a size in a range: a decimal, a fraction or a mixed number,
// with "mm" or "in" where it is a length.
func readSize(text string, u joint.Unit, scale float64) (float64, error) {
	s := strings.TrimSpace(text)
	if s == "" {
		return 0, errors.New("a number is missing here")
	}
	if u == joint.MM {
		if t, ok := strings.CutSuffix(s, "mm"); ok {
			s, scale = t, 1
		} else if t, ok := strings.CutSuffix(s, "in"); ok {
			s, scale = t, inch
		}
	}
	total := 0.0
	for _, part := range strings.Fields(s) {
		num, den, isFraction := strings.Cut(part, "/")
		n, err := strconv.ParseFloat(num, 64)
		d := 1.0
		if err == nil && isFraction {
			d, err = strconv.ParseFloat(den, 64)
		}
		if err != nil || d == 0 || !finite(n/d) {
			return 0, fmt.Errorf("%q is not a number: write 24, 0.5, 15/16 or 1 1/4", text)
		}
		total += n / d
	}
	return onGrid(total * scale), nil
}

// onGrid keeps sizes to a millionth of a millimetre: exact for every
// sixty-fourth of an inch and every decimal that people write, so that sums of
// steps meet their limits.
func onGrid(v float64) float64 { return math.Round(v*1e6) / 1e6 }

func (b *builder) steps() {
	specs := b.spec.Steps
	if len(specs) == 0 && b.ex.Family != nil {
		for _, id := range TaughtOrder(b.ex.Family.ID) {
			specs = append(specs, StepSpec{ID: id})
		}
	}
	if len(specs) == 0 {
		b.fault("steps", 0, "The exercise asks nothing: it needs at least one step.")
	}
	seen := map[string]bool{}
	for _, g := range b.ex.Givens {
		seen[g.ID] = true
	}
	for i, s := range specs {
		path := fmt.Sprintf("steps[%d].", i)
		if seen[s.ID] {
			b.fault(path+"id", 0, "%s stands here twice.", s.ID)
		}
		seen[s.ID] = true
		b.ex.Steps = append(b.ex.Steps, b.step(path, s))
	}
}

func (b *builder) step(path string, s StepSpec) Step {
	out := Step{
		ID: s.ID, Name: s.Name, Symbol: s.Symbol, From: s.From, Unit: joint.MM,
		Carries: s.Carries, Across: s.Across, Skill: s.Skill, View: s.View, Hints: s.Hints,
		Explain: s.Explain,
	}
	text, follow := s.Formula, s.Follow
	if b.ex.Family != nil {
		text, follow = b.fromCatalogue(&out, text, follow)
	}
	if s.Unit != "" {
		out.Unit = b.unit(path+"unit", s.Unit)
	}
	b.named(path, s, &out)
	if text == "" {
		b.fault(path+"formula", 0, "%s needs a formula.", s.ID)
		return out
	}
	out.Formula = b.parse(path+"formula", text)
	b.follow(path, s, follow, &out)
	if s.Tolerance != "" {
		v, err := readSize(s.Tolerance, out.Unit, 1)
		if err != nil || v <= 0 {
			b.fault(path+"tolerance", 0, "%q is not a tolerance: write a number above nothing.", s.Tolerance)
		}
		out.Tolerance = v
	}
	for id := range s.Hints {
		if pattern, _, _ := strings.Cut(id, " "); !isPatternID(pattern) {
			b.fault(path+"hints", 0, "%s is not a pattern.", id)
		}
	}
	return out
}

// follow says what a step builds on: what its author says, else the earlier
// steps that its formula for following names, or its formula. A formula that
// only copies one is trivial: an answer to it would follow without being worked
// out.
func (b *builder) follow(path string, s StepSpec, follow string, out *Step) {
	if s.Alone && len(s.Carries) > 0 {
		b.fault(path+"alone", 0, "The step stands alone and carries %s: take one of them out.", s.Carries[0])
	}
	if s.Alone {
		return
	}
	var f formula.Formula
	if follow != "" {
		f = b.parse(path+"follow", follow)
	}
	if len(s.Carries) > 0 {
		out.Follow = f
		return
	}
	if out.Carries = b.earlier(f); len(out.Carries) > 0 {
		out.Follow = f
	} else {
		out.Carries = b.earlier(out.Formula)
	}
}

// earlier lists the steps before this one that a formula names; none where it
// only copies one.
func (b *builder) earlier(f formula.Formula) []string {
	if _, copies := f.Root().(formula.Name); copies || f.Root() == nil {
		return nil
	}
	var ids []string
	for _, id := range f.Names() {
		if b.ex.stepIndex(id) >= 0 {
			ids = append(ids, id)
		}
	}
	return ids
}

// fromCatalogue fills in what a step of a family did not say.
func (b *builder) fromCatalogue(out *Step, text, follow string) (formulaText, followText string) {
	if q, ok := quantityOf(b.ex.Family, out.ID); ok {
		out.Name, out.Symbol = orElse(out.Name, q.Name), orElse(out.Symbol, q.Symbol)
		out.From, out.Unit = orElse(out.From, q.From), q.Unit
	}
	out.Across = orElse(out.Across, acrossOf(b.ex.Family.ID, out.ID))
	for _, f := range taught[b.ex.Family.ID].forms {
		if f.id == out.ID {
			if text == "" {
				follow = orElse(follow, f.follow)
			}
			text = orElse(text, f.formula)
		}
	}
	return text, follow
}

// acrossOf gives the given that an offset of a family runs across.
func acrossOf(family, quantity string) string {
	for _, f := range taught[family].forms {
		if f.id == quantity {
			return f.across
		}
	}
	return ""
}

func (b *builder) named(path string, s StepSpec, out *Step) {
	if !isID(s.ID) {
		b.fault(path+"id", 0, "%q cannot be an id: write lower-case letters, digits and underscores, a letter first.", s.ID)
	}
	if out.Name == "" {
		out.Name = capitalised(strings.ReplaceAll(s.ID, "_", " "))
	}
	out.Symbol = orElse(out.Symbol, s.ID)
	if b.ex.Family == nil && s.Unit == "" {
		b.fault(path+"unit", 0, "%s needs a unit: mm, deg, mm2 or 1.", s.ID)
	}
}

func (b *builder) parse(path, text string) formula.Formula {
	f, err := formula.Parse(text)
	if err != nil {
		b.formulaFault(path, err)
	}
	return f
}

func (b *builder) patterns() {
	for i, p := range b.spec.Patterns {
		path := fmt.Sprintf("patterns[%d].", i)
		switch {
		case p.ID == "":
			b.fault(path+"id", 0, "The pattern needs an id.")
		case isPatternID(p.ID):
			b.fault(path+"id", 0, "%s is the program's own pattern: choose another id.", p.ID)
		case p.Says == "" && p.Hint == "":
			b.fault(path+"hint", 0, "The pattern needs a hint for the student.")
		case slices.ContainsFunc(b.spec.Patterns[:i], func(o PatternSpec) bool { return o.ID == p.ID && o.Step == p.Step }):
			b.fault(path+"id", 0, "%s has the pattern %s already.", p.Step, p.ID)
		}
		b.ex.Patterns = append(b.ex.Patterns, OwnPattern{
			ID: p.ID, Step: p.Step, Says: p.Says, Hint: p.Hint, Formula: b.parse(path+"formula", p.Formula),
		})
	}
}

// stepPath is where a fault of a step stands, by its id.
func stepPath(id, field string) string { return "steps[" + id + "]." + field }

// placed turns the id in a step's path into the step's number.
func (b *builder) placed(f Fault) Fault {
	for i, s := range b.ex.Steps {
		f.Path = strings.Replace(f.Path, "steps["+s.ID+"]", fmt.Sprintf("steps[%d]", i), 1)
	}
	return f
}

// faultsOf takes a joined error apart.
func faultsOf(err error) []Fault {
	var one Fault
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var out []Fault
		for _, e := range many.Unwrap() {
			out = append(out, faultsOf(e)...)
		}
		return out
	}
	if errors.As(err, &one) {
		return []Fault{one}
	}
	return []Fault{{Msg: err.Error()}}
}
