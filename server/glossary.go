package server

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons"
)

var glossaryRoutes = []route{
	{http.MethodGet, "/glossary", forAnybody, (*server).getGlossary},
}

// glossaryPage is every word that a lesson explains.
type glossaryPage struct {
	Frame
	Letters []glossaryLetter
}

// glossaryLetter is the words that begin with one letter.
type glossaryLetter struct {
	Letter string
	Terms  []lessons.Term
}

// getGlossary shows the words of all lessons: those of the program and those of
// instructors' own that are in use.
func (s *server) getGlossary(c echo.Context) error {
	lib, err := s.library(c.Request().Context())
	if err != nil {
		return err
	}
	page := glossaryPage{Frame: s.frame(c, "Words"), Letters: byLetter(lib.Glossary())}
	return s.show(c, "glossary", &page.Frame, &page)
}

// byLetter parts words that are in the order of the alphabet by their first
// letters.
func byLetter(terms []lessons.Term) []glossaryLetter {
	var letters []glossaryLetter
	for _, t := range terms {
		first := string([]rune(upperFirst(t.ID))[:1])
		if n := len(letters); n == 0 || letters[n-1].Letter != first {
			letters = append(letters, glossaryLetter{Letter: first})
		}
		last := &letters[len(letters)-1]
		last.Terms = append(last.Terms, t)
	}
	return letters
}
