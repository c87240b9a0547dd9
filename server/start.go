package server

import (
	"fmt"
	"html/template"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
)

var startRoutes = []route{
	{http.MethodGet, "/", forAnybody, (*server).getStart},
}

// startPage is what somebody sees who is not signed in.
type startPage struct {
	Frame
	// New says that nobody has an account yet.
	New     bool
	Picture template.HTML
	Caption string
}

// What is drawn on the start page: a figure of the lessons, of nobody's blank.
const startFamily, startFigure = "head-v-joint", "section"

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
	if page.Picture, page.Caption, err = startPicture(); err != nil {
		return err
	}
	return s.show(c, "start", &page.Frame, &page)
}

// startPicture draws the start page's figure.
func startPicture() (template.HTML, string, error) {
	family, ok := joint.Lookup(startFamily)
	if !ok {
		return "", "", fmt.Errorf("no family %s for the start page", startFamily)
	}
	v, err := drawing.Figure(family, startFigure, family.House)
	if err != nil {
		return "", "", fmt.Errorf("draw the start page: %w", err)
	}
	// The writer of drawings escapes every text it is given.
	return template.HTML(v.SVG()), family.Title + ": " + v.Caption, nil
}
