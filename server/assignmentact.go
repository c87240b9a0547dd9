package server

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var assignmentActRoutes = []route{
	{http.MethodPost, "/classes/:class/assignments/:assignment/release", forInstructors, (*server).postRelease},
	{http.MethodPost, "/classes/:class/assignments/:assignment/takeback", forInstructors, (*server).postTakeBack},
	{http.MethodPost, "/classes/:class/assignments/:assignment/withdraw", forInstructors, (*server).postWithdraw},
	{http.MethodPost, "/classes/:class/assignments/:assignment/giveout", forInstructors, (*server).postGiveOut},
}

// noteMost is the longest note in characters.
const noteMost = 300

// deed is a store method that does one thing to an assignment as a whole.
type deed func(ctx context.Context, classID int64, no int, a store.Act) error

func (s *server) postRelease(c echo.Context) error {
	return s.doDeed(c, s.store.ReleaseKey, "", "key released",
		"The key is released: students see right numbers and true shapes now. Taking it back needs a note.")
}

// postTakeBack hides the key again. Who looked has seen it, so the book keeps
// a note of why.
func (s *server) postTakeBack(c echo.Context) error {
	note := strings.TrimSpace(strings.ToValidUTF8(c.FormValue("note"), ""))
	fault := ""
	switch {
	case note == "":
		fault = "Write why. Who has looked at the key knows it; the note stays with the assignment."
	case utf8.RuneCountInString(note) > noteMost:
		fault = "Keep the note under 300 letters."
	case strings.ContainsRune(note, 0):
		fault = "There is a sign in the note that cannot be kept."
	}
	if fault == "" {
		return s.doDeed(c, s.store.TakeKeyBack, note, "key taken back", "The key is hidden again.")
	}
	page, err := s.assignmentPage(c)
	if err != nil {
		return err
	}
	page.Key.Note, page.Key.Fault = note, fault
	return s.render(c, http.StatusUnprocessableEntity, "assignment", &page)
}

func (s *server) postWithdraw(c echo.Context) error {
	return s.doDeed(c, s.store.Withdraw, "", "assignment withdrawn",
		"Withdrawn: students do not see it any more. Nothing is lost; you can give it out again.")
}

func (s *server) postGiveOut(c echo.Context) error {
	return s.doDeed(c, s.store.GiveOutAgain, "", "assignment given out again", "Given out again, with everything that was sent before.")
}

// doDeed does it, logs it and goes back to the assignment. What is done
// already is as wanted and no fault.
func (s *server) doDeed(c echo.Context, do deed, note, logged, says string) error {
	class := where(c).Class
	no, err := number(c, "assignment")
	if err != nil {
		return err
	}
	if _, err := s.store.Assignment(c.Request().Context(), class.ID, no); err != nil {
		return err
	}
	by := who(c).Staff.ID
	err = do(c.Request().Context(), class.ID, no, store.Act{By: by, At: s.now(), Note: note})
	switch {
	case errors.Is(err, store.ErrChanged):
		says = "That was done already."
	case err != nil:
		return err
	default:
		s.log.Info(logged, "class", class.ID, "assignment", no, "by", by)
	}
	s.say(c, says)
	return goTo(c, assignmentHref(class, no))
}
