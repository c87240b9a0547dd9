package server

import (
	"errors"
	"html/template"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/labstack/echo/v4"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"arrisbook/grading"
	"arrisbook/server/store"
	"arrisbook/web"
)

// loneServer renders pages and judges numbers without a database, so that
// fuzzing needs none.
var loneServer = sync.OnceValues(func() (*server, error) {
	assets, err := web.LoadAssets()
	if err != nil {
		return nil, err
	}
	pages, err := web.LoadPages(template.FuncMap{"asset": assets.Path})
	if err != nil {
		return nil, err
	}
	return &server{
		assets: assets, pages: pages, now: func() time.Time { return testStart },
		log: slog.New(slog.NewTextHandler(io.Discard, nil)),
	}, nil
})

// loneDesk is a student's sheet as it would come from the database.
func loneDesk(t testing.TB) (*server, desk) {
	t.Helper()
	s, err := loneServer()
	if err != nil {
		t.Fatal(err)
	}
	lib := shippedLessons(t)
	s.cfg.Lessons = lib
	ex, ok := lib.Exercise("head-v-joint")
	if !ok {
		t.Fatal("no exercise head-v-joint")
	}
	class := store.Class{ID: 1, Name: "Class", Zone: "Europe/Lisbon", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1}
	sheet, err := grading.Generate(ex, 7, shopOf(class))
	if err != nil {
		t.Fatal(err)
	}
	return s, desk{
		class: class, exercise: ex, now: testStart, zone: zoneOf(class),
		sheet:      store.Sheet{ClassID: 1, No: 1, AssignmentNo: 1, StudentNo: 1, StudentName: "Wanda Petersen", Bench: 1, Issued: sheet},
		assignment: store.Assignment{ClassID: 1, No: 1, Exercise: ex.ID, Title: ex.Title, OpensAt: testStart.Add(-time.Hour), Release: store.ReleaseByHand},
	}
}

// Whatever a body holds, the sheet's form is read or refused as a whole; every
// text is read or has a fault that says why; what is taken can be kept as it
// was typed, and what is not comes back in its field.
func FuzzAnswers(f *testing.F) {
	for _, text := range []string{"24.2", "1,234", "14° 30'", "atan(18/40)", "3-5/16 in", "\x00", "\xff", "<b>", "1e400", strings.Repeat("(", 300), "half_angle", "π", "‮1"} {
		f.Add("key=11111111-1111-4111-8111-111111111111&wood=0&n-half_angle="+url.QueryEscape(text)+"&n-tip_depth=19.1", "application/x-www-form-urlencoded")
	}
	f.Add("n-half_angle=%zz", "application/x-www-form-urlencoded")
	f.Add("--b\r\nContent-Disposition: form-data; name=\"n-half_angle\"\r\n\r\n24\r\n--b--", "multipart/form-data; boundary=b")
	f.Add(`{"n-half_angle":"24"}`, "application/json")
	s, d := loneDesk(f)
	e := echo.New()
	f.Fuzz(func(t *testing.T, body, kind string) {
		req := httptest.NewRequest(http.MethodPost, "/classes/1/sheets/1/check", strings.NewReader(body))
		req.Header.Set("Content-Type", kind)
		c := e.NewContext(req, httptest.NewRecorder())
		var form numbersForm
		err := readForm(func(c echo.Context) error {
			values, err := c.FormParams()
			if err == nil {
				form = parseNumbers(values, d.sheet.Current())
			}
			return err
		})(c)
		if refused, ok := errors.AsType[*echo.HTTPError](err); err != nil && (!ok || refused.Code >= 500) {
			t.Fatalf("the body %q gives %v", body, err)
		}
		if err == nil {
			s.takesOrReturns(t, c, d, form)
		}
	})
}

// takesOrReturns judges a form and holds the outcome to what is promised.
func (s *server) takesOrReturns(t *testing.T, c echo.Context, d desk, form numbersForm) {
	units := d.units()
	entries := readEntries(d.exercise, d.sheet.Current(), form.Texts, units)
	for id, text := range form.Texts {
		e := entries[id]
		if strings.TrimSpace(text) != "" && (e.Says == "") == (e.Fault == "") {
			t.Fatalf("the text %q of %s is read as %q and has the fault %q, want one of them", text, id, e.Says, e.Fault)
		}
	}
	judged, err := form.judge(d.exercise, units, d.now)(store.Before{Sheet: d.sheet, Assignment: d.assignment})
	refused, no := errors.AsType[*refusal](err)
	if err != nil && !no {
		t.Fatalf("judge: %v", err)
	}
	if err == nil {
		for id, text := range judged.Answers {
			if !utf8.ValidString(text) || strings.ContainsRune(text, 0) || utf8.RuneCountInString(text) > entryMost {
				t.Fatalf("the text %q of %s is taken and cannot be kept", text, id)
			}
		}
		if form.Wood != d.sheet.Wood {
			t.Fatalf("taken for wood %d, the sheet is on %d", form.Wood, d.sheet.Wood)
		}
		page := s.checkPage(c, d, form)
		if _, err := s.renderBytes("check", &page); err != nil {
			t.Fatal(err)
		}
		return
	}
	if refused.Status < 400 || refused.Status >= 500 || refused.Sentence == "" {
		t.Fatalf("refused with %d %q", refused.Status, refused.Sentence)
	}
	page, err := s.sheetPage(c, d, form.Texts, entries)
	if err != nil {
		t.Fatal(err)
	}
	text, err := s.renderBytes("sheet", &page)
	if err != nil {
		t.Fatal(err)
	}
	holdsTexts(t, string(text), form)
}

// holdsTexts finds every text in its field.
func holdsTexts(t *testing.T, text string, form numbersForm) {
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for n := range doc.Descendants() {
		id, ours := strings.CutPrefix(attr(n, "name"), "n-")
		if n.DataAtom != atom.Input || !ours {
			continue
		}
		found++
		if got, want := squeeze(attr(n, "value")), squeeze(form.Texts[id]); got != want {
			t.Fatalf("the field of %s holds %q, typed was %q", id, got, want)
		}
	}
	if found != len(form.Texts) {
		t.Fatalf("%d fields for %d numbers", found, len(form.Texts))
	}
}

// Whatever a form holds, an assignment is understood as a whole or comes back
// as typed with at least one sentence; what is understood can be stored.
func FuzzAssignment(f *testing.F) {
	for _, form := range []string{
		"exercise=head-v-joint&who=all&opens=&due=&attempts=0&release=hand",
		"exercise=head-v-joint&who=some&student=1&student=9&opens=2026-11-25T18:30&due=2026-11-26+18:30&attempts=3&release=due",
		"exercise=x&who=&opens=2026-03-29T01:30&due=2026-10-25T01:30&attempts=-1&release=cleared",
		"due=0001-01-01+00:00&attempts=1e9&opens=%00&release=%ff&student=99999999999999999999",
		"exercise=head-v-joint&who=all&opens=2199-12-31T23:59&due=2199-12-31T23:59:59&attempts=99&release=hand",
	} {
		f.Add(form, "Europe/Lisbon")
	}
	lib := shippedLessons(f)
	var exercises []*grading.Exercise
	for _, m := range lib.Modules {
		exercises = append(exercises, m.Exercises...)
	}
	students := []store.Student{{No: 1, Name: "Wanda Petersen", Bench: 1}, {No: 2, Name: "Oskar Hale", Bench: 2}}
	f.Fuzz(func(t *testing.T, body, zone string) {
		values, err := url.ParseQuery(body)
		if err != nil {
			return
		}
		form, plan, ok := parseAssignment(values, students, exercises, zoneOf(store.Class{Zone: zone}), testStart)
		faults := form.ExerciseFault + form.WhoFault + form.OpensFault + form.Terms.DueFault + form.Terms.AttemptsFault + form.Terms.ReleaseFault
		if ok != (faults == "") {
			t.Fatalf("%q: ok = %v with the faults %q", body, ok, faults)
		}
		for name, got := range map[string]string{"opens": form.Opens, "due": form.Terms.Due, "attempts": form.Terms.Attempts} {
			if got != strings.TrimSpace(values.Get(name)) {
				t.Fatalf("%q: %s comes back as %q", body, name, got)
			}
		}
		if ok {
			storable(t, plan)
		}
	})
}

// storable holds a plan to the constraints of the tables.
func storable(t *testing.T, p assignmentPlan) {
	switch {
	case p.exercise == nil || len(p.students) == 0:
		t.Fatalf("nothing for nobody: %+v", p)
	case p.terms.DueAt != nil && !p.terms.DueAt.After(p.opens):
		t.Fatalf("due %v, begins %v", p.terms.DueAt, p.opens)
	case p.terms.Attempts < 0 || p.terms.Attempts > attemptsMost:
		t.Fatalf("%d attempts", p.terms.Attempts)
	case p.terms.Release == store.ReleaseDue && p.terms.DueAt == nil:
		t.Fatal("released at a due time that there is not")
	case p.opens.Year() < 1990 || p.opens.Year() > 2210:
		t.Fatalf("begins in %d", p.opens.Year())
	}
}

// FuzzWood: sizes are read or refused; what is used makes a sheet that can be
// worked out, within the range, and a form comes back as typed.
func FuzzWood(f *testing.F) {
	for _, text := range []string{"70", "70.5 mm", "2 3/4 in", "1,234", "-3", "1e308", "\x00", "\xff", "tan(1)", "69.99999999999", ""} {
		f.Add(text, "0", "use", text)
	}
	s, d := loneDesk(f)
	sizes := woodOf(d.exercise)
	e := echo.New()
	f.Fuzz(func(t *testing.T, text, wood, step, seen string) {
		values := url.Values{"wood": {wood}, "step": {step}, "seen": {seen}}
		for _, p := range sizes {
			values.Set(woodFieldOf(p.ID), text)
		}
		form := parseWood(values, sizes)
		measured, entries := readWood(form, sizes, d.sheet.Issued, d.units())
		c := e.NewContext(httptest.NewRequest(http.MethodPost, "/", http.NoBody), httptest.NewRecorder())
		page := s.woodPage(c, d, form, entries)
		on, fault := d.onWood(form, measured, entries, &page)
		if !fault {
			for id, v := range on.Parameters {
				if was := d.sheet.Issued.Parameters[id]; v != v || v < was-grading.MeasuredRange-1e-9 || v > was+grading.MeasuredRange+1e-9 {
					t.Fatalf("%q makes %s = %v from %v", text, id, v, was)
				}
			}
			for id, v := range grading.Key(d.exercise, on.Parameters) {
				if v != v {
					t.Fatalf("%q leaves %s without a value", text, id)
				}
			}
		}
		if fault && page.Fault == "" && !anyFault(page.Fields) {
			t.Fatalf("%q is refused without a sentence", text)
		}
		if _, err := s.renderBytes("wood", &page); err != nil {
			t.Fatal(err)
		}
	})
}

func anyFault(fields []woodField) bool {
	for _, f := range fields {
		if f.Fault != "" {
			return true
		}
	}
	return false
}
