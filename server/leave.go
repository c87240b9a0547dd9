package server

import (
	"net/http"
	"net/url"

	"github.com/labstack/echo/v4"
)

var leaveRoutes = []route{
	{http.MethodPost, "/leave", forAnybody, (*server).postLeave},
	{http.MethodPost, "/next", forAnybody, (*server).postNext},
}

// clearSite tells the browser to forget everything it keeps of this server.
const clearSite = `"cache", "cookies", "storage"`

// postLeave ends the session on an own device.
func (s *server) postLeave(c echo.Context) error {
	to := "/"
	if who(c).Student != nil {
		to = enterPath(s.sessions.GetString(c.Request().Context(), sessionCode))
	}
	return s.endSession(c, to)
}

// postNext ends the session at a shared PC, whether or not its time was up,
// and leads to where the next student of the class types a code.
func (s *server) postNext(c echo.Context) error {
	to := who(c).Lapsed
	if to == "" {
		to = enterPath(s.sessions.GetString(c.Request().Context(), sessionCode))
	}
	return s.endSession(c, to)
}

func (s *server) endSession(c echo.Context, to string) error {
	if err := s.sessions.Destroy(c.Request().Context()); err != nil {
		return err
	}
	c.Response().Header().Set("Clear-Site-Data", clearSite)
	return goTo(c, to)
}

// enterPath is where the students of a class type their codes.
func enterPath(classCode string) string {
	if classCode == "" {
		return "/enter"
	}
	return "/enter/" + url.PathEscape(classCode)
}
