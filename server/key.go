package server

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var keyRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/:assignment/key", forInstructors, (*server).getKey},
	{http.MethodPost, "/classes/:class/assignments/:assignment/key/preview", forInstructors, (*server).postKeyPreview},
	{http.MethodPost, "/classes/:class/assignments/:assignment/key", forInstructors, (*server).postKey},
	{http.MethodPost, "/classes/:class/assignments/:assignment/key/undo", forInstructors, (*server).postKeyUndo},
}

// keyPage changes what an assignment is judged by.
type keyPage struct {
	Frame
	Heading, Lead string
	Href, Back    string
	Form          keyForm
	Built         bool // no formula changes a right number
	Patterned     bool // some slip was seen, so that there are hints to change
	Undo          *undoLine
	Keys          []keyLine
}

// keyLine is one key that was made.
type keyLine struct {
	Says, Why string
	Changes   []string
}

// keyBasis loads the rules of the assignment of the address and what was sent.
func (s *server) keyBasis(c echo.Context) (keyBasis, error) {
	ctx, class := c.Request().Context(), where(c).Class
	a, _, err := s.assignmentOf(c)
	if err != nil {
		return keyBasis{}, err
	}
	b := keyBasis{class: class}
	if b.work, err = s.store.Work(ctx, class.ID, a.No); err != nil {
		return b, err
	}
	b.rules, err = s.rulesOf(ctx, b.work.Assignment)
	return b, err
}

func (s *server) getKey(c echo.Context) error {
	b, err := s.keyBasis(c)
	if err != nil {
		return err
	}
	page, err := s.keyPage(c, b, b.form())
	if err != nil {
		return err
	}
	return s.show(c, "key", &page.Frame, &page)
}

func keyHref(class store.Class, no int) string { return assignmentHref(class, no) + "/key" }

func (s *server) keyPage(c echo.Context, b keyBasis, f keyForm) (keyPage, error) {
	a := b.work.Assignment
	page := keyPage{
		Frame: s.frame(c, "Key: "+a.Title), Href: keyHref(b.class, a.No), Back: assignmentHref(b.class, a.No), Form: f,
		Patterned: len(f.HintSlip.Options) > 1,
		Built:     slices.ContainsFunc(f.Steps, func(k keyStep) bool { return k.Fixed }),
		Heading:   a.Title + ": the key is as given out",
		Lead:      "Tolerances, slips and hints, and numbers that have to be put right. You see what would change before anything does.",
	}
	keys, err := s.store.Keys(c.Request().Context(), b.class.ID, a.No)
	if err != nil {
		return page, err
	}
	zone := zoneOf(b.class)
	for i, k := range keys {
		l := keyLine{Says: fmt.Sprintf("Key %d, by %s, %s", k.No+1, k.ByName, when(k.MadeAt, zone)), Why: k.Why}
		for _, ch := range k.Changes {
			l.Changes = append(l.Changes, ch.Says)
		}
		page.Keys = append(page.Keys, l)
		if i == 0 {
			page.Heading = fmt.Sprintf("%s: key %d counts", a.Title, k.No+1)
			page.Undo = s.keyUndoLine(k, page.Href, zone)
		}
	}
	if b.rules.no > 0 && len(keys) > 0 && keys[0].Undoes != nil {
		page.Heading = a.Title + ": the last change is taken back"
	}
	page.Rail = roomRail(b.class, a, "key")
	page.Block = []BlockField{{Label: "Class", Text: b.class.Name, Wide: true}, {Label: "Exercise", Text: fmt.Sprintf("%s, edition %d", a.Title, a.Version), Wide: true}}
	return page, nil
}

// keyUndoLine offers to take a key back; nil when it is too late, or it took
// one back itself.
func (s *server) keyUndoLine(k store.Key, href string, zone *time.Location) *undoLine {
	until := k.MadeAt.Add(undoFor)
	if k.Undoes != nil || !s.now().Before(until) {
		return nil
	}
	return &undoLine{
		Says:   fmt.Sprintf("The last change can be taken back until %s. Results are then as they were before it; leave to cut that it ended stays ended.", clock(until, s.now(), zone)),
		Action: href + "/undo", Button: "Take the last change back",
	}
}

// postKeyPreview shows what a change would do. With "change" it leads back to
// the form as typed.
func (s *server) postKeyPreview(c echo.Context) error { return s.tryKey(c, false) }

// postKey makes the key that the preview showed, and no other.
func (s *server) postKey(c echo.Context) error { return s.tryKey(c, true) }

func (s *server) tryKey(c echo.Context, confirmed bool) error {
	b, err := s.keyBasis(c)
	if err != nil {
		return err
	}
	values, err := c.FormParams()
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	form, change, ok := b.parse(values)
	if ok && values.Get("change") != "" {
		page, err := s.keyPage(c, b, form)
		if err != nil {
			return err
		}
		return s.show(c, "key", &page.Frame, &page)
	}
	var plan keyPlan
	if ok {
		if plan, ok, err = b.plan(change, &form); err != nil {
			return err
		}
	}
	if !ok {
		page, err := s.keyPage(c, b, form)
		if err != nil {
			return err
		}
		return s.render(c, http.StatusUnprocessableEntity, "key", &page)
	}
	plan.leave = values.Get("leave")
	if confirmed {
		return s.makeKey(c, b, plan, values)
	}
	return s.previewKey(c, b, plan, values, http.StatusOK)
}

// plan makes the plan of a change, or puts what is wrong with it on the form.
func (b keyBasis) plan(change keyChange, form *keyForm) (keyPlan, bool, error) {
	plan, faults, err := b.rules.plan(b.class, change)
	switch {
	case err != nil:
		return plan, false, err
	case len(faults) > 0:
		form.blame(faults)
		return plan, false, nil
	case len(plan.key.Changes) == 0:
		form.Fault = "Nothing is changed yet. Change a number, or go back."
		return plan, false, nil
	}
	return plan, true, nil
}

// makeKey makes the key if what it does is what was seen.
func (s *server) makeKey(c echo.Context, b keyBasis, plan keyPlan, values url.Values) error {
	_, seen, err := plan.decide(b.work)
	if err != nil {
		return err
	}
	if len(seen.losing()) > 0 && plan.leave != leaveStays && plan.leave != leaveEnds {
		return s.previewKey(c, b, plan, values, http.StatusUnprocessableEntity)
	}
	no, effect, err := s.rekey(c, b, plan, cmp.Or(values.Get("print"), "none"))
	if errors.Is(err, store.ErrChanged) {
		again, err := s.keyBasis(c)
		if err != nil {
			return err
		}
		_, change, ok := again.parse(values)
		var form keyForm
		if ok {
			if plan, ok, err = again.plan(change, &form); err != nil {
				return err
			}
		}
		if !ok {
			return &statusError{Status: http.StatusConflict, Heading: "The key was changed meanwhile", Sentence: "Look at it as it is now.", To: keyHref(b.class, b.work.Assignment.No), ToText: "to the key"}
		}
		return s.previewKey(c, again, plan, values, http.StatusConflict)
	}
	if err != nil {
		return err
	}
	s.say(c, fmt.Sprintf("Key %d counts now: %s changed on %s. You can take that back for 24 hours.", no+1,
		counted(effect.Verdicts, "result", "results"), counted(len(effect.Sheets), "sheet", "sheets")))
	return goTo(c, keyHref(b.class, b.work.Assignment.No))
}

// rekey makes a planned key. print is what was seen of it; "" asks for nothing.
func (s *server) rekey(c echo.Context, b keyBasis, plan keyPlan, print string) (no int, effect keyEffect, err error) {
	a, by := b.work.Assignment, who(c).Staff.ID
	no, err = s.store.Rekey(c.Request().Context(), b.class.ID, a.No, plan.from.no, store.Act{By: by, At: s.now()},
		func(w store.Work) (store.Rekeyed, error) {
			r, e, err := plan.decide(w)
			if err == nil && print != "" && plan.print(e) != print {
				err = store.ErrChanged
			}
			effect = e
			return r, err
		})
	if err == nil {
		s.log.Info("key made", "class", b.class.ID, "assignment", a.No, "key", no, "attempts", effect.Attempts, "verdicts", effect.Verdicts, "by", by)
	}
	return no, effect, err
}

// stillCleared names the benches whose leave to cut stands for numbers that are
// not right any more. Nothing ends it but a word of the instructor.
func stillCleared(e keyEffect) string {
	var benches []string
	for _, sh := range e.Sheets {
		if sh.Cleared {
			benches = append(benches, fmt.Sprintf("bench %d", sh.Bench))
		}
	}
	if len(benches) == 0 {
		return ""
	}
	return " Leave to cut still stands on " + list(benches) + " for numbers that are not right any more: look at the wood there."
}

// postKeyUndo takes the newest key back, by another key that brings back what
// was before it.
func (s *server) postKeyUndo(c echo.Context) error {
	b, err := s.keyBasis(c)
	if err != nil {
		return err
	}
	ctx, a := c.Request().Context(), b.work.Assignment
	late := &statusError{Status: http.StatusConflict, Heading: "That cannot be taken back any more",
		Sentence: "It is taken back already, or more than 24 hours have passed. You can still change the key by hand.",
		To:       keyHref(b.class, a.No), ToText: "to the key"}
	if a.KeyNo == 0 {
		return late
	}
	k, err := s.store.Key(ctx, b.class.ID, a.No, a.KeyNo)
	if err != nil {
		return err
	}
	if s.keyUndoLine(k, "", zoneOf(b.class)) == nil {
		return late
	}
	before, err := s.rulesUnder(ctx, a, a.KeyNo-1)
	if err != nil {
		return err
	}
	plan, err := b.rules.planBack(b.class, before)
	if err != nil {
		return err
	}
	_, effect, err := s.rekey(c, b, plan, "")
	if errors.Is(err, store.ErrChanged) {
		return late
	}
	if err != nil {
		return err
	}
	s.say(c, fmt.Sprintf("Taken back: %s on %s are as before.", counted(effect.Verdicts, "result", "results"), counted(len(effect.Sheets), "sheet", "sheets"))+stillCleared(effect))
	return goTo(c, keyHref(b.class, a.No))
}
