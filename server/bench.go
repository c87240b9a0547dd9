package server

import (
	"fmt"
	"html/template"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/server/store"
)

var benchRoutes = []route{
	{http.MethodGet, "/classes/:class/sheets/:sheet/bench", forClassStaff, (*server).getBench},
}

// benchPage is one student's sheet as the staff see it at the bench: what was
// written, what is right, the drawing, and leave to cut.
type benchPage struct {
	Frame
	Assignment  string
	Sheet       int
	Bench       int
	Name        string
	Heading     string
	Lead        string
	Base        string // address of the sheet
	Attempt     int
	Rows        []benchRow
	Last        *benchSlip
	Fit         *benchFit
	Views       []shownView
	Cleared     *benchClearance
	MayClearNow bool
	WhyNot      string
	Measured    bool
	Givens      []shownGiven
	History     []benchEvent
	RoomHref    string
	Following   *benchLink
	Turn        *turnBox
}

// benchRow is one asked number: as written, as read, and the key.
type benchRow struct {
	Number                    int
	Name, From                string
	Given, Reading, Key, Slip string
	Verdict                   string
	Wrong                     bool
}

type benchSlip struct {
	Number int
	Says   string
}

// benchFit is how the numbers would close, with figures: the staff may see them.
type benchFit struct {
	Headline string
	Rule     template.HTML
	Views    []shownView
}

type benchClearance struct {
	At, By  string
	Attempt int
}

type benchEvent struct {
	Text, At string
	when     time.Time
}

type benchLink struct{ Href, Text, Note string }

// benchCase is everything that is loaded for a bench page.
type benchCase struct {
	class      store.Class
	sheet      store.Sheet
	assignment store.Assignment
	exercise   *grading.Exercise
	attempts   []store.Attempt // newest first
	clearances []store.Clearance
}

func (s *server) getBench(c echo.Context) error {
	b, err := s.loadBench(c)
	if err != nil {
		return err
	}
	page, err := s.benchPage(c, b)
	if err != nil {
		return err
	}
	return s.show(c, "bench", &page.Frame, &page)
}

func (s *server) loadBench(c echo.Context) (benchCase, error) {
	ctx, sc := c.Request().Context(), where(c)
	b := benchCase{class: sc.Class}
	var err error
	if b.sheet, err = s.store.Sheet(ctx, sc.Class.ID, sc.Sheet); err != nil {
		return b, err
	}
	if b.assignment, b.exercise, err = s.loadAssignment(ctx, sc.Class.ID, b.sheet.AssignmentNo); err != nil {
		return b, err
	}
	if b.attempts, err = s.store.AttemptsOf(ctx, sc.Class.ID, sc.Sheet); err != nil {
		return b, err
	}
	b.clearances, err = s.store.Clearances(ctx, sc.Class.ID, sc.Sheet)
	return b, err
}

func (b benchCase) href() string { return benchHref(b.class, b.sheet.No) }

func benchHref(class store.Class, sheet int) string {
	return fmt.Sprintf("%s/sheets/%d/bench", classHref(class), sheet)
}

// last is the newest attempt; ok is false when nothing was sent yet.
func (b benchCase) last() (store.Attempt, bool) {
	if len(b.attempts) == 0 {
		return store.Attempt{}, false
	}
	return b.attempts[0], true
}

// askedResults gives the results of the asked numbers in the sheet's order; a
// number without one is blank.
func askedResults(a store.Attempt, sheet store.Sheet) []grading.StepResult {
	byID := map[string]grading.StepResult{}
	for _, r := range a.Result.Steps {
		byID[r.ID] = r
	}
	results := make([]grading.StepResult, len(sheet.Issued.Steps))
	for i, st := range sheet.Issued.Steps {
		r, ok := byID[st.ID]
		if !ok {
			r = grading.StepResult{ID: st.ID, Verdict: grading.Blank}
		}
		results[i] = r
	}
	return results
}
