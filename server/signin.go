package server

import (
	"errors"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var signInRoutes = []route{
	{http.MethodGet, "/signin", forAnybody, (*server).getSignIn},
	{http.MethodPost, "/signin", forAnybody, (*server).postSignIn},
}

// signInPage asks staff for e-mail and password.
type signInPage struct {
	Frame
	Email, Password Field
	To              string // where to go afterwards
	Fault           string
}

// signInRefused is said for an unknown address and for a wrong password alike:
// whoever guesses learns nothing.
const signInRefused = "No account has this e-mail address with this password. Look for capitals and for spaces."

func (s *server) signInPage(c echo.Context) signInPage {
	page := signInPage{
		Frame:    s.frame(c, "Sign in"),
		Email:    Field{Name: "email", Label: "E-mail", Kind: "email", Auto: "username", Mode: "email", Focus: true},
		Password: Field{Name: "password", Label: "Password", Kind: "password", Auto: "current-password"},
		To:       c.FormValue("to"),
	}
	if !localPath(page.To) {
		page.To = ""
	}
	return page
}

func (s *server) getSignIn(c echo.Context) error {
	page := s.signInPage(c)
	if who(c).Staff != nil {
		return goTo(c, page.next())
	}
	return s.show(c, "signin", &page.Frame, &page)
}

func (p signInPage) next() string {
	if p.To != "" {
		return p.To
	}
	return "/classes"
}

func (s *server) postSignIn(c echo.Context) error {
	page := s.signInPage(c)
	page.Email.Value = strings.TrimSpace(c.FormValue("email"))
	password := tidyPassword(c.FormValue("password"))
	switch {
	case page.Email.Value == "" || utf8.RuneCountInString(page.Email.Value) > emailMost,
		!utf8.ValidString(page.Email.Value) || strings.ContainsRune(page.Email.Value, 0):
		page.Email.Fault = "Type the e-mail address of your account."
	case password == "":
		page.Password.Fault = "Type your password."
	}
	if faulty(&page.Email, &page.Password) {
		return s.render(c, http.StatusUnprocessableEntity, "signin", &page)
	}
	p, err := s.proveStaff(c, page.Email.Value, password)
	tooMany, slow := errors.AsType[*tooManyError](err)
	switch {
	case slow:
		page.Fault = tooMany.Says()
		return s.render(c, tooMany.answer(c), "signin", &page)
	case errors.Is(err, store.ErrNotFound):
		page.Fault = signInRefused
		return s.render(c, http.StatusUnprocessableEntity, "signin", &page)
	case err != nil:
		return err
	}
	if err := s.signInStaff(c.Request().Context(), p); err != nil {
		return err
	}
	s.log.Info("staff signed in", "staff", p.ID, "request", requestID(c))
	return goTo(c, page.next())
}

// proveStaff finds the account of an address and a password; ErrNotFound when
// there is none, which takes as long as a wrong password.
func (s *server) proveStaff(c echo.Context, email, password string) (store.Staff, error) {
	ctx := c.Request().Context()
	p, err := s.store.StaffByEmail(ctx, email)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return store.Staff{}, err
	}
	ok, err := s.prove(ctx, guardedBy("staff", strings.ToLower(email), addressOf(c)), password, p.PasswordHash)
	if err != nil {
		return store.Staff{}, err
	}
	if !ok {
		s.log.Warn("sign-in refused", "staff", p.ID, "request", requestID(c))
		return store.Staff{}, store.ErrNotFound
	}
	return p, nil
}
