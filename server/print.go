package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/server/paper"
	"arrisbook/server/store"
)

var printRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/:assignment/paper", forClassStaff, (*server).getPrint},
	{http.MethodPost, "/classes/:class/assignments/:assignment/paper", forClassStaff, (*server).postPrint},
	{http.MethodGet, "/classes/:class/assignments/:assignment/paper/pdf", forClassStaff, (*server).getPrinted},
	{http.MethodPost, "/classes/:class/assignments/:assignment/paper/stop", forClassStaff, (*server).postStopPrint},
	{http.MethodGet, "/classes/:class/sheets/:sheet/paper", forSheetOwner, (*server).getOwnPaper},
}

// printPage orders paper for a class, and shows how the PDF comes along.
type printPage struct {
	Frame
	Href, Heading, Lead string
	Instructor          bool
	SettingsHref        string
	Form                printForm
	Students            []studentChoice
	Hand                string // whose names are to be written by hand
	NobodyReaches       string // the address on the sheets, when no phone can follow it
	// Making is a PDF on its way, Made one that can be fetched.
	Making *printMaking
	Made   *printMade
	Failed string
	Next   bool // the form is the next thing
}

// printForm is what is wanted.
type printForm struct {
	Parts     []printPart
	Everybody bool
	Fault     string
	WhoFault  string
}

type printPart struct {
	Name, Label, Note string
	Chosen            bool
}

type printMaking struct{ Done, Of int }

type printMade struct{ Href, Size string }

// printParts are the parts of a PDF with their boxes.
func printParts(p printing, chosen paper.Parts) []printPart {
	all, may := len(p.rows), p.templates()
	note := "full size, to glue to the wood: only where the key is released or the student is cleared, which is nobody yet"
	switch {
	case p.exercise.Family == nil:
		note = "this exercise has no joint to make one of"
	case may == all:
		note = "full size, to glue to the wood"
	case may > 0:
		note = fmt.Sprintf("full size, to glue to the wood: only where the key is released or the student is cleared, %d of %d", may, all)
	}
	return []printPart{
		{"sheets", "Sheets", "one for each student, with fields to write in", chosen.Sheets},
		{"templates", "Templates", note, chosen.Templates},
		{"key", "The key", "for you: everybody’s right numbers", chosen.Key},
		{"overview", "The class on one page", "for the walk round: who stands where", chosen.Overview},
	}
}

// readPrintForm takes the order out of the form.
func readPrintForm(c echo.Context, p printing) (printForm, paper.Parts, []int) {
	has := func(name string) bool { return c.FormValue(name) != "" }
	parts := paper.Parts{Sheets: has("sheets"), Templates: has("templates"), Key: has("key"), Overview: has("overview")}
	f := printForm{Parts: printParts(p, parts), Everybody: c.FormValue("who") != "chosen"}
	if parts == (paper.Parts{}) {
		f.Fault = "Choose at least one part."
	}
	if f.Everybody {
		return f, parts, nil
	}
	var students []int
	params, err := c.FormParams()
	for _, text := range params["student"] {
		no, bad := strconv.Atoi(text)
		if err == nil && bad == nil && slices.ContainsFunc(p.rows, func(r store.RoomRow) bool { return r.StudentNo == no }) {
			students = append(students, no)
		}
	}
	if len(students) == 0 {
		f.WhoFault = "Choose at least one student."
	}
	return f, parts, students
}

// loadPrinting loads what the address is about.
func (s *server) loadPrinting(c echo.Context) (printing, error) {
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return printing{}, err
	}
	return s.printing(c.Request().Context(), where(c).Class, a, ex, s.publicURL(c))
}

func (s *server) getPrint(c echo.Context) error {
	p, err := s.loadPrinting(c)
	if err != nil {
		return err
	}
	form := printForm{Parts: printParts(p, paper.Parts{Sheets: true}), Everybody: true}
	page := s.printPage(c, p, form, nil)
	if page.Making != nil {
		// Without a script the page looks again by itself; there is nothing on it
		// that looking again would lose.
		c.Response().Header().Set("Refresh", "1")
	}
	return s.show(c, "print", &page.Frame, &page)
}

func (s *server) printPage(c echo.Context, p printing, f printForm, chosen []int) printPage {
	class := p.class
	page := printPage{
		Frame: s.frame(c, "Paper: "+p.assignment.Title), Href: printHref(class, p.assignment.No), Form: f,
		Instructor: where(c).Member.Role == "instructor", SettingsHref: classHref(class) + "/settings",
		Heading: upperFirst(counted(len(p.rows), "sheet", "sheets")) + " to print",
		Lead:    fmt.Sprintf("%s, by bench, on %s paper.", p.assignment.Title, paperClass(class).Paper.Name),
		Hand:    list(p.unprintable()), NobodyReaches: s.nobodyReaches(c),
	}
	page.Rail = roomRail(class, p.assignment, "paper")
	page.Block = []BlockField{{Label: "Class", Text: class.Name, Wide: true}, {Label: "Exercise", Text: p.assignment.Title, Wide: true}, {Label: "Paper", Text: paperClass(class).Paper.Name}}
	for _, r := range p.rows {
		page.Students = append(page.Students, studentChoice{No: r.StudentNo, Bench: r.Bench, Name: r.Name, Chosen: slices.Contains(chosen, r.StudentNo)})
	}
	if len(p.rows) == 0 {
		page.Heading, page.Lead = "Nobody has a sheet to print", p.assignment.Title+"."
	}
	page.progress(s.prints.of(who(c).Staff.ID, printPlace{class.ID, p.assignment.No}))
	page.Next = page.Making == nil && page.Made == nil && len(p.rows) > 0
	return page
}

func printHref(class store.Class, assignment int) string {
	return assignmentHref(class, assignment) + "/paper"
}

// progress says how far an order of the reader's own is.
func (page *printPage) progress(state printState, ordered bool) {
	switch {
	case !ordered:
	case !state.Ended:
		page.Making = &printMaking{state.Done, state.Of}
		page.Heading = fmt.Sprintf("%d of %s set", state.Done, count(state.Of, "sheet"))
	case state.Err == nil:
		page.Made = &printMade{Href: page.Href + "/pdf", Size: fileSize(len(state.PDF))}
		page.Heading = "The PDF is ready"
		page.Lead = "It can be fetched here for a quarter of an hour, by you only."
	case errors.Is(state.Err, paper.ErrNothing):
		page.Failed = "There was nothing to print: of those you chose, nobody may have a template yet."
	case !errors.Is(state.Err, context.Canceled):
		page.Failed = "The PDF could not be made. What went wrong is written down; try once more, or leave one student out."
	}
}

// fileSize tells a size as people do.
func fileSize(bytes int) string {
	if bytes < 1e6 {
		return fmt.Sprintf("%d kB", max(1, (bytes+500)/1000))
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
}

func (s *server) postPrint(c echo.Context) error {
	p, err := s.loadPrinting(c)
	if err != nil {
		return err
	}
	form, parts, students := readPrintForm(c, p)
	if form.Fault != "" || form.WhoFault != "" {
		page := s.printPage(c, p, form, students)
		return s.render(c, http.StatusUnprocessableEntity, "print", &page)
	}
	order, err := p.order(parts, students)
	if err != nil {
		return err
	}
	staff := who(c).Staff.ID
	job := s.prints.start(staff, printPlace{p.class.ID, p.assignment.No}, order)
	go s.logPrinted(job, staff)
	return goTo(c, printHref(p.class, p.assignment.No))
}

// logPrinted writes down what became of an order.
func (s *server) logPrinted(j *printJob, staff int64) {
	<-j.ended
	state := j.state()
	at := []any{"class", j.place.Class, "assignment", j.place.Assignment, "staff", staff}
	if state.Err != nil && !errors.Is(state.Err, context.Canceled) && !errors.Is(state.Err, paper.ErrNothing) {
		s.log.Error("print failed", append(at, "error", state.Err)...)
		return
	}
	s.log.Info("printed", append(at, "sheets", state.Of, "bytes", len(state.PDF), "stopped", state.Err != nil)...)
}

// getPrinted gives the PDF that was made for the reader.
func (s *server) getPrinted(c echo.Context) error {
	no, err := number(c, "assignment")
	if err != nil {
		return err
	}
	class := where(c).Class
	state, ok := s.prints.of(who(c).Staff.ID, printPlace{class.ID, no})
	if !ok || len(state.PDF) == 0 {
		return errNotFound
	}
	return sendPDF(c, fmt.Sprintf("class-%d-assignment-%d.pdf", class.ID, no), state.PDF)
}

// sendPDF sends a file to keep: readers inside browsers are plug-ins to some,
// and the policy of these pages allows none.
func sendPDF(c echo.Context, name string, pdf []byte) error {
	c.Response().Header().Set(echo.HeaderContentDisposition, `attachment; filename="`+name+`"`)
	return c.Blob(http.StatusOK, "application/pdf", pdf)
}

func (s *server) postStopPrint(c echo.Context) error {
	a, _, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	if s.prints.drop(who(c).Staff.ID, printPlace{class.ID, a.No}) {
		s.say(c, "Stopped. Nothing is kept of it.")
	}
	return goTo(c, printHref(class, a.No))
}

// getOwnPaper gives a student the own sheet to print, with its templates where
// those may be seen.
func (s *server) getOwnPaper(c echo.Context) error {
	d, err := s.desk(c)
	if err != nil {
		return err
	}
	p, err := s.printing(c.Request().Context(), d.class, d.assignment, d.exercise, s.publicURL(c))
	if err != nil {
		return err
	}
	p.rows = slices.DeleteFunc(p.rows, func(r store.RoomRow) bool { return r.SheetNo != d.sheet.No })
	order, err := p.order(paper.Parts{Sheets: true, Templates: true}, nil)
	if err != nil {
		return err
	}
	pdf, err := paper.Compose(c.Request().Context(), order, nil)
	if err != nil {
		return err
	}
	return sendPDF(c, fmt.Sprintf("sheet-%d.pdf", d.sheet.No), pdf)
}
