package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var peopleRoutes = []route{
	{http.MethodGet, "/classes/:class/people", forInstructors, (*server).getPeople},
	{http.MethodPost, "/classes/:class/people/links", forInstructors, (*server).postLink},
	{http.MethodPost, "/classes/:class/people/links/end", forInstructors, (*server).postEndLinks},
	{http.MethodPost, "/classes/:class/people/:staff/clearing", forInstructors, (*server).postClearing},
	{http.MethodPost, "/classes/:class/people/:staff/remove", forInstructors, (*server).postRemovePerson},
}

// peoplePage lists who teaches and helps in a class, and makes links for more.
type peoplePage struct {
	Frame
	Heading string
	Href    string
	People  []personLine
	Links   []string // the unused ones, as sentences
	Kinds   []Option
	Fault   string
	// The link just made; it is shown this once.
	Link, LinkFor string
}

type personLine struct {
	Name, Email, Role string
	Me                bool
	Href              string
	Assists, MayClear bool
	Removable         bool
}

// invitable are the kinds of staff that a link can make.
var invitable = []string{
	"assistant", "an assistant: sees the room, sheets and numbers, and does not clear",
	"clearer", "an assistant who may also clear people to cut",
	"instructor", "an instructor: may do everything you may do here",
}

func (s *server) peoplePage(c echo.Context) (peoplePage, error) {
	class, ctx := where(c).Class, c.Request().Context()
	page := peoplePage{
		Frame: s.classFrame(c, "People"), Href: classHref(class) + "/people",
		Kinds: options("assistant", invitable...),
	}
	people, err := s.store.People(ctx, class.ID)
	if err != nil {
		return page, err
	}
	instructors := 0
	for _, p := range people {
		if p.Role == "instructor" {
			instructors++
		}
	}
	for _, p := range people {
		page.People = append(page.People, personLine{
			Name: p.Name, Email: p.Email, Role: roleWords(p.Role, p.MayClear), Me: p.StaffID == who(c).Staff.ID,
			Href:    page.Href + "/" + strconv.FormatInt(p.StaffID, 10),
			Assists: p.Role == "assistant", MayClear: p.MayClear,
			Removable: p.Role == "assistant" || instructors > 1,
		})
	}
	page.Heading = upperFirst(counted(len(people), "person teaches or helps", "people teach or help")) + " here"
	if len(people) == 1 {
		page.Heading = "You teach here alone"
	}
	links, err := s.store.Invitations(ctx, class.ID, s.now())
	for _, i := range links {
		page.Links = append(page.Links, fmt.Sprintf("for an %s, until %s", roleWords(i.Role, i.MayClear), when(i.ExpiresAt, zoneOf(class))))
	}
	return page, err
}

func (s *server) getPeople(c echo.Context) error {
	page, err := s.peoplePage(c)
	if err != nil {
		return err
	}
	return s.show(c, "people", &page.Frame, &page)
}

// postLink makes a one-time link and answers with it at once: it is kept
// hashed, so that no later page could show it.
func (s *server) postLink(c echo.Context) error {
	class := where(c).Class
	kind, ok := pick(c.FormValue("kind"), options("", invitable...))
	if !ok {
		page, err := s.peoplePage(c)
		if err != nil {
			return err
		}
		page.Fault = "Choose for whom the link is."
		return s.render(c, http.StatusUnprocessableEntity, "people", &page)
	}
	role, mayClear := "assistant", kind == "clearer"
	if kind == "instructor" {
		role, mayClear = "instructor", true
	}
	token, hash := newToken()
	err := s.store.Invite(c.Request().Context(), class.ID, hash, role, mayClear, s.now().Add(inviteFor))
	if err != nil {
		return err
	}
	s.log.Info("link made", "class", class.ID, "staff", who(c).Staff.ID, "role", role, "clears", mayClear, "request", requestID(c))
	page, err := s.peoplePage(c)
	if err != nil {
		return err
	}
	page.Link, page.LinkFor = s.publicURL(c)+"/join/"+token, roleWords(role, mayClear)
	return s.render(c, http.StatusOK, "people", &page)
}

func (s *server) postEndLinks(c echo.Context) error {
	class := where(c).Class
	if err := s.store.EndInvitations(c.Request().Context(), class.ID); err != nil {
		return err
	}
	s.log.Info("links ended", "class", class.ID, "staff", who(c).Staff.ID, "request", requestID(c))
	s.say(c, "No unused link leads into this class any more.")
	return goTo(c, classHref(class)+"/people")
}

// staffParam reads :staff.
func staffParam(c echo.Context) (int64, error) {
	id, err := strconv.ParseInt(c.Param("staff"), 10, 64)
	if err != nil {
		return 0, errNotFound
	}
	return id, nil
}

// postClearing says whether an assistant may clear people to cut.
func (s *server) postClearing(c echo.Context) error {
	class := where(c).Class
	id, err := staffParam(c)
	if err != nil {
		return err
	}
	may := c.FormValue("may") == "yes"
	if err := s.store.SetMayClear(c.Request().Context(), class.ID, id, may); err != nil {
		return err
	}
	s.log.Info("leave to clear changed", "class", class.ID, "staff", who(c).Staff.ID, "assistant", id, "clears", may, "request", requestID(c))
	if may {
		s.say(c, "The assistant may now clear people to cut.")
	} else {
		s.say(c, "The assistant does not clear people to cut any more. What was cleared before still holds.")
	}
	return goTo(c, classHref(class)+"/people")
}

func (s *server) postRemovePerson(c echo.Context) error {
	class := where(c).Class
	id, err := staffParam(c)
	if err != nil {
		return err
	}
	err = s.store.RemovePerson(c.Request().Context(), class.ID, id)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{
			Status: http.StatusConflict, Heading: "A class needs an instructor",
			Sentence: "This is the last one. Make a link for another instructor first.",
			To:       classHref(class) + "/people", ToText: "back to the people",
		}
	}
	if err != nil {
		return err
	}
	s.log.Info("person removed", "class", class.ID, "staff", who(c).Staff.ID, "removed", id, "request", requestID(c))
	if id == who(c).Staff.ID {
		s.say(c, "You no longer teach in "+class.Name+".")
		return goTo(c, "/classes")
	}
	s.say(c, "This person no longer belongs to the class.")
	return goTo(c, classHref(class)+"/people")
}
