package server

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

// resultPage says what became of one attempt: how it would fit, number by
// number what was right, and what to do next.
type resultPage struct {
	Frame
	Base, Note    string
	Heading, Lead string
	Next          *Link
	Box           *nextBox
	Fit           *shownFit
	Lines         []resultLine
	Judged        []judgedLine // all judgements of the attempt, where there are more than one
	Old           string       // says that this is not what counts; "" for what does
	Released      bool
	Turn          *turnBox
	NotSent       string // which numbers were not in it
	Received      string // key of the press, so that the browser can forget it
	Draft         string
}

// nextBox is the one thing to do now, spelled out.
type nextBox struct {
	Heading string
	Says    []string
	Button  string
	Href    string
	Ask     bool // the button asks for a check
}

// shownFit is how the numbers would close at the bench.
type shownFit struct {
	Label    string // what the word is about
	Word     string
	Worst    string // where the worst gap is
	Figure   string // its size after the release, its band before
	Rule     template.HTML
	Views    []shownView
	Says     []string
	Surfaces []surfaceLine
}

// surfaceLine is one mating surface of the table: where it touches and stands
// off, and after the release by how much.
type surfaceLine struct {
	Name, Where, Least, Most, Fit string
}

// resultLine is one number with its verdict.
type resultLine struct {
	Number        int
	Name          string
	Text, Reading string
	Verdict       string
	Hints         []string
	Often         string // how often the slip has come up for the student
	More          *Link  // the section of the lesson that explains it
	Why           string
	Key           string
	Next          bool
}

func (s *server) getAttempt(c echo.Context) error {
	no, err := number(c, "attempt")
	if err != nil {
		return err
	}
	d, err := s.desk(c)
	if err != nil {
		return err
	}
	a, err := s.store.Attempt(c.Request().Context(), d.class.ID, d.sheet.No, no)
	if err != nil {
		return err
	}
	judged, err := s.judgements(c, d, a)
	if err != nil {
		return err
	}
	if d, a, err = s.asJudged(c, d, a, judged); err != nil {
		return err
	}
	page, err := s.resultPage(c, d, a)
	if err != nil {
		return err
	}
	page.judgedBy(d, a, judged)
	return s.show(c, "result", &page.Frame, &page)
}

func (s *server) resultPage(c echo.Context, d desk, a store.Attempt) (resultPage, error) {
	page := resultPage{
		Frame: s.frame(c, fmt.Sprintf("Attempt %d: %s", a.No, d.assignment.Title)), Base: d.base(),
		Note:     fmt.Sprintf("%s, sheet %d, attempt %d%s, received %s", d.assignment.Title, d.sheet.No, a.No, fromPaper(a), clock(a.SentAt, d.now, d.zone)),
		Released: d.released(), Received: a.ClientKey, Turn: d.turn(),
		Draft: fmt.Sprintf("arrisbook:%d:%d:%d", d.class.ID, d.sheet.StudentNo, d.sheet.No),
	}
	results := resultsIn(a)
	next := -1
	if d.last != nil && a.No == d.last.No && a.KeyNo == d.last.KeyNo && !d.stale() && d.shut() == "" && d.clearance() == nil {
		next = firstOpen(results)
		page.next(d, results, next)
	}
	lib, err := s.library(c.Request().Context())
	if err != nil {
		return page, err
	}
	page.Lines = d.resultLines(lib, a, results, next)
	page.Heading, page.Lead = d.resultHeading(a, results)
	page.NotSent = notSent(results, d.exercise.Family != nil)
	if d.exercise.Family != nil && a.Result.Fit != nil {
		fit, err := d.shownFit(a)
		if err != nil {
			return page, err
		}
		page.Fit = fit
	}
	page.Rail = []Link{page.Rail[0], {Text: fmt.Sprintf("Sheet %d", d.sheet.No), Href: d.base()}}
	page.Script, page.Block = "sheet.js", d.block()
	return page, nil
}

// resultsIn are the results of the asked numbers of an attempt, in order.
func resultsIn(a store.Attempt) []grading.StepResult {
	asked := map[string]bool{}
	for _, st := range a.Sheet.Steps {
		asked[st.ID] = true
	}
	var results []grading.StepResult
	for _, r := range a.Result.Steps {
		if asked[r.ID] {
			results = append(results, r)
		}
	}
	return results
}

// resultHeading says the finding: how it would fit, else how much is right.
func (d desk) resultHeading(a store.Attempt, results []grading.StepResult) (heading, lead string) {
	right := upperFirst(ofAll(rightIn(results), len(results))) + " right."
	if rightIn(results) == len(results) {
		right = "All " + inWords(len(results)) + " right."
	}
	if a.No != d.sheet.Attempts {
		right += " A newer attempt counts now."
	} else if d.stale() {
		right += " The wood was measured since: these numbers belong to the old sizes."
	}
	if a.Result.Fit == nil {
		return strings.TrimSuffix(right, "."), ""
	}
	says, _ := grading.FitSays(d.exercise.Family, grading.FitBands(d.exercise.Family, a.Result.Fit))
	return strings.TrimSuffix(says, "."), right
}

// next says what to do now.
func (p *resultPage) next(d desk, results []grading.StepResult, next int) {
	if next < 0 {
		if d.sheet.AskedAt == nil {
			p.Next = &Link{Text: "ask for a check", Href: "#next"}
			p.Box = &nextBox{Heading: "ask for a check", Ask: true, Button: "Ask for a check",
				Says: []string{"All numbers are right. Only the instructor clears you to cut."}}
		}
		return
	}
	r := results[next]
	step, _ := stepOf(d.exercise, r.ID)
	name := fmt.Sprintf("number %d, %s", next+1, midName(step.Name))
	p.Next = &Link{Text: name, Href: "#next"}
	p.Box = &nextBox{Heading: name, Button: fmt.Sprintf("Go to number %d", next+1), Href: fmt.Sprintf("%s#n%d", d.base(), next+1)}
	switch r.Verdict {
	case grading.Blank:
		p.Box.Says = []string{"It was not in this attempt."}
	case grading.Near:
		p.Box.Says = []string{"It is outside the tolerance, inside twice that. Work it out again, and round at the end only."}
	case grading.Follows:
		p.Box.Says = []string{r.Reason, "Put that one right first; this one comes right with it."}
	default:
		p.Box.Says = hintsOf(r)
	}
}

func (d desk) resultLines(lib *lessons.Library, a store.Attempt, results []grading.StepResult, next int) []resultLine {
	said, key := saidIn(d.exercise, a, d.units()), d.key(a.Sheet.Parameters)
	why := map[string]string{}
	for _, st := range a.Sheet.Steps {
		why[st.ID] = st.Why
	}
	lines := make([]resultLine, len(results))
	for i, r := range results {
		step, _ := stepOf(d.exercise, r.ID)
		l := resultLine{
			Number: i + 1, Name: step.Name, Text: r.Given, Reading: readAs(said[r.ID]), Verdict: string(r.Verdict),
			Key: key[r.ID], Next: i == next,
		}
		if text := strings.TrimSpace(r.Given); text != "" && !strings.HasPrefix(said[r.ID], text) {
			l.Reading = "“" + text + "” " + strings.ToLower(l.Reading[:1]) + l.Reading[1:]
		}
		switch r.Verdict {
		case grading.Wrong:
			l.Hints, l.Often, l.More = hintsOf(r), often(r), explained(lib, d.exercise, r)
		case grading.Near:
			l.Why = "Outside the tolerance, inside twice that. " + why[r.ID]
		case grading.Follows:
			l.Why = r.Reason
		}
		lines[i] = l
	}
	return lines
}

// often says how often the named slip has come up for the student before.
func often(r grading.StepResult) string {
	if r.Pattern == nil {
		return ""
	}
	for _, e := range r.Evidence {
		if e.ID == r.Pattern.ID && e.Detail == r.Pattern.Detail {
			return e.Says()
		}
	}
	return ""
}

// explained leads to the section of a lesson that explains a wrong number's
// slip, or teaches the number where no slip is known; nil where none does.
func explained(lib *lessons.Library, ex *grading.Exercise, r grading.StepResult) *Link {
	var slip grading.Slip
	if r.Pattern != nil {
		slip = *r.Pattern
	}
	places := lib.Explain(ex, r.ID, slip)
	if len(places) == 0 {
		return nil
	}
	return &Link{Text: places[0].Title, Href: places[0].Href()}
}

// notSent names the numbers that were not in an attempt.
func notSent(results []grading.StepResult, fits bool) string {
	var missing []string
	for i, r := range results {
		if r.Verdict == grading.Blank {
			missing = append(missing, fmt.Sprint(i+1))
		}
	}
	var says string
	switch {
	case len(missing) == 0 || !fits:
		return ""
	case len(missing) == 1:
		says = "Number %s was not in this attempt and is taken as right here."
	default:
		says = "Numbers %s were not in this attempt and are taken as right here."
	}
	return fmt.Sprintf(says, list(missing))
}

// shownFit shows how an attempt would close: before the release by words,
// places and bands, afterwards in figures on the student's own blank. The
// attempt has a fit.
func (d desk) shownFit(a store.Attempt) (*shownFit, error) {
	numbers := submitted(a.Result)
	gaps, err := drawing.Gaps(d.exercise.Family, a.Sheet.Parameters, numbers)
	if err != nil {
		return nil, fmt.Errorf("gaps of sheet %d: %w", d.sheet.No, err)
	}
	fit, err := d.exercise.Family.Fit(a.Sheet.Parameters, numbers)
	if err != nil {
		return nil, fmt.Errorf("fit of sheet %d: %w", d.sheet.No, err)
	}
	told := drawing.TellGaps(d.exercise.Family, gaps)
	shown := &shownFit{Label: "Worst gap", Word: fit.Word.String(), Figure: bandText(fit.Word), Says: pairUp(told)}
	var exact *float64
	if worst, ok := fit.Worst(); ok {
		shown.Worst = worst.Name
		if d.released() {
			size := max(worst.Value.Max, -worst.Value.Min)
			exact, shown.Figure = &size, fmt.Sprintf("%.2f mm", size)
		}
	}
	if hasGaps(d.exercise.Family) {
		shown.Rule = template.HTML(drawing.FitRule(fit.Word, exact).SVG())
	} else {
		// Nothing of it stands off anything: the word is about an error that is
		// seen, and no number of millimetres decides it.
		shown.Label, shown.Figure = "Worst error", ""
	}
	views, err := d.fitViews(a.Sheet.Parameters, gaps, fit)
	if err != nil {
		return nil, fmt.Errorf("draw the fit of sheet %d: %w", d.sheet.No, err)
	}
	shown.Views = shownViews(views)
	for i, g := range gaps {
		_, where, _ := strings.Cut(told[i], ": ")
		o, _ := fit.Outcome(g.Consequence)
		l := surfaceLine{Name: upperFirst(o.Name), Where: strings.TrimSuffix(where, "."), Fit: g.Most.String()}
		if d.released() {
			l.Least, l.Most = fmt.Sprintf("%.2f", o.Value.Min), fmt.Sprintf("%.2f", o.Value.Max)
		}
		shown.Surfaces = append(shown.Surfaces, l)
	}
	return shown, nil
}

// hasGaps says whether a joint's fit is told by gaps.
func hasGaps(f *joint.Family) bool {
	return slices.ContainsFunc(f.Consequences, func(c joint.Consequence) bool { return c.Gap })
}

func (d desk) fitViews(blank joint.Values, gaps []drawing.Gap, fit joint.Fit) ([]drawing.View, error) {
	if !hasDrawing(d.exercise) {
		return []drawing.View{}, nil
	}
	if d.released() {
		return drawing.ReleasedFitViews(d.exercise.Family, blank, fit)
	}
	return drawing.FitViews(d.exercise.Family, gaps)
}

// pairUp tells the near and the far one of a pair in one sentence where they
// come out alike.
func pairUp(told []string) []string {
	var out []string
	done := map[string]bool{}
	for _, t := range told {
		name, where, _ := strings.Cut(t, ": ")
		far := strings.Replace(name, "Near ", "Far ", 1) + ": " + where
		switch {
		case done[t]:
		case far != t && slices.Contains(told, far):
			done[far] = true
			out = append(out, strings.Replace(name, "Near ", "Both ", 1)+"s: "+where)
		default:
			out = append(out, t)
		}
	}
	return out
}

// bandText is the range of a fit word.
func bandText(w joint.Word) string {
	switch w {
	case joint.Tight:
		return fmt.Sprintf("up to %.2f mm", joint.Tight.Limit())
	case joint.Failed:
		return fmt.Sprintf("over %.2f mm", joint.Open.Limit())
	}
	return fmt.Sprintf("over %.2f, up to %.2f mm", (w - 1).Limit(), w.Limit())
}
