package server

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// sendPacked sends what was compressed beforehand, packed or plain as the
// browser can take it.
func sendPacked(c echo.Context, contentType string, body, packed []byte) error {
	h := c.Response().Header()
	h.Add("Vary", "Accept-Encoding")
	if takesGzip(c.Request().Header.Get("Accept-Encoding")) {
		h.Set("Content-Encoding", "gzip")
		body = packed
	}
	return c.Blob(http.StatusOK, contentType, body)
}

func takesGzip(accept string) bool {
	for part := range strings.SplitSeq(accept, ",") {
		name, q, _ := strings.Cut(strings.TrimSpace(part), ";")
		if name == "gzip" && strings.ReplaceAll(q, " ", "") != "q=0" {
			return true
		}
	}
	return false
}

// forgetClientID keeps clients from choosing the number in our log.
func forgetClientID(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Request().Header.Del(echo.HeaderXRequestID)
		return next(c)
	}
}
