package server

import (
	"fmt"
	"html/template"
	"math"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/drawing"
	"arrisbook/grading"
	"arrisbook/server/store"
)

var reviewRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/:assignment/review", forClassStaff, (*server).getReview},
	{http.MethodGet, "/classes/:class/assignments/:assignment/review/wall", forClassStaff, (*server).getReviewWall},
}

// reviewPage is a class's common errors, without names. Before the key is out
// it is no page for the projector all the same: the table beside the plot holds
// right numbers.
type reviewPage struct {
	Frame
	Heading string
	Lead    string
	Total   int // sheets with answers
	Steps   []reviewStep
	Slips   *reviewSlips // of the number to take up again
	Others  []reviewSlips
	Cases   []reviewCase
	Ask     *reviewQuestion
	Lesson  string // address of the lesson
	Href    string
	Items   *reviewItems
	Times   *reviewTimes
	Plots   []reviewPlot
	// Instructor may look for wrong formulas and give out a follow-up.
	Instructor bool
}

// reviewQuestion is what to ask the class about its commonest slip.
type reviewQuestion struct {
	Sheets   int
	Clause   string // "the tilt is left out"
	Question string
}

// reviewStep is one asked number over the whole class.
type reviewStep struct {
	Number                             int
	Name                               string
	Right, Near, Follows, Wrong, Empty int
	Strip                              template.HTML
	Hot                                bool
}

// reviewSlips are the slips seen on one number.
type reviewSlips struct {
	Number   int
	Name     string
	Patterns []reviewSlip
}

// reviewSlip is one slip with what became of it: First and Last are how many
// people had it in their first and have it in their last answer.
type reviewSlip struct {
	Says                         string
	Sheets, Answers, First, Last int
}

// reviewCase is one answer to work through together.
type reviewCase struct {
	Letter  string
	Number  int
	Name    string
	Givens  string
	Given   string
	Says    string
	Formula template.HTML
}

// casesShown is how many worked cases stand on the page.
const casesShown = 3

func (s *server) getReview(c echo.Context) error {
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	d, err := s.reviewData(c.Request().Context(), class, a, ex)
	if err != nil {
		return err
	}
	page := reviewOf(d)
	page.Frame = s.frame(c, "Review: "+a.Title)
	page.Rail = roomRail(class, a, "review")
	page.Href = reviewHref(class, a.No)
	page.Instructor = where(c).Member.Role == "instructor"
	page.Lesson = s.lessonHref(ex)
	page.Block = []BlockField{
		{Label: "Exercise", Text: a.Title, Wide: true}, {Label: "Class", Text: class.Name, Wide: true},
		{Label: "Sheets", Text: fmt.Sprintf("%d of %d", page.Total, len(d.sheets))},
		{Label: "Brought up to date", Text: s.now().In(zoneOf(class)).Format("15:04")},
	}
	return s.show(c, "review", &page.Frame, &page)
}

func reviewHref(class store.Class, no int) string { return assignmentHref(class, no) + "/review" }

// reviewOf is the whole review, made of nothing but what was loaded.
func reviewOf(d reviewData) reviewPage {
	ex, t := d.ex, d.tally()
	page := reviewPage{
		Heading: t.Headline(), Total: t.Sheets, Items: d.items(), Times: d.times(), Plots: d.plots(),
		Lead: fmt.Sprintf("%s. %s of %d sheets have answers, every blank is a different size. No names on this page.",
			ex.Title, upperFirst(inWords(t.Sheets)), len(d.sheets)),
	}
	if t.Sheets == 0 {
		page.Lead = ex.Title + ". As soon as the first numbers are sent, they are counted here."
		return page
	}
	worst, found := t.Worst()
	for _, st := range t.Steps {
		page.Steps = append(page.Steps, reviewStepOf(ex, st, found && st.ID == worst.ID))
	}
	page.Cases = reviewCasesOf(ex, t, d.work(), unitsOf(d.class))
	for _, part := range d.slipsOf() {
		if found && part.Number == worst.Number {
			page.Slips = &part
			continue
		}
		page.Others = append(page.Others, part)
	}
	if found && len(worst.Slips) > 0 {
		top := worst.Slips[0]
		page.Ask = &reviewQuestion{top.Sheets, slipClause(top.Slip.Says), questionOf(top.Slip.Says)}
	}
	return page
}

func reviewStepOf(ex *grading.Exercise, st grading.StepTally, hot bool) reviewStep {
	share := 0.0
	if n := st.Sheets(); n > 0 {
		share = float64(st.Sits()) / float64(n)
	}
	label := fmt.Sprintf("%d of 100 right, likely between %d and %d", hundredths(share), hundredths(st.Share.Low), hundredths(st.Share.High))
	strip := drawing.IntervalStrip(st.Share.Low, st.Share.High, share, label)
	strip.ID = "strip-" + strconv.Itoa(st.Number)
	return reviewStep{
		Number: st.Number, Name: stepName(ex, st.ID),
		Right: st.Right, Near: st.Near, Follows: st.Follows, Wrong: st.Wrong + st.Unreadable, Empty: st.Blank,
		Strip: template.HTML(strip.SVG()), Hot: hot,
	}
}

func hundredths(share float64) int { return int(math.Round(100 * share)) }

// slipsOf lists the slips of every number that has any.
func (d reviewData) slipsOf() []reviewSlips {
	var all []reviewSlips
	for i, st := range d.ex.Steps {
		part := reviewSlips{Number: i + 1, Name: lowerFirst(st.Name)}
		named := 0
		for _, m := range d.slips(st.ID) {
			line := reviewSlip{Says: "no known slip gives it", Sheets: m.people(), Answers: m.answers, First: m.first, Last: m.last}
			if m.slip != nil {
				named++
				line.Says = slipClause(m.slip.Says)
			}
			part.Patterns = append(part.Patterns, line)
		}
		if named > 0 {
			all = append(all, part)
		}
	}
	return all
}

func reviewCasesOf(ex *grading.Exercise, t grading.Tally, work []grading.Work, units grading.Units) []reviewCase {
	var all []reviewCase
	for i, k := range t.Cases(work, casesShown) {
		step, _ := stepOf(ex, k.Step)
		r := reviewCase{
			Letter: string(rune('A' + i)), Number: k.Number, Name: lowerFirst(step.Name), Given: k.Given,
			Says: "No known slip gives this number.",
		}
		if k.Slip != nil {
			r.Says = k.Slip.Says
		}
		var sizes []string
		for _, g := range shownGivens(ex, grading.Sheet{Parameters: k.Parameters}, units) {
			sizes = append(sizes, lowerFirst(g.Name)+" "+g.Text)
		}
		r.Givens = upperFirst(list(sizes)) + "."
		r.Formula = template.HTML(step.Formula.MathML(step.Symbol, symbolsOf(ex), false))
		all = append(all, r)
	}
	return all
}

// symbolsOf gives the symbols of an exercise's givens and numbers.
func symbolsOf(ex *grading.Exercise) func(string) string {
	return func(id string) string {
		for _, g := range ex.Givens {
			if g.ID == id {
				return g.Symbol
			}
		}
		if st, ok := stepOf(ex, id); ok && st.Symbol != "" {
			return st.Symbol
		}
		if ex.Family != nil {
			if q, ok := ex.Family.Quantity(id); ok {
				return q.Symbol
			}
		}
		return id
	}
}

// questionOf is the question that a slip's sentences end with.
func questionOf(says string) string {
	end := strings.LastIndex(says, "?")
	if end < 0 {
		return says
	}
	start := strings.LastIndexAny(says[:end], ".?!")
	return strings.TrimSpace(says[start+1 : end+1])
}
