package server

import (
	"context"
	"errors"
	"net/http"
	"net/mail"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var joinRoutes = []route{
	{http.MethodGet, "/join/:token", forAnybody, (*server).getJoin},
	{http.MethodPost, "/join/:token", forAnybody, (*server).postJoin},
}

// How long a one-time link can be used, and the longest name and address.
const (
	inviteFor     = 7 * 24 * time.Hour
	emailMost     = 254
	staffNameMost = 80
)

// SetUpPath makes the one-time link with which the first instructor's account
// is made, in place of an earlier one, and gives its path. Once there is an
// account it makes none and says that none is needed.
func SetUpPath(ctx context.Context, cfg Config) (path string, needed bool, err error) {
	token, hash := newToken()
	needed, err = cfg.Store.InviteFirst(ctx, hash, cfg.Now().Add(inviteFor))
	if err != nil || !needed {
		return "", false, err
	}
	return "/join/" + token, true, nil
}

// joinPage is where a one-time link leads: to a new account, or, for whoever
// has one and is signed in, to one button.
type joinPage struct {
	Frame
	Token     string
	ClassName string // empty: the first instructor
	Role      string // what the person will be
	SignedIn  string // the name of the account that would join
	Name      Field
	Email     Field
	Password  Field
	Fault     string
}

// roleWords are what somebody is in a class.
func roleWords(role string, mayClear bool) string {
	switch {
	case role == "instructor":
		return "instructor"
	case mayClear:
		return "assistant who may clear to cut"
	}
	return "assistant"
}

// errLinkOver is the answer to a link that cannot be used any more.
var errLinkOver = &statusError{
	Status: http.StatusNotFound, Heading: "This link can no longer be used",
	Sentence: "It works once and for seven days. If you have made your account with it, sign in. Otherwise ask for a new link.",
	To:       "/signin", ToText: "sign in",
}

func (s *server) joinPage(c echo.Context) (joinPage, error) {
	token := c.Param("token")
	i, err := s.store.InvitationByHash(c.Request().Context(), tokenHash(token), s.now())
	if errors.Is(err, store.ErrNotFound) {
		return joinPage{}, errLinkOver
	}
	if err != nil {
		return joinPage{}, err
	}
	page := joinPage{
		Frame: s.frame(c, "Make your account"), Token: token, Role: roleWords(i.Role, i.MayClear),
		Name:     Field{Name: "name", Label: "Your name", Note: "as the class knows you", Auto: "name", Focus: true},
		Email:    Field{Name: "email", Label: "E-mail", Note: "to sign in with; nothing is sent to it", Kind: "email", Auto: "username", Mode: "email"},
		Password: newPasswordField("password", "Password"),
	}
	if i.ClassName != nil {
		page.ClassName = *i.ClassName
	}
	if p := who(c).Staff; p != nil {
		page.SignedIn = p.Name
	}
	return page, nil
}

func newPasswordField(name, label string) Field {
	return Field{
		Name: name, Label: label, Kind: "password", Auto: "new-password",
		Note: "15 characters or more; a short sentence does well",
	}
}

func (s *server) getJoin(c echo.Context) error {
	page, err := s.joinPage(c)
	if err != nil {
		return err
	}
	return s.show(c, "join", &page.Frame, &page)
}

func (s *server) postJoin(c echo.Context) error {
	page, err := s.joinPage(c)
	if err != nil {
		return err
	}
	if p := who(c).Staff; p != nil {
		return s.joinAs(c, *p)
	}
	account, ok := page.read(c)
	if !ok {
		return s.render(c, http.StatusUnprocessableEntity, "join", &page)
	}
	ctx := c.Request().Context()
	account.PasswordHash, err = s.hashing.hash(ctx, tidyPassword(c.FormValue("password")))
	if err != nil {
		return err
	}
	account.At = s.now()
	p, err := s.store.JoinNew(ctx, tokenHash(page.Token), account)
	switch {
	case errors.Is(err, store.ErrNotFound):
		return errLinkOver
	case errors.Is(err, store.ErrTaken):
		page.Email.Fault = "This e-mail address has an account already. Sign in with it first, then follow the link again."
		faulty(&page.Name, &page.Email, &page.Password)
		return s.render(c, http.StatusUnprocessableEntity, "join", &page)
	case err != nil:
		return err
	}
	if err := s.signInStaff(ctx, p); err != nil {
		return err
	}
	s.log.Info("account made", "staff", p.ID, "request", requestID(c))
	s.say(c, "Your account is made, and you are signed in.")
	return goTo(c, "/classes")
}

// joinAs takes somebody who has an account into the class of the link.
func (s *server) joinAs(c echo.Context, p store.Staff) error {
	err := s.store.JoinAs(c.Request().Context(), tokenHash(c.Param("token")), p.ID, s.now())
	switch {
	case errors.Is(err, store.ErrNotFound):
		return errLinkOver
	case errors.Is(err, store.ErrTaken):
		s.say(c, "You teach in this class already. The link can still be used by somebody else.")
		return goTo(c, "/classes")
	case err != nil:
		return err
	}
	s.log.Info("joined a class", "staff", p.ID, "request", requestID(c))
	s.say(c, "You have joined the class.")
	return goTo(c, "/classes")
}

// read takes the account out of the form.
func (p *joinPage) read(c echo.Context) (store.NewStaff, bool) {
	p.Name.Value = tidyName(c.FormValue("name"))
	p.Email.Value = strings.TrimSpace(c.FormValue("email"))
	switch n := utf8.RuneCountInString(p.Name.Value); {
	case n == 0:
		p.Name.Fault = "Type your name."
	case n > staffNameMost:
		p.Name.Fault = "This name is too long: 80 characters at most."
	}
	p.Email.Fault = emailFault(p.Email.Value)
	p.Password.Fault = passwordFault(c.FormValue("password"), p.Name.Value, p.Email.Value, p.ClassName)
	return store.NewStaff{Name: p.Name.Value, Email: p.Email.Value}, !faulty(&p.Name, &p.Email, &p.Password)
}

// emailFault says what is wrong with an e-mail address. Nothing is ever sent
// to it: it needs to be one, and unlike anybody else's.
func emailFault(text string) string {
	addr, err := mail.ParseAddress(text)
	switch {
	case text == "":
		return "Type your e-mail address."
	case utf8.RuneCountInString(text) > emailMost:
		return "This address is too long."
	case err != nil || addr.Address != text || !strings.Contains(text[strings.LastIndexByte(text, '@'):], "."):
		return "This is not an e-mail address. One looks like name@school.example."
	}
	return ""
}
