package server

import (
	"net/http"

	"github.com/labstack/echo/v4"
)

var startRoutes = []route{
	{http.MethodGet, "/", forAnybody, (*server).getStart},
}

// startPage is what somebody sees who is not signed in.
type startPage struct {
	Frame
	// New says that nobody has an account yet.
	New bool
}

// getStart leads everybody to where they work.
func (s *server) getStart(c echo.Context) error {
	switch p := who(c); {
	case p.Staff != nil:
		return goTo(c, "/classes")
	case p.Student != nil:
		return goTo(c, "/sheets")
	}
	has, err := s.store.HasStaff(c.Request().Context())
	if err != nil {
		return err
	}
	page := startPage{Frame: s.frame(c, "Arrisbook"), New: !has}
	return s.show(c, "start", &page.Frame, &page)
}
