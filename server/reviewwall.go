package server

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"
)

// wallPage is one number of the review in large letters, for the projector: no
// names, no sizes and no right numbers.
type wallPage struct {
	Frame
	Heading    string
	Step       reviewStep
	Total      int
	Slips      []reviewSlip
	Question   string
	Prev, Next string // addresses; "" at the ends
	Of         int    // numbers in all
	Href       string // of the review
}

// getReviewWall shows the number that the address asks for by its place, else
// the one to take up again.
func (s *server) getReviewWall(c echo.Context) error {
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	d, err := s.reviewData(c.Request().Context(), class, a, ex)
	if err != nil {
		return err
	}
	t := d.tally()
	number := 1
	if worst, ok := t.Worst(); ok {
		number = worst.Number
	}
	if asked := c.QueryParam("number"); asked != "" {
		if number, err = strconv.Atoi(asked); err != nil || number < 1 || number > len(t.Steps) {
			return echo.NewHTTPError(http.StatusNotFound)
		}
	}
	page := d.wall(number)
	page.Frame = s.frame(c, fmt.Sprintf("Number %d: %s", number, a.Title))
	page.Rail = roomRail(class, a, "")
	page.Wall, page.Script = true, "wall.js"
	page.Href = reviewHref(class, a.No)
	page.Prev, page.Next = page.beside(number-1), page.beside(number+1)
	return s.show(c, "reviewwall", &page.Frame, &page)
}

// beside is the address of another number; "" where there is none.
func (p wallPage) beside(number int) string {
	if number < 1 || number > p.Of {
		return ""
	}
	return fmt.Sprintf("%s/wall?number=%d", p.Href, number)
}

// wall makes the page of one number.
func (d reviewData) wall(number int) wallPage {
	t := d.tally()
	st := t.Steps[number-1]
	page := wallPage{Step: reviewStepOf(d.ex, st, false), Total: st.Sheets(), Of: len(t.Steps)}
	page.Heading = fmt.Sprintf("Number %d, %s: %s", number, lowerFirst(page.Step.Name), "nobody has answered yet")
	if page.Total > 0 {
		page.Heading = fmt.Sprintf("Number %d, %s: %d of %d right", number, lowerFirst(page.Step.Name), st.Sits(), page.Total)
	}
	parts := d.slipsOf()
	if i := slices.IndexFunc(parts, func(p reviewSlips) bool { return p.Number == number }); i >= 0 {
		page.Slips = parts[i].Patterns
		if len(st.Slips) > 0 {
			page.Question = questionOf(st.Slips[0].Slip.Says)
		}
	}
	return page
}
