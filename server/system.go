package server

import (
	"context"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

var systemRoutes = []route{
	{http.MethodGet, "/healthz", forAnybody, (*server).getHealth},
	{http.MethodGet, "/readyz", forAnybody, (*server).getReady},
	{http.MethodGet, "/static/*", forAnybody, (*server).getAsset},
}

// getHealth says that the process answers.
func (s *server) getHealth(c echo.Context) error { return c.String(http.StatusOK, "ok\n") }

// getReady says that the database answers too.
func (s *server) getReady(c echo.Context) error {
	ctx, stop := context.WithTimeout(c.Request().Context(), 2*time.Second)
	defer stop()
	if err := s.store.Ping(ctx); err != nil {
		s.log.Warn("not ready", "error", err)
		return c.String(http.StatusServiceUnavailable, "the database does not answer\n")
	}
	return c.String(http.StatusOK, "ready\n")
}

// getAsset sends a style, script or picture; its name names its content.
func (s *server) getAsset(c echo.Context) error {
	a, ok := s.assets.Lookup(c.Request().URL.Path)
	if !ok {
		return errNotFound
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	return sendPacked(c, a.Type, a.Body, a.Gzip)
}
