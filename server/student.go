package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var studentRoutes = []route{
	{http.MethodGet, "/classes/:class/students/:student", forInstructors, (*server).getStudent},
	{http.MethodPost, "/classes/:class/students/:student", forInstructors, (*server).postStudent},
	{http.MethodPost, "/classes/:class/students/:student/remove", forInstructors, (*server).postRemoveStudent},
	{http.MethodPost, "/classes/:class/students/:student/restore", forInstructors, (*server).postRestoreStudent},
}

// studentPage changes one line of the roster.
type studentPage struct {
	Frame
	Heading     string
	Href        string
	No          int
	Card        bool
	CardsHref   string
	Name, Bench Field
	Large       bool // reads large print
}

// student loads the student that the address names.
func (s *server) student(c echo.Context) (store.Student, error) {
	no, err := number(c, "student")
	if err != nil {
		return store.Student{}, err
	}
	return s.store.StudentByNo(c.Request().Context(), where(c).Class.ID, no)
}

func (s *server) studentPage(c echo.Context, st store.Student) studentPage {
	class := where(c).Class
	page := studentPage{
		Frame: s.classFrame(c, st.Name), Heading: fmt.Sprintf("%s, bench %d", st.Name, st.Bench),
		Href: studentHref(class, st.No), No: st.No, Large: st.LargePrint, Card: st.Card > 0, CardsHref: classHref(class) + "/cards",
		Name:  Field{Name: "name", Label: "Name", Auto: "off", Value: st.Name},
		Bench: Field{Name: "bench", Label: "Bench", Class: "num", Auto: "off", Mode: "numeric", Value: strconv.Itoa(st.Bench)},
	}
	page.Rail = append(page.Rail[:2], Link{Text: "Roster", Href: classHref(class) + "/roster"})
	return page
}

func (s *server) getStudent(c echo.Context) error {
	st, err := s.student(c)
	if err != nil {
		return err
	}
	page := s.studentPage(c, st)
	return s.show(c, "student", &page.Frame, &page)
}

func (s *server) postStudent(c echo.Context) error {
	st, err := s.student(c)
	if err != nil {
		return err
	}
	class, ctx := where(c).Class, c.Request().Context()
	roster, err := s.store.Students(ctx, class.ID)
	if err != nil {
		return err
	}
	page := s.studentPage(c, st)
	page.Name.Value, page.Bench.Value = tidyName(c.FormValue("name")), c.FormValue("bench")
	page.Large = c.FormValue("large_print") != ""
	to := store.NewStudent{Name: page.Name.Value, LargePrint: page.Large}
	page.Name.Fault = nameFault(to.Name)
	to.Bench, page.Bench.Fault = readBench(page.Bench.Value)
	var shares []string
	for _, other := range roster {
		switch {
		case other.No == st.No:
		case sameName(other.Name) == sameName(to.Name):
			page.Name.Fault = fmt.Sprintf("Somebody at bench %d is called so. Write something that tells the two apart.", other.Bench)
		case other.Bench == to.Bench:
			shares = append(shares, other.Name)
		}
	}
	if faulty(&page.Name, &page.Bench) {
		return s.render(c, http.StatusUnprocessableEntity, "student", &page)
	}
	if err := s.store.SetStudent(ctx, class.ID, st.No, to); err != nil {
		return err
	}
	s.log.Info("roster changed", "class", class.ID, "staff", who(c).Staff.ID, "student", st.No, "request", requestID(c))
	said := fmt.Sprintf("%s is at bench %d.", to.Name, to.Bench)
	if len(shares) > 0 {
		said = fmt.Sprintf("%s is at bench %d, together with %s.", to.Name, to.Bench, list(shares))
	}
	s.say(c, said)
	return goTo(c, classHref(class)+"/roster")
}

// postRemoveStudent takes a student off the roster. The work is kept, and the
// student's session is over with the next request.
func (s *server) postRemoveStudent(c echo.Context) error {
	st, err := s.student(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	if err := s.store.RemoveStudent(c.Request().Context(), class.ID, st.No, s.now()); err != nil {
		return err
	}
	s.log.Info("student removed", "class", class.ID, "staff", who(c).Staff.ID, "student", st.No, "request", requestID(c))
	s.say(c, st.Name+" is off the roster and signed out. Sheets and attempts are kept; “Put back” below brings it all back.")
	return goTo(c, classHref(class)+"/roster")
}

func (s *server) postRestoreStudent(c echo.Context) error {
	no, err := number(c, "student")
	if err != nil {
		return err
	}
	class := where(c).Class
	err = s.store.RestoreStudent(c.Request().Context(), class.ID, no, studentsMost)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{
			Status: http.StatusConflict, Heading: "The class is full",
			Sentence: fmt.Sprintf("A class has room for %d students.", studentsMost),
			To:       classHref(class) + "/roster", ToText: "back to the roster",
		}
	}
	if err != nil {
		return err
	}
	s.log.Info("student restored", "class", class.ID, "staff", who(c).Staff.ID, "student", no, "request", requestID(c))
	s.say(c, "Back on the roster. The card works again, too.")
	return goTo(c, classHref(class)+"/roster")
}
