package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"arrisbook/grading"
	"arrisbook/grading/formula"
	"arrisbook/server/store"
)

// planted is a wrong formula that no pattern knows.
const planted = "atan((v_width+thickness)/v_length)"

// newPuzzledClass is a class of twelve, all of whom but the last worked the
// half angle out by a formula.
func newPuzzledClass(t *testing.T, text string) *keyWorld {
	t.Helper()
	k := &keyWorld{world: newWorld(t)}
	k.rosa = k.account("rosa", true)
	k.class = k.harness.class(k.rosa)
	var names []string
	for i := range 12 {
		names = append(names, fmt.Sprintf("Student %02d", i+1))
	}
	k.students = k.harness.students(k.class, k.rosa, names...)
	k.given = k.give(k.class, k.rosa, "head-v-joint-first", k.students, 100, nil)
	k.staff = k.staffToken(k.rosa.ID)
	for i := range 11 {
		k.send(i+1, map[string]string{"half_angle": k.by(i+1, text)})
	}
	k.send(12, nil)
	return k
}

// by is what a formula gives on a sheet, to a tenth.
func (k *keyWorld) by(sheet int, text string) string {
	k.t.Helper()
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, sheet)
	k.must(err)
	f, err := formula.Parse(text)
	k.must(err)
	v, err := f.Eval(func(id string) (float64, bool) { v, ok := sh.Current().Parameters[id]; return v, ok })
	k.must(err)
	return fmt.Sprintf("%.1f", v)
}

// search looks for formulas and waits until it is done.
func (k *keyWorld) search(form ...string) {
	k.t.Helper()
	at := printPlace{k.class.ID, k.given.assignment.No}
	if p := k.post(findingsHref(k.class, at.Assignment), form...); p.Status != http.StatusSeeOther {
		k.t.Fatalf("looking for formulas = %d: %s", p.Status, p.text())
	}
	k.Server.findings.mu.Lock()
	j := k.Server.findings.jobs[at]
	k.Server.findings.mu.Unlock()
	if j != nil {
		<-j.ended
	}
}

// A formula that nobody has thought of is found, told with those who used it,
// kept by one press, explains what was sent before, and is taken back.
func TestFindings(t *testing.T) {
	t.Parallel()
	k := newPuzzledClass(t, planted)
	href := findingsHref(k.class, k.given.assignment.No)
	k.get(href).want(t, http.StatusOK, "Nothing was looked for yet", "Look on all numbers")
	k.search()
	k.get(href).want(t, http.StatusOK, "shared wrong formula found", "Student 01", "Student 11", "of 11 answers", "Keep it as a slip").lacks(t, "Student 12")
	found, err := k.Store.Searches(context.Background(), k.class.ID, k.given.assignment.No)
	k.must(err)
	if len(found) != 1 || len(found[0].Findings) == 0 {
		t.Fatalf("searches = %+v, want one with a finding", found)
	}
	f, err := formula.Parse(found[0].Findings[0].Formula)
	k.must(err)
	want, err := formula.Parse(planted)
	k.must(err)
	if !f.Equal(want) {
		t.Errorf("found %s, want %s", f, want)
	}
	k.get(reviewHref(k.class, k.given.assignment.No)).want(t, http.StatusOK, "Answers that nothing explains", "11 answers in figures").lacks(t, "Student")
	keep := func(change ...string) *page {
		form := formValues(k.get(href).form(href + "/keep"))
		for i := 0; i < len(change); i += 2 {
			form.Set(change[i], change[i+1])
		}
		return k.ask(call{Method: http.MethodPost, Path: href + "/keep", Token: k.staff, Body: form.Encode()})
	}
	keep("why-half_angle-0", "").want(t, http.StatusUnprocessableEntity, "your students read it")
	keep("formula", "v_width").want(t, http.StatusNotFound)
	if p := keep(); p.Status != http.StatusSeeOther {
		t.Fatalf("keeping a finding = %d: %s", p.Status, p.text())
	}
	k.get(href).want(t, http.StatusOK, "eleven earlier wrong answers are explained by it now", "known by name now")
	if r := k.attempt(3, 1).Result.Steps[0]; r.ID != "half_angle" || r.Verdict != grading.Wrong || r.Pattern == nil || !strings.HasPrefix(r.Pattern.ID, "own-") {
		t.Errorf("an answer by the kept formula = %+v, want the instructor's own slip", r)
	}
	k.wantCounts()
	k.studentPage(3, "").want(t, http.StatusOK, "worked out as", "Which lines on the drawing")
	if p := k.undo(); p.Status != http.StatusSeeOther {
		t.Fatalf("undo = %d: %s", p.Status, p.text())
	}
	if r := k.attempt(3, 1).Result.Steps[0]; r.Pattern != nil && strings.HasPrefix(r.Pattern.ID, "own-") {
		t.Errorf("after undo an answer is still explained by %s", r.Pattern.ID)
	}
}

// With too few answers nothing is searched; a search that was stopped leaves
// what was found before.
func TestFindingsStopped(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	href := findingsHref(k.class, k.given.assignment.No)
	k.search()
	k.get(href).want(t, http.StatusOK, "too few wrong answers", "Too few answers")
	at := printPlace{k.class.ID, k.given.assignment.No}
	k.must(k.Store.KeepSearch(context.Background(), at.Class, at.Assignment, store.Search{
		Step: "half_angle", Answers: 6, AskedBy: k.rosa.ID, EndedAt: k.Now(),
		Findings: []store.Finding{{Formula: planted, Says: "This is the number you get from something.", Sheets: []int{1}, Of: 6}},
	}))
	<-k.Server.findings.turn // as if another class were being searched
	if !k.Server.findings.start(at, nil, func(err error) { t.Error(err) }) {
		t.Fatal("a search does not start")
	}
	if k.Server.findings.start(at, nil, nil) {
		t.Error("a second search of one assignment starts")
	}
	k.get(href).want(t, http.StatusOK, "Looking: 0 of 100 done", "Stop looking", "waiting for its turn")
	if p := k.post(href + "/stop"); p.Status != http.StatusSeeOther {
		t.Fatalf("stop = %d", p.Status)
	}
	k.get(href).want(t, http.StatusOK, "Stopped. What was found before is kept.", "One shared wrong formula found")
	k.Server.findings.turn <- struct{}{}
}
