package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/server/store"
)

var clearRoutes = []route{
	{http.MethodPost, "/classes/:class/sheets/:sheet/clear", forClearers, (*server).postClear},
	{http.MethodPost, "/classes/:class/sheets/:sheet/revoke", forClearers, (*server).postRevoke},
}

func (b benchCase) standing() (store.Clearance, bool) {
	if len(b.clearances) > 0 && b.clearances[0].Stands() {
		return b.clearances[0], true
	}
	return store.Clearance{}, false
}

// clearable says whether leave to cut can be given now; why is the sentence
// for the page when it cannot.
func (b benchCase) clearable() (ok bool, why string) {
	last, sent := b.last()
	switch {
	case !sent:
		return false, "Nothing was sent yet."
	case last.Wood != b.sheet.Wood:
		return false, "The wood was measured again. The numbers have to be sent again first."
	}
	var open []string
	for i, r := range askedResults(last, b.sheet) {
		if r.Verdict != grading.Right && r.Verdict != grading.Near {
			open = append(open, strconv.Itoa(i+1))
		}
	}
	if len(open) > 0 {
		return false, "Not right yet: number " + list(open) + "."
	}
	return true, ""
}

func (b benchCase) clearing(page *benchPage, mayClear bool, zone *time.Location) {
	if c, ok := b.standing(); ok {
		page.Cleared = &benchClearance{At: when(c.ClearedAt, zone), By: c.ByName, Attempt: c.AttemptNo}
		return
	}
	ok, why := b.clearable()
	switch {
	case ok && mayClear:
		page.MayClearNow = true
	case ok:
		page.WhyNot = "All numbers are right. Ask an instructor to clear this bench."
	default:
		page.WhyNot = why
	}
}

// postClear gives leave to cut for the attempt that stood on the page.
func (s *server) postClear(c echo.Context) error {
	b, err := s.loadBench(c)
	if err != nil {
		return err
	}
	attempt, err := strconv.Atoi(c.FormValue("attempt"))
	if err != nil {
		return echo.NewHTTPError(http.StatusUnprocessableEntity)
	}
	if ok, why := b.clearable(); !ok {
		return notCleared(b, "Not cleared", why)
	}
	changed := notCleared(b, "Not cleared: something changed",
		fmt.Sprintf("Bench %d sent new numbers, measured again, or was cleared already. Look at the sheet once more.", b.sheet.Bench))
	last, _ := b.last()
	if last.No != attempt {
		return changed // only what was found ready just now can be cleared
	}
	err = s.store.Clear(c.Request().Context(), b.class.ID, b.sheet.No, attempt, last.KeyNo, who(c).Staff.ID, s.now())
	if errors.Is(err, store.ErrChanged) {
		return changed
	}
	if err != nil {
		return err
	}
	s.log.Info("cleared to cut", "class", b.class.ID, "sheet", b.sheet.No, "attempt", attempt, "by", who(c).Staff.ID)
	s.say(c, fmt.Sprintf("Bench %d may cut.", b.sheet.Bench))
	return goTo(c, fmt.Sprintf("%s/assignments/%d/room", classHref(b.class), b.assignment.No))
}

// notCleared refuses, and leads back to the sheet as it stands now.
func notCleared(b benchCase, heading, sentence string) error {
	return &statusError{
		Status: http.StatusConflict, Heading: heading, Sentence: sentence,
		To: b.href(), ToText: fmt.Sprintf("bench %d as it is now", b.sheet.Bench),
	}
}

// revokeMost is the longest reason in characters.
const revokeMost = 120

// postRevoke takes a clearance back.
func (s *server) postRevoke(c echo.Context) error {
	sc := where(c)
	if _, err := s.store.Sheet(c.Request().Context(), sc.Class.ID, sc.Sheet); err != nil {
		return err
	}
	why := tidyName(c.FormValue("why")) // one line, as a name is
	if why == "" {
		why = "Talk to me first."
	}
	if r := []rune(why); len(r) > revokeMost {
		why = string(r[:revokeMost])
	}
	err := s.store.Revoke(c.Request().Context(), sc.Class.ID, sc.Sheet, why, s.now())
	if errors.Is(err, store.ErrNotFound) {
		return &statusError{
			Status: http.StatusConflict, Heading: "No clearance stands",
			Sentence: "It may have ended already. Look at the sheet once more.",
			To:       benchHref(sc.Class, sc.Sheet), ToText: "the sheet as it is now",
		}
	}
	if err != nil {
		return err
	}
	s.log.Info("clearance taken back", "class", sc.Class.ID, "sheet", sc.Sheet, "by", who(c).Staff.ID)
	s.say(c, "The clearance is taken back. The student’s page says so.")
	return goTo(c, benchHref(sc.Class, sc.Sheet))
}
