package server

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/lessons"
)

var practiceRoutes = []route{
	{http.MethodGet, "/practice/:exercise", forAnybody, (*server).getPractice},
	{http.MethodPost, "/practice/:exercise", forAnybody, (*server).postPractice},
}

// practicePage is an exercise on a blank that nobody gets marks for. The blank
// follows from the number in its address, and nothing of it is kept.
type practicePage struct {
	Frame
	Heading, Lead string
	Next          *Link
	Action        string
	Lesson        *Link
	Another       string
	Seed          uint64
	Units         Choice
	Parts         []sheetPart
	Givens        []shownGiven
	Measured      bool
	Fit           *shownFit
	More          []Link    // sections that explain what went wrong
	Working       []tryStep // how the numbers come about, once asked for
	MayWork       bool      // the working can be asked for
	Held          string    // why it cannot
	Fault         string
}

// practice is what one request practises on.
type practice struct {
	library  *lessons.Library
	exercise *grading.Exercise
	seed     uint64
	units    grading.Units
	held     []joint.Values // the sizes of the reader's own unreleased sheets
}

// limitPractice lets a whole class behind one address draw blanks for a lesson
// long; only a machine comes past it.
var limitPractice = limit{free: 2000, most: 10 * time.Second}

// practiceHref leads to a fresh blank of an exercise.
func practiceHref(exercise string) string { return "/practice/" + url.PathEscape(exercise) }

// practiseLink is what a lesson has below each exercise.
func practiseLink(ex *grading.Exercise) template.HTML {
	return template.HTML(`<p class="noprint"><a class="btn" href="` + template.HTMLEscapeString(practiceHref(ex.ID)) + `">Practise on a fresh blank</a></p>` + "\n")
}

func (s *server) getPractice(c echo.Context) error {
	if c.QueryParam("seed") == "" {
		return goTo(c, c.Request().URL.Path+"?"+practiceQuery(newSeed(), c.QueryParam("units")))
	}
	p, err := s.practice(c)
	if err != nil {
		return err
	}
	page := s.practicePage(c, p)
	d, ok, err := p.draw(&page, s.now())
	if err != nil {
		return err
	}
	if ok {
		err = page.fill(p, d)
	}
	if err != nil {
		return err
	}
	return s.show(c, "practice", &page.Frame, &page)
}

// postPractice judges what was typed, and keeps nothing.
func (s *server) postPractice(c echo.Context) error {
	p, err := s.practice(c)
	if err != nil {
		return err
	}
	page := s.practicePage(c, p)
	d, ok, err := p.draw(&page, s.now())
	if err != nil {
		return err
	}
	if !ok {
		return s.render(c, http.StatusUnprocessableEntity, "practice", &page)
	}
	values, err := c.FormParams()
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	status := http.StatusOK
	form := parseNumbers(values, d.sheet.Issued)
	if form.empty() {
		page.Fault, status = "Nothing is filled in yet. Write at least one number; the others can wait.", http.StatusUnprocessableEntity
	} else {
		d.answer(form.Texts)
		if values.Get("do") == "work" && len(p.held) == 0 {
			now := s.now()
			d.assignment.ReleasedAt = &now
		}
	}
	if err := page.fill(p, d); err != nil {
		return err
	}
	return s.render(c, status, "practice", &page)
}

// practice reads what is asked for. Whoever asks faster than people work is
// told to wait.
func (s *server) practice(c echo.Context) (practice, error) {
	key := "practice from " + addressOf(c)
	if wait := s.failures.wait(key); wait > 0 {
		seconds := (&tooManyError{wait}).Seconds()
		c.Response().Header().Set("Retry-After", strconv.Itoa(seconds))
		return practice{}, &statusError{Status: http.StatusTooManyRequests, Heading: "One moment",
			Sentence: fmt.Sprintf("Very many blanks were drawn from here. Wait %s, then go on.", count(seconds, "second")), To: "/lessons", ToText: "to the lessons"}
	}
	s.failures.failed(key, limitPractice)
	p := practice{units: grading.Millimetres}
	ctx := c.Request().Context()
	var err error
	if p.library, err = s.library(ctx); err != nil {
		return p, err
	}
	ex, ok := p.library.Exercise(c.Param("exercise"))
	if !ok {
		return p, errNotFound
	}
	p.exercise = ex
	if p.seed, err = strconv.ParseUint(c.FormValue("seed"), 10, 53); err != nil {
		return p, errNotFound
	}
	if p.units, err = s.practiceUnits(c); err != nil {
		return p, err
	}
	p.held, err = s.heldBlanks(ctx, who(c), p.library, ex)
	return p, err
}

// practiceUnits are those asked for; else the class's, for a student.
func (s *server) practiceUnits(c echo.Context) (grading.Units, error) {
	switch u := grading.Units(c.FormValue("units")); u {
	case grading.Millimetres, grading.Inches:
		return u, nil
	}
	st := who(c).Student
	if st == nil {
		return grading.Millimetres, nil
	}
	class, err := s.store.ClassByID(c.Request().Context(), st.ClassID)
	return unitsOf(class), err
}

// heldBlanks are the sizes of a student's own sheets of the same joint whose
// key is not released: practice must not give it away.
func (s *server) heldBlanks(ctx context.Context, p principal, lib *lessons.Library, ex *grading.Exercise) ([]joint.Values, error) {
	if p.Student == nil {
		return []joint.Values{}, nil
	}
	own, err := s.store.SheetsOf(ctx, p.Student.ClassID, p.Student.No, s.now())
	if err != nil {
		return nil, err
	}
	held := []joint.Values{}
	for _, o := range own {
		if released(o.Assignment, o.Cleared, s.now()) || !sameJoint(lib, o.Assignment.Exercise, ex) {
			continue
		}
		held = append(held, o.Sheet.Issued.Parameters, o.Sheet.Current().Parameters)
	}
	return held, nil
}

// sameJoint says whether an exercise, by its id, works on the joint of another.
func sameJoint(lib *lessons.Library, id string, ex *grading.Exercise) bool {
	if id == ex.ID {
		return true
	}
	other, ok := lib.Exercise(id)
	return ok && ex.Family != nil && other.Family != nil && other.Family.ID == ex.Family.ID
}

func practiceQuery(seed uint64, units string) string {
	q := url.Values{"seed": {strconv.FormatUint(seed, 10)}}
	if units == string(grading.Millimetres) || units == string(grading.Inches) {
		q.Set("units", units)
	}
	return q.Encode()
}

func (s *server) practicePage(c echo.Context, p practice) practicePage {
	page := practicePage{
		Frame: s.frame(c, "Practice: "+p.exercise.Title), Heading: p.exercise.Title, Seed: p.seed,
		Lead:   "Practice on a fresh blank. It does not count and nothing is kept, so try as often as you like.",
		Action: practiceHref(p.exercise.ID), Another: practiceHref(p.exercise.ID) + "?units=" + string(p.units),
		Units: Choice{Name: "units", Label: "Lengths", Options: options(string(p.units), "mm", "millimetres", "inch", "inches, in fractions")},
	}
	if m, ok := p.library.Module(p.exercise.Module); ok {
		page.Lesson = &Link{Text: m.Title, Href: "/lessons/" + m.ID + "#exercise-" + p.exercise.ID}
		page.Rail = append(page.Rail, Link{Text: "Lesson", Href: page.Lesson.Href})
	}
	page.Block = []BlockField{{Label: "Title", Text: p.exercise.Title, Wide: true}, {Label: "Blank", Text: "no. " + strconv.FormatUint(p.seed, 10), Wide: true}}
	return page
}

// draw draws the blank; ok is false where there is none to practise on, and
// the page says why.
func (p practice) draw(page *practicePage, now time.Time) (d desk, ok bool, err error) {
	sheet, err := grading.Generate(p.exercise, p.seed, grading.ShopFor(p.units))
	if _, none := errors.AsType[*grading.NoBlankError](err); none {
		page.Fault = "No blank came out of this number. Draw another one."
		return d, false, nil
	}
	if err != nil {
		return d, false, fmt.Errorf("practise %s: %w", p.exercise.ID, err)
	}
	if contains(p.held, sheet.Parameters) {
		page.Fault = "This blank has the sizes of your own sheet. Practise on another one."
		return d, false, nil
	}
	return tryDesk(p.exercise, sheet, p.units, now), true, nil
}

// fill puts the blank on the page, and what became of the numbers.
func (p *practicePage) fill(on practice, d desk) error {
	p.Givens = shownGivens(d.exercise, d.sheet.Issued, d.units())
	next := 0
	if d.last != nil {
		next = firstOpen(d.marks())
		if err := p.judge(on, d, next); err != nil {
			return err
		}
	}
	fields := d.fields(d.lastTexts(), nil, next)
	if d.last != nil {
		for id, fault := range faultsIn(readEntries(d.exercise, d.sheet.Issued, d.lastTexts(), d.units())) {
			for i := range fields {
				if fields[i].ID == id {
					fields[i].justRead(entry{Fault: fault})
				}
			}
		}
	}
	var err error
	p.Parts, err = d.parts(fields)
	return err
}

// judge says how much is right, how it would close, and where to read on.
func (p *practicePage) judge(on practice, d desk, next int) error {
	marks := d.marks()
	p.Heading = p.Heading + ": " + ofAll(rightIn(marks), len(marks)) + " right"
	if next < 0 {
		p.Heading = d.exercise.Title + ": all " + inWords(len(marks)) + " right"
		p.Next = &Link{Text: "another blank", Href: p.Another}
	} else {
		step, _ := stepOf(d.exercise, marks[next].ID)
		p.Next = &Link{Text: fmt.Sprintf("number %d, %s", next+1, midName(step.Name)), Href: fmt.Sprintf("#n%d", next+1)}
	}
	seen := map[Link]bool{}
	for _, m := range marks {
		if m.Verdict != grading.Wrong {
			continue
		}
		if more := explained(on.library, d.exercise, m); more != nil && !seen[*more] {
			seen[*more] = true
			p.More = append(p.More, *more)
		}
	}
	if d.released() {
		key := grading.Key(d.exercise, d.sheet.Issued.Parameters)
		for i, st := range d.sheet.Issued.Steps {
			p.Working = append(p.Working, d.working(i+1, st, key))
		}
		p.Next = &Link{Text: "another blank", Href: p.Another}
	} else if len(on.held) > 0 {
		p.Held = "The working is not shown while a sheet of this joint waits for its key."
	} else {
		p.MayWork = true
	}
	if d.exercise.Family == nil || d.last.Result.Fit == nil {
		return nil
	}
	var err error
	p.Fit, err = d.shownFit(*d.last)
	return err
}
