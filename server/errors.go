package server

import (
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// errNotFound hides what a person may not see; it answers like an address
// that does not exist.
var errNotFound = echo.NewHTTPError(http.StatusNotFound)

// redirectError is a redirect found out by a guard.
type redirectError string

func (redirectError) Error() string { return "redirect" }

// statusError is a refusal with a sentence for the person.
type statusError struct {
	Status            int
	Heading, Sentence string
	// To is where to go on, with the words of the link; empty: to the start.
	To, ToText string
}

func (e *statusError) Error() string { return e.Heading }

// errorPage is the page for everything that has no page of its own.
type errorPage struct {
	Frame
	Heading, Sentence string
	Home, HomeText    string
	RequestID         string
}

// answerError is the one place that turns errors into a status and a
// sentence. What it does not know is a fault of ours: 500 with a number, and
// the details in the log only.
func (s *server) answerError(err error, c echo.Context) {
	if c.Response().Committed {
		s.log.Error("error after the answer began", "error", err, "request", requestID(c))
		return
	}
	if to, ok := errors.AsType[redirectError](err); ok {
		_ = c.Redirect(http.StatusSeeOther, string(to))
		return
	}
	status, page := s.errorPage(err, c)
	if err := s.render(c, status, "error", page); err != nil {
		s.log.Error("render the error page", "error", err)
		_ = c.String(http.StatusInternalServerError, "Something went wrong here.")
	}
}

func (s *server) errorPage(err error, c echo.Context) (int, errorPage) {
	page := errorPage{Frame: s.frame(c, "Not possible"), Home: "/", HomeText: "back to the start"}
	// An address that is hidden answers like one that does not exist: to the letter.
	for i := range page.Rail {
		page.Rail[i].Here = false
	}
	var own *statusError
	var echoErr *echo.HTTPError
	status := http.StatusInternalServerError
	switch {
	case errors.As(err, &own):
		status, page.Heading, page.Sentence = own.Status, own.Heading, own.Sentence
		if own.To != "" {
			page.Home, page.HomeText = own.To, own.ToText
		}
	case errors.Is(err, store.ErrNotFound):
		status = http.StatusNotFound
	case errors.Is(err, store.ErrAway):
		status = http.StatusServiceUnavailable
		c.Response().Header().Set("Retry-After", "5")
	case errors.As(err, &echoErr):
		status = echoErr.Code
	}
	if page.Heading == "" {
		page.Heading, page.Sentence = plainWords(status)
	}
	if status >= 500 {
		page.RequestID = requestID(c)
		s.log.Error("request failed", "error", err, "request", page.RequestID,
			"method", c.Request().Method, "route", c.Path())
	}
	page.Title = page.Heading
	return status, page
}

// plainWords are the heading and sentence of a bare status.
func plainWords(status int) (string, string) {
	switch status {
	case http.StatusNotFound, http.StatusMethodNotAllowed:
		return "There is nothing here", "The address may be mistyped, or it may be somebody else’s."
	case http.StatusRequestEntityTooLarge, http.StatusRequestURITooLong, http.StatusRequestHeaderFieldsTooLarge:
		return "That is too much at once", "Send less in one go."
	case http.StatusForbidden:
		return "That came from another site", "Press the button on the page of this server itself."
	case http.StatusTooManyRequests:
		return "Too many tries", "Wait a little, then try again."
	case http.StatusServiceUnavailable:
		return "Not ready yet", "The server is starting or its database is away. Try again in a moment. What you typed stays in your fields."
	case http.StatusBadRequest, http.StatusUnsupportedMediaType, http.StatusUnprocessableEntity:
		return "That could not be read", "Go back, load the page again and send once more."
	}
	return "Something went wrong here", "It is not your fault. Go back and try again; what was received before is kept."
}

func requestID(c echo.Context) string {
	return c.Response().Header().Get(echo.HeaderXRequestID)
}
