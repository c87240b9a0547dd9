package server

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/grading/discover"
	"arrisbook/grading/formula"
	"arrisbook/server/store"
)

var findingRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/:assignment/review/findings", forInstructors, (*server).getFindings},
	{http.MethodPost, "/classes/:class/assignments/:assignment/review/findings", forInstructors, (*server).postFindings},
	{http.MethodPost, "/classes/:class/assignments/:assignment/review/findings/stop", forInstructors, (*server).postStopFindings},
	{http.MethodPost, "/classes/:class/assignments/:assignment/review/findings/keep", forInstructors, (*server).postKeepFinding},
}

// findingsPage looks for wrong formulas that several of a class have in common.
// It has names, so it is not for the wall.
type findingsPage struct {
	Frame
	Heading, Lead string
	Href, Back    string
	Busy          *findingBusy
	Steps         []findingStep
	Searchable    bool
	Next          bool // looking is the next thing
	Undo          *undoLine
}

type findingBusy struct {
	Stage string
	Done  int // in 100
}

// findingStep is one number with what was found on it.
type findingStep struct {
	ID       string
	Number   int
	Name     string
	Wrong    int    // sheets with a wrong answer that no slip gives
	Looked   string // what the last search looked at, and when; "" for none
	More     bool   // enough answers to search
	Findings []findingLine
}

// findingLine is one formula that was found, with the form that keeps it.
type findingLine struct {
	Step    string
	Text    string // the formula as it is written
	Formula template.HTML
	Says    string
	Count   string
	People  []findingPerson
	Kept    bool // it is a named slip of the exercise by now
	Tells   Field
	Hint    Field
	Why     Field
	Focus   bool
}

type findingPerson struct{ Text, Href string }

// findingLeast is how many wrong answers a search needs: a finding has five.
const findingLeast = 5

func findingsHref(class store.Class, no int) string { return reviewHref(class, no) + "/findings" }

func (s *server) getFindings(c echo.Context) error {
	page, _, err := s.findingsPage(c)
	if err != nil {
		return err
	}
	if page.Busy != nil {
		// Without a script the page looks again by itself; there is nothing on it
		// that looking again would lose.
		c.Response().Header().Set("Refresh", "1")
	}
	return s.show(c, "findings", &page.Frame, &page)
}

func (s *server) findingsPage(c echo.Context) (findingsPage, reviewData, error) {
	ctx, class := c.Request().Context(), where(c).Class
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return findingsPage{}, reviewData{}, err
	}
	d, err := s.reviewData(ctx, class, a, ex)
	if err != nil {
		return findingsPage{}, d, err
	}
	searches, err := s.store.Searches(ctx, class.ID, a.No)
	if err != nil {
		return findingsPage{}, d, err
	}
	rows, err := s.store.Room(ctx, class.ID, a.No)
	if err != nil {
		return findingsPage{}, d, err
	}
	page := findingsPage{
		Frame: s.frame(c, "Shared wrong formulas: "+a.Title), Href: findingsHref(class, a.No), Back: reviewHref(class, a.No),
		Steps: s.findingSteps(d, searches, rows),
	}
	if stage, done, busy := s.findings.of(printPlace{class.ID, a.No}); busy {
		page.Busy = &findingBusy{stage, hundredths(done)}
	}
	if a.KeyNo > 0 {
		k, err := s.store.Key(ctx, class.ID, a.No, a.KeyNo)
		if err != nil {
			return page, d, err
		}
		page.Undo = s.keyUndoLine(k, keyHref(class, a.No), zoneOf(class))
	}
	page.head()
	page.Rail = roomRail(class, a, "")
	page.Block = []BlockField{{Label: "Class", Text: class.Name, Wide: true}, {Label: "Exercise", Text: a.Title, Wide: true}}
	return page, d, nil
}

// head says what was found.
func (p *findingsPage) head() {
	found, looked := 0, false
	for _, st := range p.Steps {
		found += len(st.Findings)
		looked = looked || st.Looked != ""
		p.Searchable = p.Searchable || st.More
	}
	p.Lead = "Everybody has wood of another size, so a wrong formula that several used gives itself away: it gives all their numbers. Names stand on this page; keep it off the wall."
	switch {
	case p.Busy != nil:
		p.Heading = fmt.Sprintf("Looking: %d of 100 done", p.Busy.Done)
	case found > 0:
		p.Heading = upperFirst(counted(found, "shared wrong formula", "shared wrong formulas")) + " found"
	case looked:
		p.Heading = "No shared wrong formula found"
	case p.Searchable:
		p.Heading = "Nothing was looked for yet"
	default:
		p.Heading = "Too few answers to look for anything"
		p.Lead += fmt.Sprintf(" At least %d wrong answers to one number are needed; with fewer, chance finds formulas too.", findingLeast)
	}
	p.Next = p.Busy == nil && p.Searchable && !looked
}

func (s *server) findingSteps(d reviewData, searches []store.Search, rows []store.RoomRow) []findingStep {
	var out []findingStep
	for i, st := range d.ex.Steps {
		line := findingStep{ID: st.ID, Number: i + 1, Name: lowerFirst(st.Name), More: len(d.puzzles(st.ID)) >= findingLeast}
		for _, m := range d.slips(st.ID) {
			if m.slip == nil {
				line.Wrong = m.people()
			}
		}
		at := slices.IndexFunc(searches, func(f store.Search) bool { return f.Step == st.ID })
		if at >= 0 {
			f := searches[at]
			line.Looked = fmt.Sprintf("Looked at %s, %s.", counted(f.Answers, "wrong answer", "wrong answers"), when(f.EndedAt, zoneOf(d.class)))
			for n, found := range f.Findings {
				line.Findings = append(line.Findings, d.findingLine(st, n, found, rows))
			}
		}
		if line.More || at >= 0 {
			out = append(out, line)
		}
	}
	return out
}

func (d reviewData) findingLine(st grading.Step, n int, found store.Finding, rows []store.RoomRow) findingLine {
	l := findingLine{
		Step: st.ID, Text: found.Formula, Says: found.Says,
		Count: fmt.Sprintf("%d of %d answers; by chance formulas of its kind give %d at best.", len(found.Sheets), found.Of, found.Decoy),
		Tells: Field{Name: fmt.Sprintf("says-%s-%d", st.ID, n), Label: "What students read", Note: "no number of anybody’s in it", Auto: "off", Value: keptSays(found.Says)},
		Hint:  Field{Name: fmt.Sprintf("hint-%s-%d", st.ID, n), Label: "Question to the student", Auto: "off", Value: "Which lines on the drawing does this number lie between?"},
		Why:   Field{Name: fmt.Sprintf("why-%s-%d", st.ID, n), Label: "Why", Note: "students read it on their sheets", Auto: "off", Value: "A slip that several of you made has a name now."},
	}
	if f, err := formula.Parse(found.Formula); err == nil {
		l.Formula = template.HTML(f.MathML("", symbolsOf(d.ex), false))
	}
	for _, r := range rows {
		if slices.Contains(found.Sheets, r.SheetNo) {
			l.People = append(l.People, findingPerson{fmt.Sprintf("Bench %d, %s", r.Bench, r.Name), benchHref(d.class, r.SheetNo)})
		}
	}
	_, l.Kept = keptAs(d.ex, st.ID, found.Formula)
	return l
}

// keptAs finds the slip that a finding was kept as.
func keptAs(ex *grading.Exercise, step, text string) (grading.OwnPattern, bool) {
	f, err := formula.Parse(text)
	if err != nil {
		return grading.OwnPattern{}, false
	}
	i := slices.IndexFunc(ex.Patterns, func(p grading.OwnPattern) bool { return p.Step == step && p.Formula.Equal(f) })
	if i < 0 {
		return grading.OwnPattern{}, false
	}
	return ex.Patterns[i], true
}

// keptSays turns what was found into what the students read, in the form that
// every slip is told in.
func keptSays(says string) string {
	first, _, _ := strings.Cut(says, ". ")
	out := "This is the number you get if it is worked out as " + strings.TrimPrefix(strings.TrimSuffix(first, "."), "This is the number you get from ") + "."
	if utf8.RuneCountInString(out) > hintMost {
		return "This is the number you get if another rule is used than the one that is taught."
	}
	return out
}

// puzzles are the wrong answers that a search is given, one a sheet: where a
// sheet has one that nothing explains, that, else its earliest.
func (d reviewData) puzzles(step string) []store.WrongAnswer {
	var out []store.WrongAnswer
	place := map[int]int{}
	for _, w := range d.wrong {
		if w.Step != step || w.Result.Reading == nil {
			continue
		}
		i, seen := place[w.SheetNo]
		switch {
		case !seen:
			place[w.SheetNo] = len(out)
			out = append(out, w)
		case out[i].Result.Pattern != nil && w.Result.Pattern == nil:
			out[i] = w
		}
	}
	return out
}

// postFindings starts a search, on one number or on all that have enough wrong
// answers.
func (s *server) postFindings(c echo.Context) error {
	ctx, class := c.Request().Context(), where(c).Class
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	d, err := s.reviewData(ctx, class, a, ex)
	if err != nil {
		return err
	}
	var tasks []findingTask
	for _, st := range ex.Steps {
		if only := c.FormValue("step"); only != "" && only != st.ID {
			continue
		}
		if answers := d.puzzles(st.ID); len(answers) >= findingLeast {
			tasks = append(tasks, s.findingTask(d, st, answers, who(c).Staff.ID))
		}
	}
	switch {
	case len(tasks) == 0:
		s.say(c, "There are too few wrong answers to look for anything.")
	case !s.findings.start(printPlace{class.ID, a.No}, tasks, func(err error) {
		s.log.Error("search for formulas", "error", err, "class", class.ID, "assignment", a.No)
	}):
		s.say(c, "Somebody is looking already.")
	}
	return goTo(c, findingsHref(class, a.No))
}

func (s *server) findingTask(d reviewData, st grading.Step, answers []store.WrongAnswer, by int64) findingTask {
	var kept []store.WrongAnswer
	return findingTask{
		name: st.Name,
		problem: func() (discover.Problem, error) {
			p := discover.Problem{Exercise: d.ex, Step: st.ID}
			for _, w := range answers {
				units := unitsOf(d.class)
				if w.Units != "" {
					units = grading.Units(w.Units)
				}
				a, err := discover.Judge(d.ex, st.ID, w.Parameters, w.Result.Given, units)
				if err != nil {
					continue // a blank of before that the exercise does not take any more
				}
				p.Answers, kept = append(p.Answers, a), append(kept, w)
			}
			return p, nil
		},
		keep: func(ctx context.Context, r discover.Report) error {
			found := store.Search{Step: st.ID, Answers: len(kept), AskedBy: by, EndedAt: s.now()}
			for _, f := range r.Findings {
				line := store.Finding{Formula: f.Formula.String(), Says: f.Says, Of: f.Of, Decoy: f.Decoy}
				for _, i := range f.Answers {
					line.Sheets = append(line.Sheets, kept[i].SheetNo)
				}
				found.Findings = append(found.Findings, line)
			}
			return s.store.KeepSearch(ctx, d.class.ID, d.assignment.No, found)
		},
	}
}

func (s *server) postStopFindings(c echo.Context) error {
	a, _, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	s.findings.drop(printPlace{class.ID, a.No})
	s.say(c, "Stopped. What was found before is kept.")
	return goTo(c, findingsHref(class, a.No))
}

// postKeepFinding makes a finding a slip that is known by name: every answer
// that was sent is judged again under a key that has it.
func (s *server) postKeepFinding(c echo.Context) error {
	page, d, err := s.findingsPage(c)
	if err != nil {
		return err
	}
	l := page.line(c.FormValue("step"), c.FormValue("formula"))
	if l == nil {
		return echo.NewHTTPError(http.StatusNotFound)
	}
	if l.Kept {
		s.say(c, "That formula is kept already.")
		return goTo(c, page.Href)
	}
	for _, f := range []*Field{&l.Tells, &l.Hint, &l.Why} {
		f.Value = tidyName(c.FormValue(f.Name))
	}
	l.Tells.Fault = proseFault(l.Tells.Value, hintMost, "Say in a sentence what goes wrong.")
	l.Hint.Fault = proseFault(l.Hint.Value, hintMost, "")
	l.Why.Fault = proseFault(l.Why.Value, whyMost, "Write why: your students read it.")
	if !faulty(&l.Tells, &l.Hint, &l.Why) {
		explained, fault, err := s.keepFinding(c, l)
		if err != nil {
			return err
		}
		if fault == "" {
			s.say(c, fmt.Sprintf("Kept: %s explained by it now. You can take that back for 24 hours.", areExplained(explained)))
			s.log.Info("finding kept", "class", d.class.ID, "assignment", d.assignment.No, "by", who(c).Staff.ID)
			return goTo(c, page.Href)
		}
		l.Tells.Fault = fault
	}
	l.Focus = true
	return s.render(c, http.StatusUnprocessableEntity, "findings", &page)
}

func areExplained(n int) string {
	if n == 1 {
		return "one earlier wrong answer is"
	}
	return inWords(n) + " earlier wrong answers are"
}

// line finds the finding of a form.
func (p *findingsPage) line(step, text string) *findingLine {
	for i := range p.Steps {
		for k := range p.Steps[i].Findings {
			if l := &p.Steps[i].Findings[k]; l.Step == step && l.Text == text {
				return l
			}
		}
	}
	return nil
}

// keepFinding makes the key, and says how many wrong answers it explains in
// another way than before, or what is wrong with the texts.
func (s *server) keepFinding(c echo.Context, l *findingLine) (explained int, fault string, err error) {
	b, err := s.keyBasis(c)
	if err != nil {
		return 0, "", err
	}
	plan, faults, err := b.rules.plan(b.class, keyChange{
		Why: l.Why.Value, Tolerances: b.rules.tolerances, Withdrawn: b.rules.withdrawn, Formulas: map[string]string{},
		Slip: &grading.PatternSpec{ID: ownSlipID(b.rules.exercise), Step: l.Step, Says: l.Tells.Value, Hint: l.Hint.Value, Formula: l.Text},
	})
	if err != nil {
		return 0, "", err
	}
	if len(faults) > 0 {
		return 0, faults[0].Msg, nil
	}
	plan.leave = leaveStays // a name for a slip makes no number right or wrong
	_, effect, err := s.rekey(c, b, plan, "")
	if errors.Is(err, store.ErrChanged) {
		return 0, "The key was changed meanwhile. Look once more, and press again.", nil
	}
	return effect.Hints, "", err
}
