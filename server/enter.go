package server

import (
	"errors"
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var enterRoutes = []route{
	{http.MethodGet, "/enter", forAnybody, (*server).getEnter},
	{http.MethodPost, "/enter", forAnybody, (*server).postEnter},
	{http.MethodGet, "/enter/:code", forAnybody, (*server).getEnter},
	{http.MethodPost, "/enter/:code", forAnybody, (*server).postEnter},
	{http.MethodGet, "/card/:token", forAnybody, (*server).getCardStart},
	{http.MethodPost, "/card/:token", forAnybody, (*server).postCardStart},
}

// enterPage asks a student for the codes of a card. With the class in the
// address only the personal code is asked, so that a shared PC needs one page
// and ten letters.
type enterPage struct {
	Frame
	Action      string
	ClassCode   string // as printed; empty: asked for
	Class, Code Field
	SharedPC    bool
	Fault       string
	// SignedIn is who is signed in here, if anybody.
	SignedIn string
}

// enterRefused is said for an unknown class and for a wrong code alike.
const enterRefused = "No card has this code. Look at the newest card you have: an older one no longer counts."

func (s *server) enterPage(c echo.Context) enterPage {
	page := enterPage{
		Frame:    s.frame(c, "Type your code"),
		Action:   "/enter",
		Class:    Field{Name: "class", Label: "Class code", Note: "eight letters and figures", Class: "code", Auto: "off", Upper: true},
		Code:     Field{Name: "code", Label: "Your code", Note: "ten letters and figures", Class: "code", Auto: "off", Upper: true},
		SharedPC: true,
	}
	if code, ok := readCode(c.Param("code")); ok && len(code) == classCodeLen {
		page.ClassCode, page.Action = groups(code), enterPath(code)
		page.Class.Value = code
	}
	page.Code.Focus = page.ClassCode != ""
	page.Class.Focus = !page.Code.Focus
	if p := who(c).Student; p != nil {
		page.SignedIn = p.Name
		page.Code.Focus, page.Class.Focus = false, false
	}
	return page
}

func (s *server) getEnter(c echo.Context) error {
	page := s.enterPage(c)
	return s.show(c, "enter", &page.Frame, &page)
}

func (s *server) postEnter(c echo.Context) error {
	page := s.enterPage(c)
	if page.ClassCode == "" {
		page.Class.Value = c.FormValue("class")
	}
	page.Code.Value = c.FormValue("code")
	page.SharedPC = c.FormValue("shared") != ""
	classCode, personal := page.read()
	if faulty(&page.Class, &page.Code) {
		return s.render(c, http.StatusUnprocessableEntity, "enter", &page)
	}
	h, err := s.proveHolder(c, classCode, personal)
	tooMany, slow := errors.AsType[*tooManyError](err)
	switch {
	case slow:
		page.Fault = tooMany.Says()
		return s.render(c, tooMany.answer(c), "enter", &page)
	case errors.Is(err, store.ErrNotFound):
		page.Fault, page.Code.Focus = enterRefused, true
		return s.render(c, http.StatusUnprocessableEntity, "enter", &page)
	case err != nil:
		return err
	}
	if err := s.signInStudent(c.Request().Context(), h.Student, classCode, page.SharedPC); err != nil {
		return err
	}
	s.log.Info("student signed in", "class", h.ClassID, "student", h.No, "by", "code", "shared", page.SharedPC, "request", requestID(c))
	return goTo(c, "/sheets")
}

// read takes the two codes as printed out of what was typed.
func (p *enterPage) read() (class, personal string) {
	class, p.Class.Fault = readTyped(p.Class.Value, classCodeLen, "eight", "class code")
	personal, p.Code.Fault = readTyped(p.Code.Value, personalCodeLen, "ten", "code of your own")
	return class, personal
}

func readTyped(text string, letters int, word, what string) (code, fault string) {
	code, ok := readCode(text)
	switch {
	case text == "":
		return "", "Type the " + what + ", as it stands on your card."
	case !ok:
		return "", "A code has letters from A to Z and figures only."
	case len(code) != letters:
		return "", fmt.Sprintf("A %s has %s letters and figures; this has %d.", what, word, len(code))
	}
	return code, ""
}

// proveHolder finds the student of the two codes; ErrNotFound when there is
// none, which takes as long as a wrong code.
func (s *server) proveHolder(c echo.Context, classCode, personal string) (store.Holder, error) {
	ctx := c.Request().Context()
	head := personal[:codeHeadLen]
	h, err := s.store.HolderByHead(ctx, classCode, head)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return store.Holder{}, err
	}
	address := addressOf(c)
	keys := append(guardedBy("card", classCode+" "+head, address),
		guarded{"class " + classCode + " " + address, limitClassHere})
	ok, err := s.prove(ctx, keys, personal, h.CodeHash)
	if err != nil {
		return store.Holder{}, err
	}
	if !ok {
		s.log.Warn("card refused", "class", h.ClassID, "student", h.No, "request", requestID(c))
		return store.Holder{}, store.ErrNotFound
	}
	return h, nil
}

// cardStartPage greets whoever followed the link on a card. Looking at it
// changes nothing.
type cardStartPage struct {
	Frame
	Token, Name, Class string
	Bench              int
}

// cardHolder finds the student of the link in the address.
func (s *server) cardHolder(c echo.Context) (store.Holder, store.Class, error) {
	ctx := c.Request().Context()
	h, err := s.store.HolderByToken(ctx, tokenHash(c.Param("token")))
	if errors.Is(err, store.ErrNotFound) {
		return h, store.Class{}, &statusError{
			Status: http.StatusNotFound, Heading: "This card no longer counts",
			Sentence: "A newer card has taken its place, or it is not from here. Use the newest card you have, or ask your instructor for one.",
			To:       "/enter", ToText: "type the code of a card",
		}
	}
	if err != nil {
		return h, store.Class{}, err
	}
	class, err := s.store.ClassByID(ctx, h.ClassID)
	return h, class, err
}

func (s *server) getCardStart(c echo.Context) error {
	h, class, err := s.cardHolder(c)
	if err != nil {
		return err
	}
	page := cardStartPage{
		Frame: s.frame(c, "Your card"), Token: c.Param("token"),
		Name: h.Name, Bench: h.Bench, Class: class.Name,
	}
	page.Rail, page.Leave, page.Shared = nil, false, false
	return s.show(c, "cardstart", &page.Frame, &page)
}

// postCardStart signs in on the student's own device.
func (s *server) postCardStart(c echo.Context) error {
	h, class, err := s.cardHolder(c)
	if err != nil {
		return err
	}
	if err := s.signInStudent(c.Request().Context(), h.Student, class.Code, false); err != nil {
		return err
	}
	s.log.Info("student signed in", "class", h.ClassID, "student", h.No, "by", "link", "shared", false, "request", requestID(c))
	return goTo(c, "/sheets")
}
