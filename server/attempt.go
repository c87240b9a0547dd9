package server

import (
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var attemptRoutes = []route{
	{http.MethodPost, "/classes/:class/sheets/:sheet/readings", forSheetOwner, (*server).postReadings},
	{http.MethodPost, "/classes/:class/sheets/:sheet/check", forSheetOwner, (*server).postCheck},
	{http.MethodPost, "/classes/:class/sheets/:sheet/attempts", forSheetOwner, (*server).postAttempt},
	{http.MethodGet, "/classes/:class/sheets/:sheet/attempts/:attempt", forSheetOwner, (*server).getAttempt},
}

// checkPage shows how each number was read, before it counts.
type checkPage struct {
	Frame
	Send, Change string // addresses
	Key          string
	Wood         int
	Heading      string
	Lead         string
	Lines        []checkLine
}

// checkLine is one number as typed and as read.
type checkLine struct {
	Number      int
	Label       string
	Field, Text string
	Says        string
	Same        bool // as in the last attempt
}

// readingsAnswer is what the sheet's script gets: by field, how a text is read.
type readingsAnswer struct {
	Readings map[string]readingAnswer `json:"readings"`
}

type readingAnswer struct {
	Says  string `json:"says,omitempty"`
	Fault string `json:"fault,omitempty"`
}

// sentAnswer is what the sheet's script gets for a press.
type sentAnswer struct {
	Attempt  int               `json:"attempt,omitempty"`
	Href     string            `json:"href,omitempty"`
	Sentence string            `json:"sentence,omitempty"`
	Faults   map[string]string `json:"faults,omitempty"` // by field
	Key      string            `json:"key,omitempty"`    // for the next press
}

// numbers loads the sheet and reads the form.
func (s *server) numbers(c echo.Context) (desk, numbersForm, error) {
	d, err := s.desk(c)
	if err != nil {
		return d, numbersForm{}, err
	}
	values, err := c.FormParams()
	if err != nil {
		return d, numbersForm{}, echo.NewHTTPError(http.StatusBadRequest)
	}
	f := parseNumbers(values, d.sheet.Current())
	f.KeyNo = d.assignment.KeyNo
	return d, f, nil
}

// submit hands a press in. Where a new key comes in between, the press is read
// again and judged by that: never half by one and half by the other.
func (s *server) submit(c echo.Context) (d desk, f numbersForm, no int, replayed bool, err error) {
	const most = 5 // keys that one press can meet
	for range most {
		if d, f, err = s.numbers(c); err != nil || f.Key == "" {
			return d, f, 0, false, err
		}
		no, replayed, err = s.store.Submit(c.Request().Context(), store.Submission{
			ClassID: d.class.ID, Sheet: d.sheet.No, Key: f.Key, BodyHash: f.bodyHash(), At: d.now,
		}, f.judge(d.exercise, d.units(), d.now))
		if !errors.Is(err, errOtherKey) {
			break
		}
	}
	return d, f, no, replayed, err
}

// postReadings says how each text would be read. Nothing is kept.
func (s *server) postReadings(c echo.Context) error {
	d, f, err := s.numbers(c)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, readingsOf(d, f))
}

func readingsOf(d desk, f numbersForm) readingsAnswer {
	answer := readingsAnswer{Readings: map[string]readingAnswer{}}
	for id, e := range readEntries(d.exercise, d.sheet.Current(), f.Texts, d.units()) {
		answer.Readings[fieldOf(id)] = readingAnswer(e)
	}
	return answer
}

// postCheck shows the readings and asks whether to send. With "change" it
// leads back to the fields, as typed.
func (s *server) postCheck(c echo.Context) error {
	d, f, err := s.numbers(c)
	if err != nil {
		return err
	}
	if c.FormValue("change") != "" {
		page, err := s.sheetPage(c, d, f.Texts, readEntries(d.exercise, d.sheet.Current(), f.Texts, d.units()))
		if err != nil {
			return err
		}
		return s.show(c, "sheet", &page.Frame, &page)
	}
	if refused := s.wouldRefuse(d, f); refused != nil {
		return s.backToSheet(c, d, f, refused)
	}
	page := s.checkPage(c, d, f)
	return s.show(c, "check", &page.Frame, &page)
}

// wouldRefuse asks the judge without keeping anything.
func (s *server) wouldRefuse(d desk, f numbersForm) *refusal {
	var refused *refusal
	if f.Key == "" {
		return noKey
	}
	if _, err := f.judge(d.exercise, d.units(), d.now)(store.Before{Sheet: d.sheet, Assignment: d.assignment, Last: d.last}); errors.As(err, &refused) {
		return refused
	}
	return nil
}

// noKey is the answer to a form without its key: sent by something else than
// the page, so it cannot be told from a press that arrives twice.
var noKey = &refusal{Status: http.StatusBadRequest,
	Sentence: "This page had lost the mark that keeps one press from counting twice. It has a new one now: press once more."}

func (s *server) checkPage(c echo.Context, d desk, f numbersForm) checkPage {
	page := checkPage{
		Frame: s.frame(c, "Read before it counts"), Send: d.base() + "/attempts", Change: d.base() + "/check", Key: f.Key, Wood: f.Wood,
		Lead: fmt.Sprintf("%s, sheet %d. This will be attempt %d.", d.assignment.Title, d.sheet.No, d.sheet.Attempts+1),
	}
	if most := d.assignment.Attempts; most > 0 {
		page.Lead = fmt.Sprintf("%s, sheet %d. This will be attempt %d of %d.", d.assignment.Title, d.sheet.No, d.sheet.Attempts+1, most)
	}
	entries := readEntries(d.exercise, d.sheet.Current(), f.Texts, d.units())
	filled := 0
	for i, st := range d.sheet.Current().Steps {
		step, _ := stepOf(d.exercise, st.ID)
		l := checkLine{
			Number: i + 1, Label: step.Name + ", " + unitWord(step.Unit, d.units()), Field: fieldOf(st.ID),
			Text: f.Texts[st.ID], Says: entries[st.ID].Says,
			Same: d.last != nil && !d.stale() && strings.TrimSpace(f.Texts[st.ID]) != "" && d.last.Answers[st.ID] == f.Texts[st.ID],
		}
		if l.Says != "" {
			filled++
		}
		page.Lines = append(page.Lines, l)
	}
	page.Heading = upperFirst(numbersWord(filled)) + " read. Is that what you meant?"
	page.Block = d.block()
	return page
}

// postAttempt takes the numbers. Whatever is retried, one press is one attempt
// and leads to the same result.
func (s *server) postAttempt(c echo.Context) error {
	d, f, no, replayed, err := s.submit(c)
	var refused *refusal
	switch {
	case err == nil && f.Key == "":
		return s.refuse(c, d, f, noKey)
	case errors.As(err, &refused):
		return s.refuse(c, d, f, refused)
	case errors.Is(err, store.ErrOtherBody):
		return s.refuse(c, d, f, otherBody)
	case err != nil:
		return err
	}
	if !replayed && d.clearance() != nil {
		s.log.Info("clearance ended by new numbers", "class", d.class.ID, "sheet", d.sheet.No, "attempt", no)
	}
	href := fmt.Sprintf("%s/attempts/%d", d.base(), no)
	if wantsJSON(c) {
		return c.JSON(http.StatusOK, sentAnswer{Attempt: no, Href: href})
	}
	return goTo(c, href)
}

// otherBody is the answer to a key that was used for other numbers: the page
// was sent, then changed (with Back), and sent again.
var otherBody = &refusal{Status: http.StatusUnprocessableEntity,
	Sentence: "This page has sent other numbers before. Nothing was sent now; press once more to send these as a new attempt."}

func wantsJSON(c echo.Context) bool {
	return strings.HasPrefix(c.Request().Header.Get(echo.HeaderAccept), echo.MIMEApplicationJSON)
}

// refuse answers a press that was not taken.
func (s *server) refuse(c echo.Context, d desk, f numbersForm, r *refusal) error {
	if !wantsJSON(c) {
		return s.backToSheet(c, d, f, r)
	}
	return c.JSON(r.Status, refusedAnswer(r))
}

func refusedAnswer(r *refusal) sentAnswer {
	answer := sentAnswer{Sentence: r.Sentence, Faults: map[string]string{}, Key: newKey()}
	for id, fault := range r.Faults {
		answer.Faults[fieldOf(id)] = fault
	}
	return answer
}

// backToSheet shows the sheet again with everything as typed, a fresh key, and
// the sentence that says why.
func (s *server) backToSheet(c echo.Context, d desk, f numbersForm, r *refusal) error {
	page, err := s.sheetPage(c, d, f.Texts, readEntries(d.exercise, d.sheet.Current(), f.Texts, d.units()))
	if err != nil {
		return err
	}
	page.Sentence = r.Sentence
	return s.render(c, r.Status, "sheet", &page)
}
