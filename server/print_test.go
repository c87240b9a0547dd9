package server

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"arrisbook/server/paper"
	"arrisbook/server/store"
)

// printFields order everything for everybody.
func printFields(*school) (made, []string) {
	return nil, []string{"sheets", "yes", "templates", "yes", "key", "yes", "overview", "yes", "who", "all"}
}

// printedPaper is a PDF that everybody of the class's staff has made.
func printedPaper(s *school) (made, []string) {
	for _, p := range []store.Staff{s.instructor, s.plain, s.clearer} {
		s.print(p, s.work, paper.Parts{Overview: true})
	}
	return nil, nil
}

// print makes a PDF of a class as one of its staff does, and waits for it.
func (w *world) print(by store.Staff, g given, parts paper.Parts) []byte {
	w.t.Helper()
	class := mustClass(w.t, w.harness, g.assignment.ClassID)
	p, err := w.Server.printing(context.Background(), class, w.assignmentNow(g), g.exercise, w.URL)
	w.must(err)
	order, err := p.order(parts, nil)
	w.must(err)
	at := printPlace{class.ID, g.assignment.No}
	<-w.Server.prints.start(by.ID, at, order).ended
	state, _ := w.Server.prints.of(by.ID, at)
	return state.PDF
}

// printed waits until nothing is on its way to paper.
func (h *harness) printed() {
	jobs := h.Server.prints
	jobs.mu.Lock()
	var all []*printJob
	for _, j := range jobs.jobs {
		all = append(all, j)
	}
	jobs.mu.Unlock()
	for _, j := range all {
		<-j.ended
	}
}

// assignmentNow reads an assignment again.
func (w *world) assignmentNow(g given) store.Assignment {
	w.t.Helper()
	a, err := w.Store.Assignment(context.Background(), g.assignment.ClassID, g.assignment.No)
	w.must(err)
	return a
}

// An instructor orders paper, sees it come along without a script, fetches it,
// and nobody else can.
func TestPrintForAClass(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	token := s.staffToken(s.instructor.ID)
	href := fmt.Sprintf("/classes/%d/assignments/%d/paper", s.class.ID, s.work.assignment.No)
	get := func(token, path string) *page { return s.ask(call{Method: http.MethodGet, Path: path, Token: token}) }
	first := get(token, href)
	if first.Status != 200 || !strings.Contains(first.Body, "Four sheets to print") || !strings.Contains(first.Body, "on A4 paper") || !strings.Contains(first.Body, "which is nobody yet") {
		t.Fatalf("the page before an order: %d %s", first.Status, first.Body)
	}
	if p := get(token, href+"/pdf"); p.Status != 404 {
		t.Errorf("a PDF nobody ordered: %d, want 404", p.Status)
	}
	sent := s.ask(call{Method: http.MethodPost, Path: href, Token: token, Body: "sheets=yes&overview=yes&who=all"})
	if sent.Status != http.StatusSeeOther || sent.Header.Get("Location") != href {
		t.Fatalf("ordering: %d to %q, want 303 to %s", sent.Status, sent.Header.Get("Location"), href)
	}
	ready := s.awaitPaper(token, href)
	if ready.Header.Get("Refresh") != "" {
		t.Error("the page with the finished PDF goes on looking again")
	}
	pdf := get(token, href+"/pdf")
	if pdf.Status != 200 || pdf.Header.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(pdf.Body, "%PDF-") || pdf.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("the PDF: %d %v, %d bytes", pdf.Status, pdf.Header, len(pdf.Body))
	}
	if p := get(s.staffToken(s.plain.ID), href+"/pdf"); p.Status != 404 {
		t.Errorf("another's PDF: %d, want 404", p.Status)
	}
	s.pass(printKept + time.Minute)
	if p := get(s.staffToken(s.instructor.ID), href+"/pdf"); p.Status != 404 {
		t.Errorf("a PDF made %v ago: %d, want 404", printKept, p.Status)
	}
}

// awaitPaper looks at a print page until nothing is on its way.
func (s *school) awaitPaper(token, href string) *page {
	s.t.Helper()
	for range 400 {
		p := s.ask(call{Method: http.MethodGet, Path: href, Token: token})
		if !strings.Contains(p.Body, "<progress") {
			if !strings.Contains(p.Body, "fetch the PDF") {
				s.t.Fatalf("the order came to nothing: %s", p.Body)
			}
			return p
		}
		if p.Header.Get("Refresh") != "1" {
			s.t.Fatalf("a page with progress does not look again by itself: %v", p.Header)
		}
		time.Sleep(5 * time.Millisecond)
	}
	s.t.Fatal("the PDF does not get ready")
	return nil
}

// An order without a part, or for nobody, comes back as it was, with a
// sentence.
func TestPrintFormFaults(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	token := s.staffToken(s.instructor.ID)
	href := fmt.Sprintf("/classes/%d/assignments/%d/paper", s.class.ID, s.work.assignment.No)
	for _, c := range []struct{ body, want string }{
		{"who=all", "Choose at least one part."},
		{"sheets=yes&who=chosen", "Choose at least one student."},
		{"sheets=yes&who=chosen&student=999&student=x", "Choose at least one student."},
	} {
		p := s.ask(call{Method: http.MethodPost, Path: href, Token: token, Body: c.body})
		if p.Status != http.StatusUnprocessableEntity || !strings.Contains(p.Body, c.want) {
			t.Errorf("POST %s: %d, want 422 and %q", c.body, p.Status, c.want)
		}
	}
	// Templates that nobody may have make no file, and the page says so.
	s.ask(call{Method: http.MethodPost, Path: href, Token: token, Body: "templates=yes&who=all"})
	for range 400 {
		p := s.ask(call{Method: http.MethodGet, Path: href, Token: token})
		if strings.Contains(p.Body, "nobody may have a template yet") {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Error("an order of templates that nobody may have is not explained")
}

// Of the staff, each has one PDF at a time: a second order ends the first, and
// Stop ends what is on its way.
func TestOnePrintAtATime(t *testing.T) {
	t.Parallel()
	jobs := newPrintJobs(func() time.Time { return testStart })
	<-jobs.turn // somebody else prints
	a := jobs.start(7, printPlace{1, 1}, paper.Order{})
	b := jobs.start(7, printPlace{1, 2}, paper.Order{})
	<-a.ended
	if s := a.state(); s.Err == nil || s.PDF != nil {
		t.Errorf("the first of two orders ended as %+v, want it given up", s)
	}
	if _, ok := jobs.of(7, printPlace{1, 1}); ok {
		t.Error("the first order is still there")
	}
	if s, ok := jobs.of(7, printPlace{1, 2}); !ok || s.Ended {
		t.Errorf("the second order: %+v, %v, want it waiting for its turn", s, ok)
	}
	if !jobs.drop(7, printPlace{1, 2}) || jobs.drop(7, printPlace{1, 2}) {
		t.Error("stopping works other than once")
	}
	<-b.ended
	jobs.turn <- struct{}{}
}

// A student prints the own sheet; its template comes with leave to cut and goes
// with it.
func TestOwnPaper(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	token := s.studentToken(s.class, s.students[0].No, false)
	href := fmt.Sprintf("/classes/%d/sheets/%d/paper", s.class.ID, s.sheet)
	print := func() []byte {
		p := s.ask(call{Method: http.MethodGet, Path: href, Token: token})
		if p.Status != 200 || !strings.HasPrefix(p.Body, "%PDF-") {
			t.Fatalf("own paper: %d", p.Status)
		}
		return []byte(p.Body)
	}
	before := print()
	if !bytes.Equal(before, print()) {
		t.Error("the same sheet printed twice gives different bytes")
	}
	has := func(why string, want bool) {
		t.Helper()
		if got := s.mayHaveTemplate(s.work, s.sheet); got != want {
			t.Errorf("%s: the sheet may have a template: %v, want %v", why, got, want)
		}
	}
	has("before the release", false)
	clearedSheet(s)
	has("cleared to cut", true)
	_, form := woodFields(s)
	if p := s.ask(call{Method: http.MethodPost, Path: strings.TrimSuffix(href, "/paper") + "/wood", Token: token, Body: fields(form...).Encode()}); p.Status != http.StatusSeeOther {
		t.Fatalf("measuring the wood: %d", p.Status)
	}
	has("measured again, which ends the leave", false)
	s.must(s.Store.ReleaseKey(context.Background(), s.class.ID, s.work.assignment.No, store.Act{By: s.instructor.ID, At: s.Now()}))
	has("key released", true)
	if after := print(); bytes.Equal(before, after) {
		t.Error("the released sheet is printed as the unreleased one was")
	}
}

// mayHaveTemplate says whether a sheet would get a template now.
func (s *school) mayHaveTemplate(g given, sheet int) bool {
	s.t.Helper()
	p, err := s.Server.printing(context.Background(), s.class, s.assignmentNow(g), g.exercise, s.URL)
	s.must(err)
	order, err := p.order(paper.Parts{Templates: true}, nil)
	s.must(err)
	for _, sh := range order.Sheets {
		if sh.No == sheet {
			return sh.MayHaveTemplate()
		}
	}
	s.t.Fatalf("sheet %d is not in the order", sheet)
	return false
}
