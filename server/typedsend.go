package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// typedNumbers loads the sheet and reads the form.
func (s *server) typedNumbers(c echo.Context) (desk, numbersForm, error) {
	d, err := s.paperDesk(c)
	if err != nil {
		return d, numbersForm{}, err
	}
	values, err := c.FormParams()
	if err != nil {
		return d, numbersForm{}, echo.NewHTTPError(http.StatusBadRequest)
	}
	f := parseNumbers(values, d.sheet.Current())
	f.KeyNo, f.Paper = d.assignment.KeyNo, true
	return d, f, nil
}

// postTypedReadings says how each text would be read. Nothing is kept.
func (s *server) postTypedReadings(c echo.Context) error {
	d, f, err := s.typedNumbers(c)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, readingsOf(d, f))
}

// postTypedCheck shows the readings before they count, where no script does.
func (s *server) postTypedCheck(c echo.Context) error {
	d, f, err := s.typedNumbers(c)
	if err != nil {
		return err
	}
	if c.FormValue("change") != "" {
		page, err := s.typedSheetPage(c, d, f.Texts, readEntries(d.exercise, d.sheet.Current(), f.Texts, d.units()))
		if err != nil {
			return err
		}
		return s.show(c, "typed", &page.Frame, &page)
	}
	if refused := s.wouldRefuse(d, f); refused != nil {
		return s.backToTyped(c, d, f, refused)
	}
	page := s.checkPage(c, d, f)
	page.Send, page.Change = d.base()+"/typed", d.base()+"/typed/check"
	page.Lead = fmt.Sprintf("%s, bench %d, %s. From paper, attempt %d.", d.assignment.Title, d.sheet.Bench, d.sheet.StudentName, d.sheet.Attempts+1)
	return s.show(c, "check", &page.Frame, &page)
}

// postTyped takes the numbers of a sheet of paper, with who typed them.
func (s *server) postTyped(c echo.Context) error {
	d, f, no, err := s.submitTyped(c)
	var refused *refusal
	switch {
	case err == nil && f.Key == "":
		return s.refuseTyped(c, d, f, noKey)
	case errors.As(err, &refused):
		return s.refuseTyped(c, d, f, refused)
	case errors.Is(err, store.ErrOtherBody):
		return s.refuseTyped(c, d, f, otherBody)
	case errors.Is(err, store.ErrTakenBack):
		return s.refuseTyped(c, d, f, wasTakenBack)
	case err != nil:
		return err
	}
	a, err := s.store.Attempt(c.Request().Context(), d.class.ID, d.sheet.No, no)
	if err != nil {
		return err
	}
	s.log.Info("typed in from paper", "class", d.class.ID, "sheet", d.sheet.No, "attempt", no, "staff", who(c).Staff.ID)
	s.say(c, fmt.Sprintf("Bench %d, %s: received as attempt %d, %d of %d right or following. Next code.",
		d.sheet.Bench, shortName(d.sheet.StudentName), no, a.Score, a.OutOf))
	href := classHref(d.class) + "/typed"
	if wantsJSON(c) {
		return c.JSON(http.StatusOK, sentAnswer{Attempt: no, Href: href})
	}
	return goTo(c, href)
}

// submitTyped hands a press in, read again where a new key comes in between.
func (s *server) submitTyped(c echo.Context) (d desk, f numbersForm, no int, err error) {
	const most = 5 // keys that one press can meet
	for range most {
		if d, f, err = s.typedNumbers(c); err != nil || f.Key == "" {
			return d, f, 0, err
		}
		no, _, err = s.store.Submit(c.Request().Context(), store.Submission{
			ClassID: d.class.ID, Sheet: d.sheet.No, Key: f.Key, BodyHash: f.bodyHash(), At: d.now, TypedBy: who(c).Staff.ID,
		}, f.judge(d.exercise, d.units(), d.now))
		if !errors.Is(err, errOtherKey) {
			break
		}
	}
	return d, f, no, err
}

// wasTakenBack is the answer to a press whose attempt was taken back: sent
// again with Back, or by a network that had kept it.
var wasTakenBack = &refusal{Status: http.StatusConflict,
	Sentence: "These numbers were typed in and taken back before. Nothing was sent now; press once more to send them again."}

func (s *server) refuseTyped(c echo.Context, d desk, f numbersForm, r *refusal) error {
	if wantsJSON(c) {
		return c.JSON(r.Status, refusedAnswer(r))
	}
	return s.backToTyped(c, d, f, r)
}

// backToTyped shows the fields again with everything as typed.
func (s *server) backToTyped(c echo.Context, d desk, f numbersForm, r *refusal) error {
	page, err := s.typedSheetPage(c, d, f.Texts, readEntries(d.exercise, d.sheet.Current(), f.Texts, d.units()))
	if err != nil {
		return err
	}
	page.Sheet.Sentence = r.Sentence
	return s.render(c, r.Status, "typed", &page)
}

// postTypedBack takes an attempt back that was typed in within the last day.
func (s *server) postTypedBack(c echo.Context) error {
	d, err := s.paperDesk(c)
	if err != nil {
		return err
	}
	attempt, err := strconv.Atoi(c.FormValue("attempt"))
	if err != nil || attempt < 1 || attempt > 1<<30 {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	err = s.store.TakeBack(c.Request().Context(), d.class.ID, d.sheet.No, attempt, d.now.Add(-undoFor), who(c).Staff.ID, d.now)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{Status: http.StatusConflict, Heading: "This cannot be taken back any more",
			Sentence: "A day is over, something was sent on the sheet since, or leave to cut was given on it. Nothing was changed.",
			To:       classHref(d.class) + "/typed", ToText: "to the paper answers"}
	}
	if err != nil {
		return err
	}
	s.log.Info("typed attempt taken back", "class", d.class.ID, "sheet", d.sheet.No, "attempt", attempt, "staff", who(c).Staff.ID)
	s.say(c, fmt.Sprintf("Attempt %d of bench %d, %s, is taken back. It counts nowhere any more, and is kept.", attempt, d.sheet.Bench, shortName(d.sheet.StudentName)))
	return goTo(c, classHref(d.class)+"/typed")
}
