package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/server/store"
)

var typedRoutes = []route{
	{http.MethodGet, "/p/:code", forAnybody, (*server).getCode},
	{http.MethodGet, "/classes/:class/typed", forClassStaff, (*server).getTyped},
	{http.MethodGet, "/classes/:class/sheets/:sheet/typed", forClassStaff, (*server).getTypedSheet},
	{http.MethodPost, "/classes/:class/sheets/:sheet/typed", forClassStaff, (*server).postTyped},
	{http.MethodPost, "/classes/:class/sheets/:sheet/typed/check", forClassStaff, (*server).postTypedCheck},
	{http.MethodPost, "/classes/:class/sheets/:sheet/typed/readings", forClassStaff, (*server).postTypedReadings},
	{http.MethodPost, "/classes/:class/sheets/:sheet/typed/takeback", forClassStaff, (*server).postTypedBack},
}

// typedPage is where the staff type in what students wrote on paper: a sheet's
// code, its numbers, the next code.
type typedPage struct {
	Frame
	Base  string // address of the class
	Code  string // as typed
	Fault string // why no sheet has it
	Sheet *typedSheet
	Typed []typedLine // within the time in which it can be taken back
}

// typedSheet is the sheet whose numbers are typed in.
type typedSheet struct {
	Base, Who, Title string
	Key              string // of the press
	Wood, Attempt    int
	Sentence         string // why the numbers were not taken
	Shut             string // why none can be typed
	Draft, Received  string
	Fields           []numberField
	Send             sendBox
}

// typedLine is one attempt of the list.
type typedLine struct {
	Sheet, Attempt int
	Who, Says      string
	Href           string // where to take it back; "" where that cannot be
	Why            string // why not
}

// getCode follows the square on a printed sheet: to the fields for the staff,
// to the sheet for its student. Whoever is not signed in is asked first.
func (s *server) getCode(c echo.Context) error {
	class, sheet, ok := readSheetCode(c.Param("code"))
	if !ok {
		return errNotFound
	}
	sheetHref := fmt.Sprintf("/classes/%d/sheets/%d", class, sheet)
	switch p := who(c); {
	case p.Staff != nil:
		return goTo(c, sheetHref+"/typed")
	case p.Student != nil:
		return goTo(c, sheetHref)
	}
	return s.strangerError(c, "/signin")
}

// getTyped asks for a code, and leads to the sheet that has it.
func (s *server) getTyped(c echo.Context) error {
	page, err := s.typedPage(c)
	if err != nil {
		return err
	}
	if page.Code = strings.TrimSpace(c.QueryParam("code")); page.Code == "" {
		return s.show(c, "typed", &page.Frame, &page)
	}
	class, sheet, ok := readSheetCode(page.Code)
	switch {
	case !ok:
		page.Fault = "No sheet has this code. It stands beside the square, foot of the sheet; a letter may be misread."
	case class != where(c).Class.ID:
		page.Fault = "This code belongs to a sheet of another class."
	default:
		_, err := s.store.Sheet(c.Request().Context(), class, sheet)
		if err == nil {
			return goTo(c, fmt.Sprintf("%s/sheets/%d/typed", page.Base, sheet))
		}
		if !errors.Is(err, store.ErrNotFound) {
			return err
		}
		page.Fault = "No sheet of this class has this code."
	}
	return s.render(c, http.StatusUnprocessableEntity, "typed", &page)
}

func (s *server) getTypedSheet(c echo.Context) error {
	d, err := s.paperDesk(c)
	if err != nil {
		return err
	}
	page, err := s.typedSheetPage(c, d, map[string]string{}, nil)
	if err != nil {
		return err
	}
	return s.show(c, "typed", &page.Frame, &page)
}

// paperDesk is the sheet of the address, for the staff.
func (s *server) paperDesk(c echo.Context) (desk, error) {
	d, err := s.desk(c)
	if errors.Is(err, errWithdrawn) {
		return d, &statusError{Status: http.StatusNotFound, Heading: "This sheet was withdrawn",
			Sentence: "Give its assignment out again first; then its paper can be typed in.", To: classHref(d.class), ToText: "to the class"}
	}
	return d, err
}

// typedPage is the page without a sheet.
func (s *server) typedPage(c echo.Context) (typedPage, error) {
	class := where(c).Class
	page := typedPage{Frame: s.frame(c, "Paper answers"), Base: classHref(class)}
	page.Rail = []Link{{Text: "Class", Href: page.Base}, {Text: "Paper answers", Href: page.Base + "/typed", Here: true}}
	page.Block = []BlockField{{Label: "Class", Text: class.Name, Wide: true}}
	now, zone := s.now(), zoneOf(class)
	typed, err := s.store.TypedSince(c.Request().Context(), class.ID, now.Add(-undoFor))
	if err != nil {
		return page, err
	}
	for _, t := range typed {
		page.Typed = append(page.Typed, typedLineOf(t, page.Base, now, zone))
	}
	return page, nil
}

func typedLineOf(t store.Typed, base string, now time.Time, zone *time.Location) typedLine {
	l := typedLine{
		Sheet: t.SheetNo, Attempt: t.No, Who: fmt.Sprintf("Bench %d, %s: %s", t.Bench, shortName(t.Student), t.Title),
		Says: fmt.Sprintf("attempt %d, %d of %d right or following, typed in by %s at %s", t.No, t.Score, t.OutOf, t.ByName, clock(t.At, now, zone)),
	}
	switch {
	case t.Cleared:
		l.Why = "Leave to cut was given on these numbers, so they stay."
	case !t.Newest:
		l.Why = "Something was sent on this sheet since, so these stay."
	default:
		l.Href = fmt.Sprintf("%s/sheets/%d/typed/takeback", base, t.SheetNo)
	}
	return l
}

// fromPaper says who typed an attempt in; "" where the student sent it.
func fromPaper(a store.Attempt) string {
	if a.TypedBy == nil {
		return ""
	}
	return " from paper, typed in by " + *a.TypedBy
}

// typedSheetPage is the page with the fields of a sheet.
func (s *server) typedSheetPage(c echo.Context, d desk, texts map[string]string, entries map[string]entry) (typedPage, error) {
	page, err := s.typedPage(c)
	if err != nil {
		return page, err
	}
	sheet := &typedSheet{
		Base: d.base() + "/typed", Title: d.assignment.Title, Key: newKey(), Wood: d.sheet.Wood,
		Who:   fmt.Sprintf("Bench %d, %s", d.sheet.Bench, d.sheet.StudentName),
		Shut:  numbersForm{Paper: true}.shut(d.assignment, d.sheet.Attempts, d.now),
		Draft: fmt.Sprintf("arrisbook:typed:%d:%d", d.class.ID, d.sheet.No), Attempt: d.sheet.Attempts + 1,
	}
	if d.last != nil {
		sheet.Received = d.last.ClientKey
	}
	for i, st := range d.sheet.Current().Steps {
		step, _ := stepOf(d.exercise, st.ID)
		f := numberField{
			Number: i + 1, ID: st.ID, Field: fieldOf(st.ID), From: step.From, Text: texts[st.ID],
			Label:   step.Name + ", " + unitWord(step.Unit, d.units()),
			Verdict: string(grading.Blank), Focus: i == 0, Frozen: sheet.Shut != "",
		}
		if f.Text != "" {
			f.Verdict = "not sent"
		}
		if e, ok := entries[st.ID]; ok {
			f.justRead(e)
		}
		sheet.Fields = append(sheet.Fields, f)
	}
	page.Sheet, page.Script = sheet, "sheet.js"
	page.Block = append(page.Block, BlockField{Label: "Sheet", Text: strconv.Itoa(d.sheet.No)},
		BlockField{Label: "Blank", Text: blankText(d.exercise, d.sheet.Current(), d.units())})
	return page, nil
}
