package server

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// keyForm is a change of the key as typed, with what is wrong.
type keyForm struct {
	Why   Field
	Steps []keyStep
	// A slip of the instructor's own.
	SlipStep                    Choice
	SlipSays, SlipFormula, Asks Field
	// Another hint for a slip.
	HintSlip Choice
	Hint     Field
	Fault    string // of the form as a whole
}

// keyStep is one asked number in that form.
type keyStep struct {
	ID, Name  string
	Number    string // its place on the sheets; "" when it is withdrawn
	Today     string
	Tolerance Field
	Off       bool // withdrawn
	OffName   string
	Formula   Field
	Fixed     bool // the catalogue builds the number: no formula changes it
}

// Longest texts in characters: what a phone's page can bear.
const (
	whyMost     = 300
	hintMost    = 240
	formulaMost = 300
)

// keyBasis is what the form is about: the rules as they are, and what was sent.
type keyBasis struct {
	class store.Class
	rules rules
	work  store.Work
}

func (b keyBasis) units() grading.Units { return unitsOf(b.class) }

// form fills the form with the rules as they are.
func (b keyBasis) form() keyForm {
	f := keyForm{
		Why: Field{Name: "why", Label: "Why", Note: "students read it on their sheets; no right number in it", Auto: "off"},
		SlipSays: Field{Name: "slip-says", Label: "What went wrong", Auto: "off",
			Note: "ends the sentence “This is the number you get if …”; no number in it"},
		SlipFormula: Field{Name: "slip-formula", Label: "Formula that gives the wrong number", Auto: "off",
			Note: "over the sizes and numbers by their ids: " + strings.Join(b.names(), ", ")},
		Asks: Field{Name: "slip-asks", Label: "Question to the student", Note: "may stay empty", Auto: "off"},
		Hint: Field{Name: "hint-text", Label: "What students read instead", Auto: "off",
			Note: "whole sentences, such as: This is the number you get if … Then a question. No number in it"},
	}
	steps := []string{"", "no new slip"}
	for _, st := range b.rules.exercise.Steps {
		steps = append(steps, st.ID, st.Name)
		f.Steps = append(f.Steps, b.step(st))
	}
	f.SlipStep = Choice{Name: "slip-step", Label: "Number", Options: options("", steps...)}
	f.HintSlip = Choice{Name: "hint-slip", Label: "Slip", Note: "slips seen in this class", Options: options("", b.slips()...)}
	return f
}

// names are what formulas may speak of.
func (b keyBasis) names() []string {
	var ids []string
	for _, g := range b.rules.exercise.Givens {
		ids = append(ids, g.ID)
	}
	for _, st := range b.rules.exercise.Steps {
		ids = append(ids, st.ID)
	}
	return ids
}

func (b keyBasis) step(st grading.Step) keyStep {
	k := keyStep{
		ID: st.ID, Name: st.Name, Today: b.today(st), OffName: "off-" + st.ID,
		Off:       slices.Contains(b.rules.withdrawn, st.ID),
		Tolerance: Field{Name: "tolerance-" + st.ID, Label: "Right within", Class: "num", Auto: "off", Mode: "decimal"},
		Formula:   Field{Name: "formula-" + st.ID, Label: "Formula", Auto: "off", Value: st.Formula.String()},
		Fixed:     fixed(b.rules.exercise, st.ID),
	}
	if t, ok := b.rules.tolerances[st.ID]; ok {
		k.Tolerance.Value = toleranceText(t, st.Unit, b.units())
	}
	for _, sh := range b.work.Sheets {
		current := sh.Sheet.Current()
		if i := slices.IndexFunc(current.Steps, func(s grading.SheetStep) bool { return s.ID == st.ID }); i >= 0 {
			k.Number = fmt.Sprint(i + 1)
			break
		}
	}
	return k
}

// today says what a number is judged by without the instructor: the range over
// all blanks, and the reason on the one that allows least.
func (b keyBasis) today(st grading.Step) string {
	var least, most grading.SheetStep
	for _, sh := range b.work.Sheets {
		for _, s := range sh.Sheet.Plain().Steps {
			if s.ID != st.ID {
				continue
			}
			if least.ID == "" || s.Tolerance < least.Tolerance {
				least = s
			}
			if most.ID == "" || s.Tolerance > most.Tolerance {
				most = s
			}
		}
	}
	switch {
	case least.ID == "":
		return "On no sheet."
	case least.Tolerance == most.Tolerance:
		return least.Why
	}
	return fmt.Sprintf("%s to %s, blank by blank. Where it is least: %s",
		toleranceText(least.Tolerance, st.Unit, b.units()), toleranceText(most.Tolerance, st.Unit, b.units()), least.Why)
}

// slips lists the slips seen, and the instructor's own, as values and texts of
// a choice.
func (b keyBasis) slips() []string {
	out := []string{"", "no other hint"}
	seen := map[string]bool{}
	add := func(step string, s grading.Slip) {
		value := step + "|" + s.ID + "|" + s.Detail
		if !seen[value] && s.Says != "" {
			seen[value] = true
			out = append(out, value, stepName(b.rules.exercise, step)+": "+slipClause(s.Says))
		}
	}
	for _, p := range b.rules.exercise.Patterns {
		add(p.Step, grading.Slip{ID: p.ID, Says: p.Says + p.Hint})
	}
	for _, sh := range b.work.Sheets {
		for _, a := range sh.Attempts {
			for _, r := range a.Result.Steps {
				if r.Pattern != nil {
					add(r.ID, *r.Pattern)
				}
			}
		}
	}
	return out
}

// parse reads the form. ok is false when something in it is wrong; the form
// comes back as it was typed.
func (b keyBasis) parse(v url.Values) (f keyForm, c keyChange, ok bool) {
	f = b.form()
	c = keyChange{Tolerances: map[string]float64{}, Withdrawn: []string{}, Formulas: map[string]string{}}
	fields := []*Field{}
	for i := range f.Steps {
		k := &f.Steps[i]
		b.parseStep(v, k, &c)
		fields = append(fields, &k.Tolerance, &k.Formula)
	}
	if len(c.Withdrawn) == len(f.Steps) {
		f.Fault = "One number at least has to stay. To take all of it back, withdraw the assignment."
	}
	f.parseSlip(v, &c, b.rules.exercise)
	f.parseHint(v, &c)
	f.Why.Value = tidyName(v.Get("why"))
	c.Why = f.Why.Value
	f.Why.Fault = proseFault(c.Why, whyMost, "Write why: your students read it.")
	fields = append(fields, &f.SlipSays, &f.SlipFormula, &f.Asks, &f.Hint, &f.Why)
	return f, c, !faulty(fields...) && f.Fault == ""
}

func (b keyBasis) parseStep(v url.Values, k *keyStep, c *keyChange) {
	st, _ := stepOf(b.rules.exercise, k.ID)
	k.Off = v.Get(k.OffName) != ""
	if k.Off {
		c.Withdrawn = append(c.Withdrawn, k.ID)
	}
	k.Tolerance.Value = strings.TrimSpace(v.Get(k.Tolerance.Name))
	was, had := b.rules.tolerances[k.ID]
	switch {
	case k.Tolerance.Value == "":
	case had && k.Tolerance.Value == toleranceText(was, st.Unit, b.units()):
		c.Tolerances[k.ID] = was // exactly, whatever writing it has rounded away
	default:
		t, fault := b.readTolerance(st, k.Tolerance.Value)
		if k.Tolerance.Fault = fault; fault == "" {
			c.Tolerances[k.ID] = t
		}
	}
	if text := strings.TrimSpace(v.Get(k.Formula.Name)); !k.Fixed && text != "" {
		k.Formula.Value = text
		k.Formula.Fault = proseFault(text, formulaMost, "")
		c.Formulas[k.ID] = text
	}
}

// readTolerance reads a tolerance as any other number, and asks a sheet
// whether it can be set.
func (b keyBasis) readTolerance(st grading.Step, text string) (t float64, fault string) {
	if fault := unreadableText(text); fault != "" {
		return 0, fault
	}
	r, err := grading.Read(text, st.Unit, b.units(), nil)
	if in, ok := errors.AsType[*grading.InputError](err); ok {
		return 0, in.Reason
	}
	for _, sh := range b.work.Sheets {
		_, err := grading.Override(b.rules.exercise, sh.Sheet.Plain(), map[string]float64{st.ID: r.Value}, shopOf(b.class))
		if in, ok := errors.AsType[*grading.InputError](err); ok {
			return 0, in.Reason
		}
	}
	return r.Value, ""
}

func (f *keyForm) parseSlip(v url.Values, c *keyChange, ex *grading.Exercise) {
	f.SlipSays.Value, f.SlipFormula.Value, f.Asks.Value = tidyName(v.Get("slip-says")), strings.TrimSpace(v.Get("slip-formula")), tidyName(v.Get("slip-asks"))
	step := f.SlipStep.choose(v.Get("slip-step"))
	if step == "" {
		if f.SlipSays.Value+f.SlipFormula.Value != "" {
			f.SlipSays.Fault = "Choose the number that this slip is made on, or empty these fields."
		}
		return
	}
	f.SlipSays.Fault = proseFault(f.SlipSays.Value, hintMost, "Say in a few words what goes wrong.")
	f.SlipFormula.Fault = proseFault(f.SlipFormula.Value, formulaMost, "Write the wrong formula, such as v_width/v_length.")
	if f.Asks.Value != "" {
		f.Asks.Fault = proseFault(f.Asks.Value, hintMost, "")
	}
	c.Slip = &grading.PatternSpec{
		ID: ownSlipID(ex), Step: step, Formula: f.SlipFormula.Value,
		Says: "This is the number you get if " + strings.TrimSuffix(f.SlipSays.Value, ".") + ".", Hint: f.Asks.Value,
	}
}

// ownSlipID is an id that no slip of the exercise has.
func ownSlipID(ex *grading.Exercise) string {
	for n := len(ex.Patterns) + 1; ; n++ {
		id := fmt.Sprintf("own-%d", n)
		if !slices.ContainsFunc(ex.Patterns, func(p grading.OwnPattern) bool { return p.ID == id }) {
			return id
		}
	}
}

func (f *keyForm) parseHint(v url.Values, c *keyChange) {
	f.Hint.Value = tidyName(v.Get("hint-text"))
	slip := f.HintSlip.choose(v.Get("hint-slip"))
	if slip == "" {
		if f.Hint.Value != "" {
			f.Hint.Fault = "Choose the slip that this is said for, or empty this field."
		}
		return
	}
	f.Hint.Fault = proseFault(f.Hint.Value, hintMost, "Write what students read.")
	parts := strings.SplitN(slip, "|", 3)
	c.Hint = &hintChange{Step: parts[0], Pattern: parts[1], Detail: parts[2], Text: f.Hint.Value}
}

// choose marks an option; what is none of them chooses the first.
func (c *Choice) choose(value string) string {
	if _, ok := pick(value, c.Options); !ok {
		value = c.Options[0].Value
	}
	for i, o := range c.Options {
		c.Options[i].Chosen = o.Value == value
	}
	return value
}

// blame puts the faults of an exercise beside the fields they come from.
func (f *keyForm) blame(faults []grading.Fault) {
	for _, fault := range faults {
		said := fault.Msg
		if fault.Col > 0 {
			said = fmt.Sprintf("At sign %d: %s", fault.Col, lowerFirst(fault.Msg))
		}
		var i int
		switch {
		case strings.HasPrefix(fault.Path, "patterns[") && f.SlipFormula.Value != "":
			f.SlipFormula.Fault = said
		case scanStep(fault.Path, &i) && i < len(f.Steps) && !f.Steps[i].Fixed:
			f.Steps[i].Formula.Fault = said
		case f.Hint.Value != "" && strings.HasSuffix(fault.Path, ".hints"):
			f.Hint.Fault = said
		default:
			f.Fault = said
		}
	}
}

func scanStep(path string, i *int) bool {
	n, err := fmt.Sscanf(path, "steps[%d].", i)
	return n == 1 && err == nil && *i >= 0
}

// proseFault is what is wrong with a text; missing is the sentence for one that
// is not there, "" where it need not be.
func proseFault(text string, most int, missing string) string {
	switch {
	case text == "":
		return missing
	case utf8.RuneCountInString(text) > most:
		return fmt.Sprintf("Keep this under %d letters.", most)
	}
	return ""
}
