package server

import (
	"errors"
	"mime"
	"net/http"

	"github.com/labstack/echo/v4"
)

// readForm reads a form before anything looks into it. A handler asks for one
// field after the other, and would take a body that is no form or that could
// not be read for a form in which nothing is filled in.
func readForm(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if c.Request().Method != http.MethodPost || bringsFiles(c) {
			return next(c) // see readUpload
		}
		if !bringsForm(c.Request()) {
			return echo.NewHTTPError(http.StatusUnsupportedMediaType)
		}
		_, err := c.FormParams()
		if refused, ok := errors.AsType[*echo.HTTPError](err); ok {
			return refused // longer than the limit
		}
		if err != nil {
			return echo.NewHTTPError(http.StatusBadRequest)
		}
		return next(c)
	}
}

// bringsForm says whether a body is a form; no body is an empty one.
func bringsForm(r *http.Request) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	form := err == nil && (kind == echo.MIMEApplicationForm || kind == echo.MIMEMultipartForm)
	return form || r.ContentLength == 0
}
