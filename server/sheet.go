package server

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
)

var sheetRoutes = []route{
	{http.MethodGet, "/classes/:class/sheets/:sheet", forSheetOwner, (*server).getSheet},
	{http.MethodPost, "/classes/:class/sheets/:sheet/ask", forSheetOwner, (*server).postAsk},
	{http.MethodPost, "/classes/:class/sheets/:sheet/unask", forSheetOwner, (*server).postUnask},
}

// sheetPage is a student's own sheet: the drawing, a field for each number,
// the blank, and the way to the instructor.
type sheetPage struct {
	Frame
	Base          string
	Heading, Lead string
	Next          *Link
	Sentence      string // why the numbers were not taken
	Ended         string // why leave to cut has ended
	Keys          []keyTold
	Parts         []sheetPart
	Givens        []shownGiven
	Measured      bool // the sizes are those of the wood as measured
	MayMeasure    bool
	Wood          int
	Key           string // of the press, not of the answers
	Send          sendBox
	Check         checkBox
	Turn          *turnBox
	Lesson        *Link
	Draft         string // name under which the browser keeps what is typed
	Received      string // key of the last press that arrived
	Shared        bool
}

// sendBox is the button and the way of the numbers.
type sendBox struct {
	Shut     string // why nothing can be sent
	Received string // what arrived last; "" before the first attempt
	Href     string // its result
	Left     string // how many attempts are left
	Attempt  int
}

// checkBox is the way to the instructor's check.
type checkBox struct {
	Heading, Says   string
	MayAsk, MayUndo bool
	Next            bool
}

func (s *server) getSheet(c echo.Context) error {
	d, err := s.desk(c)
	if err != nil {
		return err
	}
	page, err := s.sheetPage(c, d, d.lastTexts(), nil)
	if err != nil {
		return err
	}
	return s.show(c, "sheet", &page.Frame, &page)
}

// lastTexts are the numbers as they were last sent.
func (d desk) lastTexts() map[string]string {
	if d.last == nil {
		return map[string]string{}
	}
	return d.last.Answers
}

// sheetPage builds the page. texts stand in the fields; entries, if any, are
// how they were just read.
func (s *server) sheetPage(c echo.Context, d desk, texts map[string]string, entries map[string]entry) (sheetPage, error) {
	p := who(c)
	page := sheetPage{
		Frame: s.frame(c, fmt.Sprintf("Sheet %d: %s", d.sheet.No, d.assignment.Title)), Base: d.base(),
		Givens: shownGivens(d.exercise, d.sheet.Current(), d.units()), Measured: d.sheet.OnWood != nil,
		MayMeasure: len(woodOf(d.exercise)) > 0 && d.shut() == "", Wood: d.sheet.Wood, Key: newKey(),
		Send: d.sendBox(), Shared: p.Shared,
		Draft: fmt.Sprintf("arrisbook:%d:%d:%d", d.class.ID, d.sheet.StudentNo, d.sheet.No),
	}
	next := d.next(&page, entries)
	page.Check, page.Turn = d.checkBox(next < 0), d.turn()
	var err error
	if page.Parts, err = d.parts(d.fields(texts, entries, next)); err != nil {
		return page, err
	}
	page.Heading, page.Lead = d.heading()
	if ended := d.ended(); ended != nil {
		page.Ended = "Leave to cut has ended: " + *ended.RevokedWhy + stop(*ended.RevokedWhy)
	}
	if page.Keys, err = s.keysTold(c, d); err != nil {
		return page, err
	}
	if d.last != nil {
		page.Received = d.last.ClientKey
	}
	lesson, ok, err := s.lessonLink(c.Request().Context(), d.exercise)
	if err != nil {
		return page, err
	}
	if ok {
		page.Lesson, page.Rail[1] = &lesson, lesson
	}
	page.Script, page.Block = "sheet.js", d.block()
	return page, nil
}

// stop is the full stop where a text has none.
func stop(text string) string {
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "!") || strings.HasSuffix(text, "?") {
		return ""
	}
	return "."
}

// next finds the one next thing: the index of the number to work on, or -1
// where the next thing is something else or there is none.
// A number that cannot be read comes first.
func (d desk) next(page *sheetPage, entries map[string]entry) int {
	marks := d.marks()
	n := firstOpen(marks)
	unread := slices.IndexFunc(marks, func(m grading.StepResult) bool { return entries[m.ID].Fault != "" })
	switch {
	case d.shut() != "":
		return -1
	case unread >= 0:
		n = unread
	case d.clearance() != nil:
		return -1
	}
	switch {
	case n >= 0:
		step, _ := stepOf(d.exercise, marks[n].ID)
		page.Next = &Link{Text: fmt.Sprintf("number %d, %s", n+1, midName(step.Name)), Href: fmt.Sprintf("#n%d", n+1)}
	case d.sheet.AskedAt == nil:
		page.Next = &Link{Text: "ask for a check", Href: "#check"}
	}
	return n
}

// midName is a number's name inside a sentence: "tip depth", "V length".
func midName(name string) string {
	if len(name) > 1 && name[1] >= 'a' && name[1] <= 'z' {
		return strings.ToLower(name[:1]) + name[1:]
	}
	return name
}

// heading says how the sheet stands.
func (d desk) heading() (heading, lead string) {
	marks := d.marks()
	right, all := rightIn(marks), len(marks)
	title := d.assignment.Title
	switch cl := d.clearance(); {
	case cl != nil:
		return title + ": you may cut", fmt.Sprintf("Cleared by %s at %s, for exactly these numbers on this blank. Any change ends it.", cl.ByName, clock(cl.ClearedAt, d.now, d.zone))
	case d.stale():
		return title + ": the wood was measured", "The numbers sent before belong to the old sizes. Work them out on the new ones and send them again."
	case d.last == nil:
		return title + ": " + numbersWord(all) + " to set out", d.dueLead("Before anyone saws.")
	case d.sheet.AskedAt != nil:
		return title + ": you wait for a check", fmt.Sprintf("Place %d in the queue, asked at %s. Keep your wood and your tools at hand.", d.place, clock(*d.sheet.AskedAt, d.now, d.zone))
	case right == all:
		return title + ": all " + inWords(all) + " right", d.dueLead("Layout first: only the instructor clears you to cut.")
	}
	return title + ": " + ofAll(right, all) + " right", d.dueLead("")
}

// ofAll writes a share: in words, or in figures where the whole takes them.
func ofAll(n, all int) string {
	if all >= len(numberWords) {
		return fmt.Sprintf("%d of %d", n, all)
	}
	return inWords(n) + " of " + inWords(all)
}

func numbersWord(n int) string {
	if n == 1 {
		return "one number"
	}
	return inWords(n) + " numbers"
}

// dueLead adds the due time to a sentence.
func (d desk) dueLead(lead string) string {
	due := ""
	switch {
	case d.assignment.DueAt == nil:
	case d.now.Before(*d.assignment.DueAt):
		due = "Due " + onDay(*d.assignment.DueAt, d.now, d.zone) + "."
	default:
		due = "It was due " + onDay(*d.assignment.DueAt, d.now, d.zone) + "."
	}
	return strings.TrimSpace(lead + " " + due)
}

func (d desk) sendBox() sendBox {
	b := sendBox{Shut: d.shut(), Attempt: d.sheet.Attempts}
	if d.last != nil {
		b.Received = fmt.Sprintf("Attempt %d was received at %s.", d.last.No, clock(d.last.SentAt, d.now, d.zone))
		b.Href = fmt.Sprintf("%s/attempts/%d", d.base(), d.last.No)
	}
	if most := d.assignment.Attempts; most > 0 && b.Shut == "" {
		b.Left = fmt.Sprintf("%s of %d left.", count(most-d.sheet.Attempts, "attempt"), most)
	}
	return b
}

// checkBox offers the instructor's check where it makes sense.
func (d desk) checkBox(next bool) checkBox {
	all := inWords(len(d.sheet.Current().Steps))
	switch cl := d.clearance(); {
	case cl != nil:
		return checkBox{Heading: "May cut", Says: fmt.Sprintf("Cleared by %s at %s. The shop’s rules and your instructor have the last word at saw and bench.", cl.ByName, clock(cl.ClearedAt, d.now, d.zone))}
	case d.sheet.AskedAt != nil:
		return checkBox{Heading: fmt.Sprintf("Place %d in the queue", d.place), Says: "Lay your bevel and rule beside the wood. Only the instructor clears you to cut.", MayUndo: true}
	case d.ready():
		return checkBox{Heading: "Ready for a check", Says: "Ask, and your bench goes into the queue. Only the instructor clears you to cut.", MayAsk: true, Next: next && d.shut() == ""}
	}
	return checkBox{Heading: "All " + all + " right?", Says: "Then you can ask for a check here. Only the instructor clears you to cut."}
}

// complete sheets only.
func (d desk) notReady() string {
	switch {
	case d.last == nil:
		return "Nothing was sent yet."
	case d.stale():
		return "The wood was measured after the numbers were sent. Send them again first."
	case d.clearance() != nil:
		return "You are cleared already."
	case !d.ready():
		var open []string
		for i, m := range d.marks() {
			if m.Verdict != grading.Right && m.Verdict != grading.Near {
				open = append(open, fmt.Sprint(i+1))
			}
		}
		return "Not right yet: number " + list(open) + "."
	}
	return ""
}
