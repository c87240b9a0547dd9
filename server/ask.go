package server

import (
	"errors"
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// postAsk puts the bench in the queue for a check.
func (s *server) postAsk(c echo.Context) error {
	d, err := s.desk(c)
	if err != nil {
		return err
	}
	if why := d.notReady(); why != "" {
		return &statusError{Status: http.StatusConflict, Heading: "Not ready for a check", Sentence: why, To: d.base(), ToText: "back to the sheet"}
	}
	err = s.store.Ask(c.Request().Context(), d.class.ID, d.sheet.No, d.sheet.Attempts, d.sheet.Wood, d.now)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{Status: http.StatusConflict, Heading: "Something changed meanwhile",
			Sentence: "New numbers came in, the wood was measured, or you were cleared. Look at the sheet once more.", To: d.base(), ToText: "back to the sheet"}
	}
	if err != nil {
		return err
	}
	place, err := s.store.PlaceInQueue(c.Request().Context(), d.class.ID, d.sheet.No)
	if err != nil {
		return err
	}
	s.say(c, fmt.Sprintf("You are in the queue, place %d. Your bench is %d.", place, d.sheet.Bench))
	return goTo(c, d.base())
}

// postUnask takes the bench out of the queue.
func (s *server) postUnask(c echo.Context) error {
	d, err := s.desk(c)
	if err != nil {
		return err
	}
	if err := s.store.Unask(c.Request().Context(), d.class.ID, d.sheet.No); err != nil {
		return err
	}
	s.say(c, "You are out of the queue.")
	return goTo(c, d.base())
}
