package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var rosterRoutes = []route{
	{http.MethodGet, "/classes/:class/roster", forInstructors, (*server).getRoster},
	{http.MethodPost, "/classes/:class/roster", forInstructors, (*server).postRoster},
	{http.MethodPost, "/classes/:class/roster/preview", forInstructors, (*server).postRosterPreview},
	{http.MethodPost, "/classes/:class/roster/add", forInstructors, (*server).postRosterAdd},
	{http.MethodPost, "/classes/:class/roster/undo/:import", forInstructors, (*server).postRosterUndo},
}

// undoFor is how long an adding of names can be taken back.
const undoFor = 24 * time.Hour

// rosterPage shows the roster and takes names.
type rosterPage struct {
	Frame
	Heading, Lead string
	Next          *Link
	Href, Cards   string
	Students      []studentLine
	Removed       []studentLine
	Undo          []undoLine
	Name, Bench   Field
	List          string
	ListFault     string
}

type studentLine struct {
	Bench      int
	Name, Href string
	NoCard     bool // told only where others have one
}

type undoLine struct{ Says, Action, Button string }

// rosterPreviewPage says what a list would do.
type rosterPreviewPage struct {
	Frame
	Heading string
	Href    string
	Plan    rosterPlan
	List    string
	// Print names the plan, so that what is confirmed is what was seen.
	Print   string
	Changed bool
}

func (s *server) rosterPage(c echo.Context) (rosterPage, error) {
	class, ctx := where(c).Class, c.Request().Context()
	page := rosterPage{
		Frame: s.classFrame(c, "Roster"), Href: classHref(class) + "/roster", Cards: classHref(class) + "/cards",
		Name:  Field{Name: "name", Label: "Name", Auto: "off"},
		Bench: Field{Name: "bench", Label: "Bench", Note: "empty: the next free one", Class: "num", Auto: "off", Mode: "numeric"},
	}
	students, err := s.store.Students(ctx, class.ID)
	if err != nil {
		return page, err
	}
	removed, err := s.store.RemovedStudents(ctx, class.ID)
	if err != nil {
		return page, err
	}
	page.Students, page.Removed = studentLines(class, students), studentLines(class, removed)
	page.Undo, err = s.undoLines(ctx, class)
	page.say(students)
	return page, err
}

func (p *rosterPage) say(students []store.Student) {
	p.Heading = upperFirst(counted(len(students), "student", "students"))
	if len(students) == 0 {
		p.Heading = "Nobody is on the roster yet"
		p.Lead = "Paste a list, or write one name after the other."
		p.Next = &Link{Text: "paste the list", Href: "#many"}
		return
	}
	cards := 0
	for _, st := range students {
		if st.Card > 0 {
			cards++
		}
	}
	p.Lead = "In bench order. Cards: " + cardsSay(cards, len(students)) + "."
	if cards == 0 {
		p.Next = &Link{Text: "print the cards", Href: p.Cards}
	}
}

func studentLines(class store.Class, students []store.Student) []studentLine {
	lines := make([]studentLine, len(students))
	some := slices.ContainsFunc(students, func(st store.Student) bool { return st.Card > 0 })
	for i, st := range students {
		lines[i] = studentLine{st.Bench, st.Name, studentHref(class, st.No), some && st.Card == 0}
	}
	return lines
}

func studentHref(class store.Class, no int) string {
	return fmt.Sprintf("%s/students/%d", classHref(class), no)
}

// undoLines offer to take back what was added in the last day.
func (s *server) undoLines(ctx context.Context, class store.Class) ([]undoLine, error) {
	imports, err := s.store.Imports(ctx, class.ID, s.now().Add(-undoFor))
	if err != nil {
		return nil, err
	}
	var lines []undoLine
	zone := zoneOf(class)
	for _, i := range imports {
		if i.Left == 0 {
			continue
		}
		lines = append(lines, undoLine{
			Says: fmt.Sprintf("%s added %s, %s. This can be taken back until %s.", i.ByName, count(i.Added, "name"),
				clock(i.AddedAt, s.now(), zone), clock(i.AddedAt.Add(undoFor), s.now(), zone)),
			Action: fmt.Sprintf("%s/roster/undo/%d", classHref(class), i.No),
			Button: "Take back " + theseNames(i.Left),
		})
	}
	return lines, nil
}

func theseNames(n int) string {
	if n == 1 {
		return "this name"
	}
	return fmt.Sprintf("these %d names", n)
}

func (s *server) getRoster(c echo.Context) error {
	page, err := s.rosterPage(c)
	if err != nil {
		return err
	}
	return s.show(c, "roster", &page.Frame, &page)
}

// postRoster adds the one name that was typed.
func (s *server) postRoster(c echo.Context) error {
	name, bench := tidyName(c.FormValue("name")), c.FormValue("bench")
	row := rosterRow{Line: 1, Name: name, Fault: nameFault(name)}
	benchFault := ""
	if bench != "" {
		row.Bench, benchFault = readBench(bench)
	}
	var added plannedStudent
	decide := func(roster []store.Student) ([]store.NewStudent, error) {
		plan := planRoster(rosterList{Rows: []rosterRow{row}}, roster)
		if len(plan.Add) == 0 {
			return nil, &refusedRow{plan.Ignored[0].Fault}
		}
		added = plan.Add[0]
		return newStudents(plan), nil
	}
	var err error
	if row.Fault != "" || benchFault != "" {
		err = &refusedRow{row.Fault}
	} else {
		err = s.addStudents(c, decide)
	}
	if refused, ok := errors.AsType[*refusedRow](err); ok {
		page, err := s.rosterPage(c)
		if err != nil {
			return err
		}
		page.Name.Value, page.Bench.Value = c.FormValue("name"), bench
		page.Name.Fault, page.Bench.Fault = refused.why, benchFault
		faulty(&page.Name, &page.Bench)
		return s.render(c, http.StatusUnprocessableEntity, "roster", &page)
	}
	if err != nil {
		return err
	}
	said := fmt.Sprintf("%s is on the roster, at bench %d.", added.Name, added.Bench)
	if added.Note != "" {
		said += " " + added.Note + "."
	}
	s.say(c, said)
	return goTo(c, classHref(where(c).Class)+"/roster#one")
}

// refusedRow says why a single name was not added.
type refusedRow struct{ why string }

func (e *refusedRow) Error() string { return "name refused" }

func newStudents(plan rosterPlan) []store.NewStudent {
	add := make([]store.NewStudent, len(plan.Add))
	for i, st := range plan.Add {
		add[i] = store.NewStudent{Name: st.Name, Bench: st.Bench}
	}
	return add
}

func (s *server) addStudents(c echo.Context, decide func([]store.Student) ([]store.NewStudent, error)) error {
	class, by := where(c).Class, who(c).Staff.ID
	no, err := s.store.AddStudents(c.Request().Context(), class.ID, by, s.now(), decide)
	if err == nil {
		s.log.Info("roster added to", "class", class.ID, "staff", by, "import", no, "request", requestID(c))
	}
	return err
}

// postRosterPreview shows what a pasted list would do; nothing is added yet.
func (s *server) postRosterPreview(c echo.Context) error {
	text := c.FormValue("list")
	if len(readRosterList(text).Rows) == 0 {
		page, err := s.rosterPage(c)
		if err != nil {
			return err
		}
		page.List, page.ListFault = text, "Nobody stands in this list. Write one student a line: the name, and a comma and the bench if you like."
		return s.render(c, http.StatusUnprocessableEntity, "roster", &page)
	}
	return s.showPreview(c, http.StatusOK, false)
}

func (s *server) showPreview(c echo.Context, status int, changed bool) error {
	class, text := where(c).Class, c.FormValue("list")
	roster, err := s.store.Students(c.Request().Context(), class.ID)
	if err != nil {
		return err
	}
	plan := planRoster(readRosterList(text), roster)
	page := rosterPreviewPage{
		Frame: s.classFrame(c, "Look before adding"), Href: classHref(class) + "/roster",
		Plan: plan, List: text, Print: plan.print(), Changed: changed,
	}
	page.Heading = previewHeading(len(plan.Add), len(plan.Ignored))
	return s.render(c, status, "rosterpreview", &page)
}

func previewHeading(add, ignored int) string {
	heading := "Nobody would be added"
	if add > 0 {
		heading = upperFirst(counted(add, "student", "students")) + " would be added"
	}
	if ignored > 0 {
		heading += ", " + counted(ignored, "line", "lines") + " left out"
	}
	return heading
}

// print is a short name of a plan that two different plans do not share.
func (p rosterPlan) print() string {
	text, err := json.Marshal(p.Add)
	if err != nil {
		panic(err) // numbers and texts only
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:12])
}

// postRosterAdd adds what the preview showed, and nothing else: when the
// roster has changed since, it shows the preview again.
func (s *server) postRosterAdd(c echo.Context) error {
	parsed, print := readRosterList(c.FormValue("list")), c.FormValue("print")
	added := 0
	err := s.addStudents(c, func(roster []store.Student) ([]store.NewStudent, error) {
		plan := planRoster(parsed, roster)
		if plan.print() != print || len(plan.Add) == 0 {
			return nil, store.ErrChanged
		}
		added = len(plan.Add)
		return newStudents(plan), nil
	})
	if errors.Is(err, store.ErrChanged) {
		return s.showPreview(c, http.StatusConflict, true)
	}
	if err != nil {
		return err
	}
	s.say(c, upperFirst(counted(added, "student is", "students are"))+" on the roster now. You can take that back for 24 hours.")
	return goTo(c, classHref(where(c).Class)+"/roster")
}

func (s *server) postRosterUndo(c echo.Context) error {
	class := where(c).Class
	no, err := number(c, "import")
	if err != nil {
		return err
	}
	now := s.now()
	removed, err := s.store.UndoImport(c.Request().Context(), class.ID, no, now.Add(-undoFor), now)
	if errors.Is(err, store.ErrNotFound) {
		return &statusError{
			Status: http.StatusConflict, Heading: "That cannot be taken back any more",
			Sentence: "It is taken back already, or more than 24 hours have passed. Single names can still be removed.",
			To:       classHref(class) + "/roster", ToText: "back to the roster",
		}
	}
	if err != nil {
		return err
	}
	s.log.Info("roster import undone", "class", class.ID, "staff", who(c).Staff.ID, "import", no, "removed", removed, "request", requestID(c))
	s.say(c, upperFirst(counted(removed, "name is", "names are"))+" off the roster again.")
	return goTo(c, classHref(class)+"/roster")
}
