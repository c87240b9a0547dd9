package server

import (
	"errors"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

var meRoutes = []route{
	{http.MethodGet, "/me", forStaff, (*server).getMe},
	{http.MethodPost, "/me/password", forStaff, (*server).postPassword},
}

// mePage is somebody's own account.
type mePage struct {
	Frame
	Name, Email string
	Old, New    Field
}

func (s *server) mePage(c echo.Context) mePage {
	p := who(c).Staff
	return mePage{
		Frame: s.frame(c, "My account"), Name: p.Name, Email: p.Email,
		Old: Field{Name: "old", Label: "The password until now", Kind: "password", Auto: "current-password"},
		New: newPasswordField("new", "The new password"),
	}
}

func (s *server) getMe(c echo.Context) error {
	page := s.mePage(c)
	return s.show(c, "me", &page.Frame, &page)
}

// postPassword changes the password. That ends every session of the account
// except this one, which starts anew.
func (s *server) postPassword(c echo.Context) error {
	page := s.mePage(c)
	p, ctx := *who(c).Staff, c.Request().Context()
	old, fresh := tidyPassword(c.FormValue("old")), tidyPassword(c.FormValue("new"))
	page.New.Fault = passwordFault(fresh, p.Name, p.Email)
	if fresh == old {
		page.New.Fault = "This is the password you have already."
	}
	if !faulty(&page.New) {
		ok, err := s.prove(ctx, guardedBy("staff", strings.ToLower(p.Email), addressOf(c)), old, p.PasswordHash)
		tooMany, slow := errors.AsType[*tooManyError](err)
		switch {
		case slow:
			page.Old.Fault = tooMany.Says()
			return s.render(c, tooMany.answer(c), "me", &page)
		case err != nil:
			return err
		case !ok:
			page.Old.Fault = "This is not your password until now."
		}
	}
	if faulty(&page.Old, &page.New) {
		return s.render(c, http.StatusUnprocessableEntity, "me", &page)
	}
	hash, err := s.hashing.hash(ctx, fresh)
	if err != nil {
		return err
	}
	if p.Epoch, err = s.store.SetPassword(ctx, p.ID, hash); err != nil {
		return err
	}
	if err := s.signInStaff(ctx, p); err != nil {
		return err
	}
	s.log.Info("password changed", "staff", p.ID, "request", requestID(c))
	s.say(c, "Your password is changed. Everywhere else you are signed out.")
	return goTo(c, "/me")
}
