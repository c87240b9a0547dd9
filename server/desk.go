package server

import (
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// desk is a student's own sheet with everything its pages need.
type desk struct {
	class      store.Class
	sheet      store.Sheet
	assignment store.Assignment
	exercise   *grading.Exercise
	last       *store.Attempt    // nil: nothing sent yet
	clearances []store.Clearance // newest first
	keys       []store.Key       // made since it was given out, newest first
	place      int               // in the queue for a check; 0: does not wait
	now        time.Time
	zone       *time.Location
}

// desk loads the sheet of the address. What is withdrawn or has not begun does
// not exist for its student.
func (s *server) desk(c echo.Context) (desk, error) {
	ctx, sc := c.Request().Context(), where(c)
	d := desk{class: sc.Class, now: s.now(), zone: zoneOf(sc.Class)}
	var err error
	if d.sheet, err = s.store.Sheet(ctx, sc.Class.ID, sc.Sheet); err != nil {
		return d, err
	}
	if d.assignment, d.exercise, err = s.loadAssignment(ctx, sc.Class.ID, d.sheet.AssignmentNo); err != nil {
		return d, err
	}
	if d.now.Before(d.assignment.OpensAt) {
		return d, errNotFound
	}
	if d.assignment.WithdrawnAt != nil {
		return d, errWithdrawn
	}
	if d.sheet.Attempts > 0 {
		last, err := s.store.Attempt(ctx, sc.Class.ID, sc.Sheet, d.sheet.Attempts)
		if err != nil {
			return d, err
		}
		d.last = &last
	}
	if d.clearances, err = s.store.Clearances(ctx, sc.Class.ID, sc.Sheet); err != nil {
		return d, err
	}
	if d.assignment.KeyNo > 0 {
		if d.keys, err = s.store.Keys(ctx, sc.Class.ID, d.assignment.No); err != nil {
			return d, err
		}
	}
	if d.sheet.AskedAt != nil {
		d.place, err = s.store.PlaceInQueue(ctx, sc.Class.ID, sc.Sheet)
	}
	return d, err
}

// errWithdrawn tells whoever was at work why the sheet is gone.
var errWithdrawn = &statusError{Status: http.StatusNotFound, Heading: "This sheet was withdrawn",
	Sentence: "Your instructor has taken it back. What you sent is kept.", To: "/sheets", ToText: "to my sheets"}

func (d desk) base() string { return fmt.Sprintf("%s/sheets/%d", classHref(d.class), d.sheet.No) }

func (d desk) units() grading.Units { return unitsOf(d.class) }

// clearance is the leave to cut that stands; nil when none does.
func (d desk) clearance() *store.Clearance {
	if len(d.clearances) > 0 && d.clearances[0].Stands() {
		return &d.clearances[0]
	}
	return nil
}

// ended is the last leave to cut if it was taken back.
func (d desk) ended() *store.Clearance {
	if len(d.clearances) > 0 && !d.clearances[0].Stands() {
		return &d.clearances[0]
	}
	return nil
}

func (d desk) released() bool { return released(d.assignment, d.clearance() != nil, d.now) }

// shut says why nothing can be sent; "" while it can.
func (d desk) shut() string { return shut(d.assignment, d.sheet.Attempts, d.now) }

// stale says that the wood was measured after the last numbers were sent.
func (d desk) stale() bool { return d.last != nil && d.last.Wood != d.sheet.Wood }

// result is the last result that holds for the wood as it is; nil for none.
func (d desk) result() *grading.Result {
	if d.last == nil || d.stale() {
		return nil
	}
	return &d.last.Result
}

// ready says that the sheet can be checked at the bench.
func (d desk) ready() bool { return d.result() != nil && complete(*d.result()) }

// key gives the right numbers as the class writes them; nil before they are
// released. Everything on a student's page that needs a right number asks here.
func (d desk) key(blank joint.Values) map[string]string {
	if !d.released() {
		return nil
	}
	texts := map[string]string{}
	for id, v := range grading.Key(d.exercise, blank) {
		step, _ := stepOf(d.exercise, id)
		texts[id] = grading.Print(v, step.Unit, d.units())
	}
	return texts
}

// marks are the verdicts of the asked numbers in the sheet's order: those of
// the last attempt, as far as they hold.
func (d desk) marks() []grading.StepResult {
	byID := map[string]grading.StepResult{}
	if r := d.result(); r != nil {
		for _, st := range r.Steps {
			byID[st.ID] = st
		}
	}
	current := d.sheet.Current()
	marks := make([]grading.StepResult, len(current.Steps))
	for i, st := range current.Steps {
		m, ok := byID[st.ID]
		if !ok {
			m = grading.StepResult{ID: st.ID, Verdict: grading.Blank}
		}
		marks[i] = m
	}
	return marks
}

// firstOpen is the index of the first number that is not right; -1: all are.
func firstOpen(marks []grading.StepResult) int {
	for i, m := range marks {
		if m.Verdict != grading.Right {
			return i
		}
	}
	return -1
}

// rightIn counts the numbers that are right.
func rightIn(marks []grading.StepResult) int {
	n := 0
	for _, m := range marks {
		if m.Verdict == grading.Right {
			n++
		}
	}
	return n
}
