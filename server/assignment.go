package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

var assignmentRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/new", forInstructors, (*server).getNewAssignment},
	{http.MethodPost, "/classes/:class/assignments/new", forInstructors, (*server).postNewAssignment},
	{http.MethodGet, "/classes/:class/assignments/:assignment", forClassStaff, (*server).getAssignment},
	{http.MethodPost, "/classes/:class/assignments/:assignment/terms", forInstructors, (*server).postTerms},
	{http.MethodPost, "/classes/:class/assignments/:assignment/missing", forInstructors, (*server).postMissing},
}

// newAssignmentPage gives an exercise to a class.
type newAssignmentPage struct {
	Frame
	Base, Zone string
	Exercises  []exerciseChoice
	Students   []studentChoice
	Form       assignmentForm
	Fault      string // of the whole form
}

type exerciseChoice struct{ ID, Title, Asks, Lesson string }

type studentChoice struct {
	No, Bench int
	Name      string
	Chosen    bool
}

// assignmentPage is one assignment as the staff see it.
type assignmentPage struct {
	Frame
	Heading, Lead string
	Href, Zone    string
	Opens         string
	Instructor    bool
	Withdrawn     bool
	Due           string // "" when there is none
	Lines         []roomLine
	Base          string
	Without       []string // names of those who have no sheet
	Terms         termsForm
	Key           keyState
	Notes         []noteLine
	Next          string // "missing", "room" or ""
}

// keyState says whether the key is out, and what can be done about it.
type keyState struct {
	Says         string
	ByHand       bool // released by hand, so it can be taken back
	Out          bool // everybody sees it
	Note         string
	Fault        string
	ReleaseFault string
}

type noteLine struct{ Text, Note, At string }

func (s *server) getNewAssignment(c echo.Context) error {
	class := where(c).Class
	students, err := s.store.StudentsWithout(c.Request().Context(), class.ID, 0)
	if err != nil {
		return err
	}
	f := assignmentForm{Who: "all", Terms: termsForm{Attempts: "0", Release: store.ReleaseByHand}}
	lib, err := s.library(c.Request().Context())
	if err != nil {
		return err
	}
	if all := exercisesOf(lib); len(all) == 1 {
		f.Exercise = all[0].ID
	}
	if id := c.QueryParam("exercise"); id != "" {
		f.Exercise = id
	}
	page := s.newAssignmentPage(c, lib, students, f)
	return s.show(c, "newassignment", &page.Frame, &page)
}

func (s *server) newAssignmentPage(c echo.Context, lib *lessons.Library, students []store.Student, f assignmentForm) newAssignmentPage {
	class := where(c).Class
	page := newAssignmentPage{Frame: s.frame(c, "Assign an exercise"), Base: classHref(class), Zone: class.Zone, Form: f}
	page.Rail = classRail(class)
	page.Block = []BlockField{{Label: "Class", Text: class.Name, Wide: true}, {Label: "Time zone", Text: class.Zone, Wide: true}}
	for _, ex := range exercisesOf(lib) {
		choice := exerciseChoice{ID: ex.ID, Title: ex.Title, Asks: count(len(ex.Steps), "number") + " to set out"}
		if m, ok := lib.Module(ex.Module); ok {
			choice.Lesson = m.Title
		}
		page.Exercises = append(page.Exercises, choice)
	}
	for _, st := range students {
		page.Students = append(page.Students, studentChoice{No: st.No, Bench: st.Bench, Name: st.Name, Chosen: f.Chosen[st.No]})
	}
	return page
}

// exercisesOf are those that can be given out, in teaching order.
func exercisesOf(lib *lessons.Library) []*grading.Exercise {
	var all []*grading.Exercise
	for _, m := range lib.Modules {
		all = append(all, m.Exercises...)
	}
	return all
}

func (s *server) postNewAssignment(c echo.Context) error {
	class, ctx := where(c).Class, c.Request().Context()
	values, err := c.FormParams()
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	students, err := s.store.StudentsWithout(ctx, class.ID, 0)
	if err != nil {
		return err
	}
	lib, err := s.library(ctx)
	if err != nil {
		return err
	}
	f, plan, ok := parseAssignment(values, students, exercisesOf(lib), zoneOf(class), s.now())
	page := s.newAssignmentPage(c, lib, students, f)
	if !ok {
		page.Fault = "Nothing was given out yet. Look at the marked fields."
		return s.render(c, http.StatusUnprocessableEntity, "newassignment", &page)
	}
	no, err := s.assign(ctx, class, plan, who(c).Staff.ID)
	if page.Fault = assignFault(err); page.Fault != "" {
		return s.render(c, http.StatusUnprocessableEntity, "newassignment", &page)
	}
	if err != nil {
		return err
	}
	s.log.Info("assigned", "class", class.ID, "assignment", no, "sheets", len(plan.students), "by", who(c).Staff.ID)
	s.say(c, fmt.Sprintf("%s given out, each with a blank of its own.", upperFirst(count(len(plan.students), "sheet"))))
	return goTo(c, assignmentHref(class, no))
}

// assignFault is the sentence for what can go wrong with a well-filled form.
func assignFault(err error) string {
	var none *grading.NoBlankError
	switch {
	case errors.Is(err, errTooFewBlanks), errors.As(err, &none):
		return "This exercise cannot make a different blank for everybody in your units. Give it to fewer students, or choose another."
	case errors.Is(err, store.ErrChanged):
		return "The roster changed while you filled in the form. Look at the students once more and send again."
	}
	return ""
}

// assign writes the exercise down, draws the sheets and hands them out.
func (s *server) assign(ctx context.Context, class store.Class, p assignmentPlan, by int64) (int, error) {
	ex, err := s.keepExercise(ctx, p.exercise)
	if err != nil {
		return 0, err
	}
	sheets, err := issue(ex, p.students, nil, shopOf(class), newSeed)
	if err != nil {
		return 0, err
	}
	return s.store.CreateAssignment(ctx, store.Assignment{
		ClassID: class.ID, Exercise: ex.ID, Version: ex.Version, Title: p.title, OpensAt: p.opens,
		DueAt: p.terms.DueAt, Attempts: p.terms.Attempts, Release: p.terms.Release, CreatedBy: by, CreatedAt: s.now(),
	}, sheets)
}

func assignmentHref(class store.Class, no int) string {
	return fmt.Sprintf("%s/assignments/%d", classHref(class), no)
}

// classRail leads back to a class from a page that belongs to it.
func classRail(class store.Class) []Link {
	return []Link{{Text: "Classes", Href: "/classes"}, {Text: "Class", Href: classHref(class)}, {Text: "Lessons", Href: "/lessons"}}
}

func (s *server) getAssignment(c echo.Context) error {
	page, err := s.assignmentPage(c)
	if err != nil {
		return err
	}
	return s.show(c, "assignment", &page.Frame, &page)
}

// assignmentPage loads everything about the assignment of the address.
func (s *server) assignmentPage(c echo.Context) (assignmentPage, error) {
	sc, ctx := where(c), c.Request().Context()
	zone := zoneOf(sc.Class)
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return assignmentPage{}, err
	}
	rows, err := s.store.Room(ctx, sc.Class.ID, a.No)
	if err != nil {
		return assignmentPage{}, err
	}
	without, err := s.store.StudentsWithout(ctx, sc.Class.ID, a.No)
	if err != nil {
		return assignmentPage{}, err
	}
	notes, err := s.store.AssignmentNotes(ctx, sc.Class.ID, a.No)
	if err != nil {
		return assignmentPage{}, err
	}
	page := assignmentPage{
		Frame: s.frame(c, a.Title), Href: assignmentHref(sc.Class, a.No), Base: classHref(sc.Class), Zone: sc.Class.Zone,
		Instructor: sc.Member.Role == "instructor", Withdrawn: a.WithdrawnAt != nil,
		Opens: when(a.OpensAt, zone), Lines: arrange(seats(rows, ex, who(c).Staff.ID), zone),
		Terms: termsFormOf(a, zone), Key: keyStateOf(a, zone, s.now()), Notes: noteLines(notes, zone),
	}
	if a.DueAt != nil {
		page.Due = when(*a.DueAt, zone)
	}
	for _, st := range without {
		page.Without = append(page.Without, shortName(st.Name))
	}
	page.head(a, s.now())
	page.Rail = roomRail(sc.Class, a, "assignment")
	page.Block = []BlockField{
		{Label: "Class", Text: sc.Class.Name, Wide: true}, {Label: "Exercise", Text: fmt.Sprintf("%s, edition %d", a.Title, a.Version), Wide: true},
		{Label: "Time zone", Text: sc.Class.Zone, Wide: true},
	}
	return page, nil
}

// head finds the heading and the one next thing.
func (p *assignmentPage) head(a store.Assignment, now time.Time) {
	begun := 0
	for _, l := range p.Lines {
		if l.Seat.Attempts > 0 {
			begun++
		}
	}
	switch {
	case p.Withdrawn:
		p.Heading, p.Lead = a.Title+" is withdrawn", "Students do not see it. Nothing of it is lost."
		return
	case now.Before(a.OpensAt):
		p.Heading = a.Title + " has not begun"
		p.Lead = "Students see their sheets from " + p.Opens + " on."
	default:
		p.Heading = fmt.Sprintf("%s: %d of %d begun", a.Title, begun, len(p.Lines))
		p.Lead = roomLead(p.Lines)
		p.Next = "room"
	}
	if p.Instructor && len(p.Without) > 0 {
		p.Next = "missing"
	}
}

// keyStateOf says whether the key is out.
func keyStateOf(a store.Assignment, zone *time.Location, now time.Time) keyState {
	k := keyState{ByHand: a.ReleasedAt != nil, Out: released(a, false, now)}
	switch {
	case a.ReleasedAt != nil:
		k.Says = "Released by hand " + when(*a.ReleasedAt, zone) + ". Students see right numbers, true shapes and gaps in figures, and can send nothing more."
	case k.Out:
		k.Says = "Released at the due time, " + when(*a.DueAt, zone) + "."
	case a.Release == store.ReleaseDue:
		k.Says = "Comes out at the due time, " + when(*a.DueAt, zone) + "."
	case a.Release == store.ReleaseCleared:
		k.Says = "Each student sees it once cleared to cut, and as long as the clearance stands."
	default:
		k.Says = "Not released. Students get verdicts, hints and fit words, never a right number."
	}
	return k
}

func noteLines(notes []store.AssignmentNote, zone *time.Location) []noteLine {
	lines := make([]noteLine, len(notes))
	for i, n := range notes {
		lines[i] = noteLine{Text: upperFirst(n.Did) + " by " + n.ByName, Note: n.Note, At: when(n.At, zone)}
	}
	return lines
}

func (s *server) postTerms(c echo.Context) error {
	class := where(c).Class
	page, err := s.assignmentPage(c)
	if err != nil {
		return err
	}
	a, _, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	values, err := c.FormParams()
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	f, terms, ok := parseTerms(values, a.OpensAt, zoneOf(class))
	if !ok {
		page.Terms = f
		return s.render(c, http.StatusUnprocessableEntity, "assignment", &page)
	}
	if err := s.store.SetTerms(c.Request().Context(), class.ID, a.No, terms); err != nil {
		return err
	}
	s.log.Info("terms changed", "class", class.ID, "assignment", a.No, "release", terms.Release, "by", who(c).Staff.ID)
	if hidesKey(a, terms, s.now()) {
		s.log.Info("key hidden by new terms", "class", class.ID, "assignment", a.No, "by", who(c).Staff.ID)
		s.say(c, "The terms are changed. The key was out and is hidden again; whoever looked at it has seen it.")
	} else {
		s.say(c, "The terms are changed.")
	}
	return goTo(c, assignmentHref(class, a.No))
}

// hidesKey says that new terms hide a key that is out.
func hidesKey(a store.Assignment, t store.Terms, now time.Time) bool {
	changed := a
	changed.DueAt, changed.Release = t.DueAt, t.Release
	return released(a, false, now) && !released(changed, false, now)
}

// postMissing hands sheets to those of the class who have none.
func (s *server) postMissing(c echo.Context) error {
	class, ctx := where(c).Class, c.Request().Context()
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	without, err := s.store.StudentsWithout(ctx, class.ID, a.No)
	if err != nil {
		return err
	}
	rows, err := s.store.Room(ctx, class.ID, a.No)
	if err != nil {
		return err
	}
	taken := make([]joint.Values, len(rows))
	for i, r := range rows {
		taken[i] = r.Issued.Parameters
	}
	sheets, err := issue(ex, without, taken, shopOf(class), newSeed)
	if why := assignFault(err); why != "" {
		return &statusError{Status: http.StatusConflict, Heading: "No sheets were given out", Sentence: why}
	}
	if err != nil {
		return err
	}
	if err := s.putRulesOn(ctx, class, a, sheets); err != nil {
		return err
	}
	given, err := s.store.AddSheets(ctx, class.ID, a.No, a.KeyNo, sheets)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{Status: http.StatusConflict, Heading: "No sheets were given out",
			Sentence: "The key was changed at the same moment. Press once more.", To: assignmentHref(class, a.No), ToText: "back to the assignment"}
	}
	if err != nil {
		return err
	}
	s.log.Info("sheets added", "class", class.ID, "assignment", a.No, "sheets", given, "by", who(c).Staff.ID)
	s.say(c, upperFirst(count(given, "sheet"))+" given out.")
	return goTo(c, assignmentHref(class, a.No))
}
