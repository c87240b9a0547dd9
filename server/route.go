package server

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// access says who may use an address. There is no default: a route without
// one does not exist.
type access int

const (
	_              access = iota
	forAnybody            // no session needed
	forStaff              // signed in with a password
	forTeachers           // staff who may make classes
	forClassStaff         // instructors and assistants of :class
	forInstructors        // instructors of :class
	forClearers           // staff of :class who may clear people to cut
	forStudents           // a signed-in student
	forSheetOwner         // the student of :class whose :sheet it is
)

// route is one address with its one handler.
type route struct {
	Method, Path string
	For          access
	Do           func(*server, echo.Context) error
}

// routes is every address there is.
func routes() []route {
	var all []route
	for _, part := range [][]route{
		systemRoutes,
		lessonRoutes,
		moduleRoutes,
		moduleTryRoutes,
		moduleImportRoutes,
		courseRoutes,
		lessonPictureRoutes,
		glossaryRoutes,
		practiceRoutes,
		skillsRoutes,
		roomRoutes,
		benchRoutes,
		clearRoutes,
		reviewRoutes,
		findingRoutes,
		startRoutes,
		signInRoutes,
		joinRoutes,
		meRoutes,
		leaveRoutes,
		enterRoutes,
		classRoutes,
		peopleRoutes,
		rosterRoutes,
		studentRoutes,
		cardRoutes,
		assignmentRoutes,
		assignmentActRoutes,
		keyRoutes,
		alikeRoutes,
		reportRoutes,
		printRoutes,
		sheetsRoutes,
		sheetRoutes,
		attemptRoutes,
		woodRoutes,
		turnRoutes,
		typedRoutes,
	} {
		all = append(all, part...)
	}
	return all
}

// handle wraps a route's handler with its guard.
func (s *server) handle(r route) echo.HandlerFunc {
	return func(c echo.Context) error {
		if err := s.admit(c, r.For); err != nil {
			s.logRefusal(c, r, err)
			return err
		}
		return r.Do(s, c)
	}
}

// admit lets the request through or gives the error that hides the address.
func (s *server) admit(c echo.Context, a access) error {
	p := who(c)
	switch a {
	case forAnybody:
		return nil
	case forStaff:
		return s.needStaff(c, p.Staff != nil)
	case forTeachers:
		return s.needStaff(c, p.Staff != nil && p.Staff.MayTeach)
	case forClassStaff, forInstructors, forClearers:
		return s.admitClassStaff(c, a)
	case forStudents:
		return s.needStudent(c, p.Student != nil)
	case forSheetOwner:
		return s.admitOwner(c)
	}
	return errNotFound
}

// logRefusal writes down that somebody who is signed in tried an address of
// others.
func (s *server) logRefusal(c echo.Context, r route, err error) {
	p := who(c)
	if !errors.Is(err, errNotFound) {
		return
	}
	switch {
	case p.Staff != nil:
		s.log.Warn("refused", "staff", p.Staff.ID, "method", r.Method, "route", r.Path, "request", requestID(c))
	case p.Student != nil:
		s.log.Warn("refused", "class", p.Student.ClassID, "student", p.Student.No, "method", r.Method, "route", r.Path, "request", requestID(c))
	}
}

func (s *server) needStaff(c echo.Context, ok bool) error {
	if ok {
		return nil
	}
	return s.strangerError(c, "/signin")
}

func (s *server) needStudent(c echo.Context, ok bool) error {
	if ok {
		return nil
	}
	return s.strangerError(c, "/enter")
}

// strangerError sends somebody without a session to the sign-in page when a
// page was asked for, and hides the address from everybody else. Only whoever
// sent a form after the time was up is told that it was not received.
func (s *server) strangerError(c echo.Context, signIn string) error {
	p := who(c)
	asked := c.Request().Method == http.MethodGet
	switch {
	case p.Staff != nil || p.Student != nil:
		return errNotFound
	case p.Lapsed != "" && asked:
		s.say(c, "You were signed out because nothing was pressed for a while. What you sent is kept.")
		signIn = p.Lapsed
	case p.Lapsed != "":
		return &statusError{
			Status: http.StatusUnauthorized, Heading: "You were signed out, and this was not received",
			Sentence: "Nothing was pressed for a while. Sign in again, then send it once more. What you sent before is kept.",
			To:       p.Lapsed, ToText: "sign in again",
		}
	}
	if !asked {
		return errNotFound
	}
	if signIn == "/signin" {
		signIn += "?to=" + url.QueryEscape(c.Request().URL.RequestURI())
	}
	return redirectError(signIn)
}

func (s *server) admitClassStaff(c echo.Context, a access) error {
	p := who(c)
	if p.Staff == nil {
		return s.strangerError(c, "/signin")
	}
	id, err := strconv.ParseInt(c.Param("class"), 10, 64)
	if err != nil {
		return errNotFound
	}
	class, m, err := s.store.ClassFor(c.Request().Context(), id, p.Staff.ID)
	if errors.Is(err, store.ErrNotFound) {
		return errNotFound
	}
	if err != nil {
		return err
	}
	if a == forInstructors && m.Role != "instructor" || a == forClearers && !m.MayClear {
		return errNotFound
	}
	sheet, err := sheetParam(c)
	if err != nil {
		return err
	}
	c.Set(keyScope, scope{Class: class, Member: &m, Sheet: sheet})
	return nil
}

func (s *server) admitOwner(c echo.Context) error {
	p := who(c)
	if p.Student == nil {
		return s.strangerError(c, "/enter")
	}
	sheet, err := sheetParam(c)
	if err != nil || c.Param("class") != strconv.FormatInt(p.Student.ClassID, 10) {
		return errNotFound
	}
	ctx := c.Request().Context()
	owns, err := s.store.OwnsSheet(ctx, p.Student.ClassID, sheet, p.Student.No)
	if err != nil {
		return err
	}
	if !owns {
		return errNotFound
	}
	class, err := s.store.ClassByID(ctx, p.Student.ClassID)
	if err != nil {
		return err
	}
	c.Set(keyScope, scope{Class: class, Sheet: sheet})
	return nil
}

// sheetParam reads :sheet; 0 when the address names none.
func sheetParam(c echo.Context) (int, error) {
	if c.Param("sheet") == "" {
		return 0, nil
	}
	return number(c, "sheet")
}

// number reads a positive number from the address.
func number(c echo.Context, name string) (int, error) {
	no, err := strconv.Atoi(c.Param(name))
	if err != nil || no < 1 || no > 1<<30 {
		return 0, errNotFound
	}
	return no, nil
}
