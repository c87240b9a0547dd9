package server

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// securityPolicy allows nothing that does not come from the server itself. The
// icon is an empty data: address, so that browsers ask for none.
const securityPolicy = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// secureHeaders goes on every answer, error pages included.
func (s *server) secureHeaders(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		s.setSecure(c.Response().Header())
		return next(c)
	}
}

// setSecure sets the headers of every answer.
func (s *server) setSecure(h http.Header) {
	h.Set("Content-Security-Policy", securityPolicy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
	// Pages belong to one person at one moment: Back at a shared PC must show
	// nothing. Lessons, assets and health checks set their own.
	h.Set("Cache-Control", "no-store")
	if strings.HasPrefix(s.cfg.PublicURL, "https://") {
		h.Set("Strict-Transport-Security", "max-age=31536000")
	}
}

// fromOwnPages refuses forms sent from other sites.
func (s *server) fromOwnPages(next echo.HandlerFunc) echo.HandlerFunc {
	guard := http.NewCrossOriginProtection()
	return func(c echo.Context) error {
		if err := guard.Check(c.Request()); err != nil {
			s.log.Warn("a form from another site refused", "route", c.Path(), "request", requestID(c))
			return echo.NewHTTPError(http.StatusForbidden)
		}
		return next(c)
	}
}
