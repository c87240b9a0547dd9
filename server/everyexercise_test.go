package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"arrisbook/server/store"
)

// Every shipped exercise can be given out, worked on, looked at before and
// after the release, checked at the bench and reviewed, drawing or not.
func TestEveryExerciseGoesThrough(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	rosa := w.account("rosa", true)
	class := w.class(rosa)
	students := w.students(class, rosa, "Wanda Petersen")
	student, staff := w.studentToken(class, students[0].No, false), w.staffToken(rosa.ID)
	for i, m := range w.Server.cfg.Lessons.Modules {
		for k, ex := range m.Exercises {
			g := w.give(class, rosa, ex.ID, students, uint64(100*i+10*k+1), nil)
			sheet := w.sheetOf(class, students[0].No)
			at := fmt.Sprintf("/classes/%d/sheets/%d", class.ID, sheet)
			assignment := fmt.Sprintf("/classes/%d/assignments/%d", class.ID, g.assignment.No)
			w.passes(student, at)
			if len(woodOf(ex)) > 0 { // a leg and a roof have no blank to measure
				w.passes(student, at+"/wood")
			}
			w.passes(staff, at+"/bench", assignment+"/room", assignment+"/review")
			w.wrong(g, sheet)
			w.passes(student, at, at+"/attempts/1")
			w.passes(staff, at+"/bench", assignment+"/room", assignment+"/review")
			attempt := w.complete(g, sheet)
			w.must(w.Store.ReleaseKey(context.Background(), class.ID, g.assignment.No, store.Act{By: rosa.ID, At: w.Now()}))
			w.passes(student, at, fmt.Sprintf("%s/attempts/%d", at, attempt))
			w.passes(staff, at+"/bench", assignment)
		}
	}
}

// passes asks for pages that must come, each with a heading.
func (w *world) passes(token string, paths ...string) {
	w.t.Helper()
	for _, path := range paths {
		p := w.ask(call{Method: http.MethodGet, Path: path, Token: token})
		if p.Status != http.StatusOK || !strings.Contains(p.Body, "<h1>") {
			w.t.Errorf("GET %s = %d, want 200 with a heading", path, p.Status)
		}
	}
}

// wrong sends a number for every step that is off by a lot.
func (w *world) wrong(g given, sheet int) {
	w.t.Helper()
	ctx := context.Background()
	class := mustClass(w.t, w.harness, g.assignment.ClassID)
	sh, err := w.Store.Sheet(ctx, class.ID, sheet)
	w.must(err)
	texts := map[string]string{}
	for i, st := range sh.Current().Steps {
		texts[st.ID] = fmt.Sprint(3 + i)
	}
	form := numbersForm{Key: newKey(), Wood: sh.Wood, Texts: texts}
	_, _, err = w.Store.Submit(ctx, store.Submission{
		ClassID: class.ID, Sheet: sheet, Key: form.Key, BodyHash: form.bodyHash(), At: w.Now(),
	}, form.judge(g.exercise, unitsOf(class), w.Now()))
	w.must(err)
}
