package server

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
	"arrisbook/server/store"
)

var moduleTryRoutes = []route{
	{http.MethodGet, "/modules/:own/try", forTeachers, (*server).getTry},
	{http.MethodPost, "/modules/:own/try", forTeachers, (*server).postTry},
}

// tryPage is an exercise of a module as a student gets it, and behind a fold
// what a student never sees: how each right number comes about, and what each
// slip would give. It is the author's own, so nothing is hidden.
type tryPage struct {
	Frame
	Heading, Lead   string
	Href, Action    string
	Exercise, Units Choice
	Seed            uint64
	Another         string
	Parts           []sheetPart
	Givens          []shownGiven
	Measured        bool
	Working         []tryStep
	Fault           string // why there is no blank
}

// tryStep is the tool's own working of one number.
type tryStep struct {
	Number          int
	Name            string
	Formula, Worked template.HTML
	Words           string // the formula as plain text
	Value           string
	Within, Why     string
	Slips           []trySlip
}

// trySlip is what one slip would give, and what a student would read.
type trySlip struct {
	Name, Value, Says string
	Harmless          bool
}

func tryHref(module int64, exercise string) string {
	return moduleHref(module) + "/try?exercise=" + url.QueryEscape(exercise)
}

func (s *server) getTry(c echo.Context) error {
	page, err := s.tryPage(c, false)
	if err != nil {
		return err
	}
	return s.show(c, "moduletry", &page.Frame, &page)
}

// postTry grades what was typed, and keeps nothing.
func (s *server) postTry(c echo.Context) error {
	page, err := s.tryPage(c, true)
	if err != nil {
		return err
	}
	return s.render(c, http.StatusOK, "moduletry", &page)
}

// tryPage draws the blank of a seed and shows it; answered says that the form
// holds numbers to be graded.
func (s *server) tryPage(c echo.Context, answered bool) (tryPage, error) {
	m, err := s.ownModule(c)
	if err != nil {
		return tryPage{}, err
	}
	ctx := c.Request().Context()
	own, err := s.shelved(ctx, m.ID, m.Saves)
	if err != nil {
		return tryPage{}, err
	}
	page := tryPage{Frame: s.moduleFrame(c, "Try: "+titleOfModule(m)), Href: moduleHref(m.ID), Action: moduleHref(m.ID) + "/try"}
	ex := page.choose(c, own.module.Exercises)
	if ex == nil {
		page.Heading, page.Lead = "There is no exercise to try", "The newest save has none, or none that can be read. Look at its faults first."
		return page, nil
	}
	page.Heading = ex.Title
	page.Lead = fmt.Sprintf("As a student gets it, out of save %d. Nothing of this is kept.", m.Saves)
	units := grading.Units(page.Units.chosen())
	sheet, err := grading.Generate(ex, page.Seed, grading.ShopFor(units))
	var none *grading.NoBlankError
	if errors.As(err, &none) {
		page.Fault = upperFirst(none.Error())
		return page, nil
	}
	if err != nil {
		return page, fmt.Errorf("try module %d: %w", m.ID, err)
	}
	d := tryDesk(ex, sheet, units, s.now())
	if answered {
		values, err := c.FormParams()
		if err != nil {
			return page, echo.NewHTTPError(http.StatusBadRequest)
		}
		d.answer(parseNumbers(values, sheet).Texts)
	}
	return page, page.fill(d)
}

// choose reads which exercise, units and blank are asked for; nil: the module
// has no exercise.
func (p *tryPage) choose(c echo.Context, all []*grading.Exercise) *grading.Exercise {
	var chosen *grading.Exercise
	var pairs []string
	for _, ex := range all {
		pairs = append(pairs, ex.ID, ex.Title)
		if ex.ID == c.FormValue("exercise") {
			chosen = ex
		}
	}
	if chosen == nil && len(all) > 0 {
		chosen = all[0]
	}
	if chosen == nil {
		return nil
	}
	units := string(grading.Millimetres)
	if c.FormValue("units") == string(grading.Inches) {
		units = string(grading.Inches)
	}
	p.Exercise = Choice{Name: "exercise", Label: "Exercise", Options: options(chosen.ID, pairs...)}
	p.Units = Choice{Name: "units", Label: "Lengths", Options: options(units, "mm", "millimetres", "inch", "inches, in fractions")}
	var err error
	if p.Seed, err = strconv.ParseUint(c.FormValue("seed"), 10, 53); err != nil || p.Seed == 0 {
		p.Seed = 1
	}
	p.Another = fmt.Sprintf("%s&units=%s&seed=%d", p.Action+"?exercise="+url.QueryEscape(chosen.ID), units, p.Seed+1)
	return chosen
}

// chosen is the value of the option that is taken.
func (c Choice) chosen() string {
	for _, o := range c.Options {
		if o.Chosen {
			return o.Value
		}
	}
	return ""
}

// tryDesk is the desk of a student who does not exist.
func tryDesk(ex *grading.Exercise, sheet grading.Sheet, units grading.Units, now time.Time) desk {
	return desk{
		class: store.Class{Units: string(units), Projection: "first"}, sheet: store.Sheet{No: 1, Issued: sheet},
		exercise: ex, now: now, zone: time.UTC, assignment: store.Assignment{Title: ex.Title, Release: store.ReleaseByHand},
	}
}

// answer puts numbers on the desk as if they had been sent.
func (d *desk) answer(texts map[string]string) {
	readable := map[string]string{}
	for id, text := range texts {
		if unreadableText(text) == "" {
			readable[id] = text
		}
	}
	d.sheet.Attempts = 1
	d.last = &store.Attempt{No: 1, Sheet: d.sheet.Issued, Answers: texts, Result: grading.Grade(d.exercise, d.sheet.Issued, readable, d.units())}
}

func (p *tryPage) fill(d desk) error {
	sheet := d.sheet.Issued
	p.Givens = shownGivens(d.exercise, sheet, d.units())
	var entries map[string]entry
	if d.last != nil {
		entries = readEntries(d.exercise, sheet, d.lastTexts(), d.units())
		for id, e := range entries {
			if e.Fault == "" {
				delete(entries, id)
			}
		}
		p.Lead = ofAll(rightIn(d.marks()), len(sheet.Steps)) + " right. " + p.Lead
		p.Lead = upperFirst(p.Lead)
	}
	fields := d.fields(d.lastTexts(), entries, -1)
	for i, f := range fields {
		if e, bad := entries[f.ID]; bad {
			fields[i].justRead(e)
		}
	}
	var err error
	if p.Parts, err = d.parts(fields); err != nil {
		return err
	}
	key := grading.Key(d.exercise, sheet.Parameters)
	for i, st := range sheet.Steps {
		p.Working = append(p.Working, d.working(i+1, st, key))
	}
	return nil
}

// working is how the tool itself comes to one number, and what slips would
// make of it.
func (d desk) working(number int, st grading.SheetStep, key joint.Values) tryStep {
	step, _ := stepOf(d.exercise, st.ID)
	symbols := symbolsOf(d.exercise)
	w := tryStep{
		Number: number, Name: step.Name, Words: st.ID + " = " + step.Formula.String(), Value: grading.Print(key[st.ID], st.Unit, d.units()),
		Formula: template.HTML(step.Formula.MathML(st.ID, symbols, false)),
		Within:  withinText(st, d.units()), Why: st.Why,
	}
	worked := step.Formula.Substitute(func(id string) (formula.Formula, bool) {
		v, ok := d.sheet.Issued.Parameters[id]
		if !ok {
			v, ok = key[id]
		}
		if !ok || v < 0 {
			return formula.Formula{}, false
		}
		return formula.FromNode(formula.Num{Value: v, Text: figures(v)}), true
	})
	w.Worked = template.HTML(worked.MathML(st.ID, symbols, false))
	for _, p := range grading.Patterns(d.exercise, d.sheet.Issued, st.ID) {
		name := p.ID
		if p.Detail != "" {
			name += " (" + p.Detail + ")"
		}
		w.Slips = append(w.Slips, trySlip{name, grading.Print(p.Value, st.Unit, d.units()), d.hintFor(st, p), p.Harmless})
	}
	return w
}

// hintFor is what a student reads who gives the number of a slip, as the
// grader says it.
func (d desk) hintFor(st grading.SheetStep, p grading.Pattern) string {
	text := strconv.FormatFloat(p.Value, 'f', 4, 64)
	if st.Unit == joint.MM {
		text += " mm"
	}
	for _, r := range grading.Grade(d.exercise, d.sheet.Issued, map[string]string{st.ID: text}, d.units()).Steps {
		if r.ID != st.ID || r.Pattern == nil {
			continue
		}
		for _, sl := range append([]grading.Slip{*r.Pattern}, r.Also...) {
			if sl.ID == p.ID && sl.Detail == p.Detail {
				return sl.Says
			}
		}
	}
	return ""
}

// figures writes a number with up to three decimals, which is enough to follow
// the working.
func figures(v float64) string {
	short := strconv.FormatFloat(v, 'f', 3, 64)
	return strings.TrimSuffix(strings.TrimRight(short, "0"), ".")
}
