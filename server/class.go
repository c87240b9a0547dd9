package server

import (
	"context"
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var classRoutes = []route{
	{http.MethodGet, "/classes", forStaff, (*server).getClasses},
	{http.MethodGet, "/classes/new", forTeachers, (*server).getNewClass},
	{http.MethodPost, "/classes", forTeachers, (*server).postClass},
	{http.MethodGet, "/classes/:class", forClassStaff, (*server).getClass},
	{http.MethodGet, "/classes/:class/settings", forInstructors, (*server).getSettings},
	{http.MethodPost, "/classes/:class/settings", forInstructors, (*server).postSettings},
}

// classesPage lists the classes of one of the staff.
type classesPage struct {
	Frame
	Heading  string
	Classes  []classLine
	MayTeach bool
}

type classLine struct{ Name, Href, State string }

// classPage is the hub of one class.
type classPage struct {
	Frame
	Name, Lead  string
	ClassHref   string
	Enter       string // where students of this class type their codes
	EnterURL    string
	MayAssign   bool
	Instructor  bool
	Assignments []assignmentLine
	Next        *Link
	Roster      string
	Cards       string
	Clears      string // what an assistant may do; empty for instructors
}

// classFormPage makes a class or changes its settings.
type classFormPage struct {
	Frame
	Heading, Action, Button string
	Form                    classForm
}

// classFrame starts the frame of a page inside a class.
func (s *server) classFrame(c echo.Context, title string) Frame {
	f, class := s.frame(c, title), where(c).Class
	f.Rail = []Link{{Text: "Classes", Href: "/classes"}, {Text: "This class", Href: classHref(class)}, {Text: "Lessons", Href: "/lessons"}}
	for i, l := range f.Rail {
		f.Rail[i].Here = l.Href == c.Request().URL.Path
	}
	f.Block = []BlockField{{Label: "Class", Text: class.Name, Wide: true}, {Label: "Sheet", Text: title}}
	return f
}

func (s *server) getClasses(c echo.Context) error {
	p := who(c).Staff
	all, err := s.store.ClassesOf(c.Request().Context(), p.ID)
	if err != nil {
		return err
	}
	page := classesPage{Frame: s.frame(c, "Classes"), MayTeach: p.MayTeach}
	page.Rail = append(page.Rail, Link{Text: "My account", Href: "/me"})
	for _, l := range all {
		state := count(l.Students, "student")
		if l.Role == "assistant" {
			state += ", you assist"
		}
		page.Classes = append(page.Classes, classLine{l.Name, classHref(store.Class{ID: l.ID}), state})
	}
	page.Heading = upperFirst(counted(len(all), "class", "classes"))
	if len(all) == 0 {
		page.Heading = "No class yet"
	}
	return s.show(c, "classes", &page.Frame, &page)
}

// counted writes a small count as a word with its noun: "one class", "3 cards".
func counted(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return inWords(n) + " " + many
}

func (s *server) getClass(c echo.Context) error {
	at, ctx := where(c), c.Request().Context()
	students, err := s.store.Students(ctx, at.Class.ID)
	if err != nil {
		return err
	}
	page := classPage{
		Frame: s.classFrame(c, at.Class.Name), Name: at.Class.Name, ClassHref: classHref(at.Class),
		Enter: enterPath(at.Class.Code), EnterURL: s.publicURL(c) + enterPath(at.Class.Code),
		Instructor: at.Member.Role == "instructor",
	}
	page.MayAssign = page.Instructor && len(students) > 0
	page.Assignments, err = s.assignmentLines(ctx, at.Class)
	if err != nil {
		return err
	}
	page.fill(students, at.Member.MayClear)
	page.Block = append(page.Block[:1],
		BlockField{Label: "Class code", Text: groups(at.Class.Code)},
		BlockField{Label: "Students", Text: count(len(students), "student")},
		BlockField{Label: "Lengths", Text: unitWords(at.Class.Units)},
		BlockField{Label: "Time zone", Text: at.Class.Zone},
		BlockField{Label: "Tools are set to", Text: toolWords(at.Class), Wide: true},
		BlockField{Label: "Right numbers keep joints", Text: at.Class.FitWord, Wide: true})
	return s.show(c, "class", &page.Frame, &page)
}

// fill says how far the class is, and what comes next.
func (p *classPage) fill(students []store.Student, mayClear bool) {
	cards := 0
	for _, st := range students {
		if st.Card > 0 {
			cards++
		}
	}
	p.Roster = count(len(students), "student")
	p.Cards = cardsSay(cards, len(students))
	if !p.Instructor {
		p.Clears = "You assist here and do not clear people to cut."
		if mayClear {
			p.Clears = "You assist here and may clear people to cut."
		}
	}
	p.Lead = p.Roster + "."
	room := ""
	for _, a := range p.Assignments {
		if a.Running && a.Room != "" {
			room = a.Room
			break
		}
	}
	switch {
	case room != "" && len(students) > 0:
		p.Next = &Link{Text: "go into the room", Href: room}
	case !p.Instructor:
	case len(students) == 0:
		p.Lead = "Nobody stands on the roster yet."
		p.Next = &Link{Text: "write the roster", Href: p.ClassHref + "/roster"}
	case cards == 0:
		p.Lead = p.Roster + ", and nobody has a card to sign in with."
		p.Next = &Link{Text: "print the cards", Href: p.ClassHref + "/cards"}
	default:
		p.Next = &Link{Text: "assign an exercise", Href: p.ClassHref + "/assignments/new"}
	}
}

// cardsSay tells how many of a class have a card.
func cardsSay(with, all int) string {
	switch {
	case all == 0:
		return "for those on the roster"
	case with == 0:
		return "nobody has one yet"
	case with == all:
		return "everybody has one"
	}
	return count(all-with, "student") + " without one"
}

func (s *server) getNewClass(c echo.Context) error {
	settings := defaultSettings
	all, err := s.store.ClassesOf(c.Request().Context(), who(c).Staff.ID)
	if err != nil {
		return err
	}
	if len(all) > 0 {
		// The next class of a school lies where the last one does.
		settings.Zone = all[0].Zone
	}
	page := s.newClassPage(c, formOf(settings))
	return s.show(c, "classform", &page.Frame, &page)
}

func (s *server) newClassPage(c echo.Context, form classForm) classFormPage {
	return classFormPage{Frame: s.frame(c, "New class"), Heading: "A new class", Action: "/classes", Button: "Make the class", Form: form}
}

func (s *server) postClass(c echo.Context) error {
	form, settings, ok := readClassForm(c)
	if !ok {
		page := s.newClassPage(c, form)
		return s.render(c, http.StatusUnprocessableEntity, "classform", &page)
	}
	class, err := s.addClass(c.Request().Context(), settings, who(c).Staff.ID)
	if err != nil {
		return err
	}
	s.log.Info("class made", "class", class.ID, "staff", who(c).Staff.ID, "request", requestID(c))
	s.say(c, "The class is made.")
	return goTo(c, classHref(class))
}

// addClass makes a class under a code that no other class has.
func (s *server) addClass(ctx context.Context, settings store.ClassSettings, instructor int64) (store.Class, error) {
	class, err := s.store.AddClass(ctx, settings, newCode(classCodeLen), instructor, s.now())
	if errors.Is(err, store.ErrTaken) {
		return s.store.AddClass(ctx, settings, newCode(classCodeLen), instructor, s.now())
	}
	return class, err
}

func (s *server) getSettings(c echo.Context) error {
	page := s.settingsPage(c, formOf(settingsOf(where(c).Class)))
	return s.show(c, "classform", &page.Frame, &page)
}

func (s *server) settingsPage(c echo.Context, form classForm) classFormPage {
	return classFormPage{
		Frame: s.classFrame(c, "Settings"), Heading: "Settings of this class",
		Action: classHref(where(c).Class) + "/settings", Button: "Keep these settings", Form: form,
	}
}

func (s *server) postSettings(c echo.Context) error {
	class := where(c).Class
	form, settings, ok := readClassForm(c)
	if !ok {
		page := s.settingsPage(c, form)
		return s.render(c, http.StatusUnprocessableEntity, "classform", &page)
	}
	if err := s.store.SetClass(c.Request().Context(), class.ID, settings); err != nil {
		return err
	}
	s.log.Info("class changed", "class", class.ID, "staff", who(c).Staff.ID, "request", requestID(c))
	s.say(c, "The settings are kept. Sheets that are given out already stay as they are.")
	return goTo(c, classHref(class))
}
