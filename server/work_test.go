package server

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

// withLessons serves the lessons that are shipped.
func withLessons(t testing.TB) func(*Config) {
	t.Helper()
	lib, err := lessons.Shipped()
	if err != nil {
		t.Fatal(err)
	}
	return func(cfg *Config) { cfg.Lessons = lib }
}

// bench is one student at work in a class with one assignment.
type bench struct {
	*harness
	t       testing.TB
	teacher *browser
	staff   store.Staff
	class   store.Class
	student store.Student
	pupil   *browser
	sheet   store.Sheet
	href    string // of the sheet
	given   string // address of the assignment
}

// newBench gives the first six numbers of the V joint to a class of three.
// Terms are further fields of the form.
func newBench(t testing.TB, terms ...string) *bench {
	t.Helper()
	b := &bench{harness: startServer(t, withLessons(t)), t: t}
	b.teacher, b.staff = b.harness.staff("ada", true)
	b.class = b.harness.class(b.staff)
	students := b.students(b.class, b.staff, "Wanda Petersen", "Abel Rook", "Bruna Thorn")
	b.given = b.assign(terms...)
	b.student, b.pupil = students[0], b.harness.student(b.class, students[0])
	b.sheet = b.sheetOf(b.student)
	b.href = fmt.Sprintf("%s/sheets/%d", classPath(b.class, ""), b.sheet.No)
	return b
}

// assign fills in the form for everybody and gives the assignment's address.
func (b *bench) assign(terms ...string) string {
	b.t.Helper()
	action := classPath(b.class, "/assignments/new")
	p := b.teacher.press(b.teacher.get(action), action, append([]string{"exercise", "head-v-joint-first", "who", "all", "release", "hand"}, terms...)...)
	p.want(b.t, http.StatusOK, "given out, each with a blank of its own")
	return p.Path
}

// sheetOf finds a student's newest sheet.
func (b *bench) sheetOf(st store.Student) store.Sheet {
	b.t.Helper()
	own, err := b.Store.SheetsOf(b.t.Context(), b.class.ID, st.No, b.Now().AddDate(1, 0, 0))
	if err != nil || len(own) == 0 {
		b.t.Fatalf("SheetsOf(%s) = %d sheets, %v, want one", st.Name, len(own), err)
	}
	return own[0].Sheet
}

// exercise is the exercise as it was given out.
func (b *bench) exercise() *grading.Exercise {
	b.t.Helper()
	a, err := b.Store.Assignment(b.t.Context(), b.class.ID, b.sheet.AssignmentNo)
	if err != nil {
		b.t.Fatal(err)
	}
	ex, err := b.Server.exerciseOf(b.t.Context(), a)
	if err != nil {
		b.t.Fatal(err)
	}
	return ex
}

// right are the right numbers of the sheet as it stands, with enough digits.
func (b *bench) right() map[string]string {
	b.t.Helper()
	sh, err := b.Store.Sheet(b.t.Context(), b.class.ID, b.sheet.No)
	if err != nil {
		b.t.Fatal(err)
	}
	return written(grading.Key(b.exercise(), sh.Current().Parameters), sh.Current())
}

func written(key joint.Values, sheet grading.Sheet) map[string]string {
	texts := map[string]string{}
	for _, st := range sheet.Steps {
		texts[st.ID] = strconv.FormatFloat(math.Round(key[st.ID]*1e4)/1e4, 'f', -1, 64)
	}
	return texts
}

// fieldsOf are the fields of a form for texts by step.
func fieldsOf(texts map[string]string) []string {
	var out []string
	for id, text := range texts {
		out = append(out, fieldOf(id), text)
	}
	return out
}

// send fills in the sheet and sends it over the page that shows the readings,
// as without a script.
func (b *bench) send(texts map[string]string) *page {
	b.t.Helper()
	sheet := b.pupil.get(b.href).want(b.t, http.StatusOK)
	check := b.pupil.press(sheet, b.href+"/check", fieldsOf(texts)...).want(b.t, http.StatusOK, "Is that what you meant?")
	return b.pupil.press(check, b.href+"/attempts")
}

// teacherAgain signs the instructor in after a while without a press.
func (b *bench) teacherAgain() {
	b.t.Helper()
	b.teacher.post("/signin", "email", b.staff.Email, "password", testPassword).want(b.t, http.StatusOK)
}

// attempts are those of the sheet, the newest first.
func (b *bench) attempts() []store.Attempt {
	b.t.Helper()
	all, err := b.Store.AttemptsOf(b.t.Context(), b.class.ID, b.sheet.No)
	if err != nil {
		b.t.Fatal(err)
	}
	return all
}

// clear gives leave to cut for an attempt.
func (b *bench) clear(attempt int) {
	b.t.Helper()
	b.teacher.post(b.href+"/clear", "attempt", strconv.Itoa(attempt)).want(b.t, http.StatusOK, "may cut")
}

// change copies texts with some others.
func change(texts map[string]string, idsAndTexts ...string) map[string]string {
	out := map[string]string{}
	for id, text := range texts {
		out[id] = text
	}
	for i := 0; i < len(idsAndTexts); i += 2 {
		out[idsAndTexts[i]] = idsAndTexts[i+1]
	}
	return out
}

// The whole work of a student: a slip, its hint, the correction, the question
// for a check, leave to cut, and new numbers that end it.
func TestWork(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.pupil.get("/sheets").want(t, http.StatusOK, "One sheet to set out", "Head V joint", "not started")
	sheet := b.pupil.get(b.href).want(t, http.StatusOK, "six numbers to set out", "Next: number 1", "Nothing was sent yet", "not to scale", "Wanda Petersen", "Your blank, as given")
	right := b.right()
	first := b.sheet.Issued.Steps[0].ID

	b.pupil.press(sheet, b.href+"/check").want(t, http.StatusUnprocessableEntity, "Nothing is filled in yet")

	slip := b.slipOn(first)
	result := b.send(change(right, first, slip)).want(t, http.StatusOK, "Five of six right", "This is the number you get if", "Next: number 1", "Right numbers and gaps in figures come with the key")
	if want := b.href + "/attempts/1"; result.Path != want {
		t.Errorf("after sending: %s, want %s", result.Path, want)
	}
	b.pupil.get(b.href).want(t, http.StatusOK, "five of six right", "Attempt 1 was received at 07:00", "wrong", "Then you can ask for a check here")
	b.pupil.post(b.href+"/ask").want(t, http.StatusConflict, "Not right yet: number 1")

	b.send(right).want(t, http.StatusOK, "All six right", "Next: ask for a check")
	b.pupil.post(b.href+"/ask").want(t, http.StatusOK, "You are in the queue, place 1", "Place 1 in the queue")
	b.pupil.get("/sheets").want(t, http.StatusOK, "waits")
	b.pupil.post(b.href+"/unask").want(t, http.StatusOK, "You are out of the queue", "Next: ask for a check")
	b.pupil.post(b.href+"/ask").want(t, http.StatusOK, "place 1")

	b.clear(2)
	b.pupil.get(b.href).want(t, http.StatusOK, "you may cut", "Cleared by Ada Test at 07:00", "Any change ends it")
	b.pupil.post(b.href+"/ask").want(t, http.StatusConflict, "You are cleared already")

	b.pass(60e9)
	b.send(change(right, first, right[first]+"0")).want(t, http.StatusOK)
	b.pupil.get(b.href).want(t, http.StatusOK, "Leave to cut has ended: new numbers were sent.", "Next: ask for a check")
}

// slipOn gives the number of a slip on a step that is no harmless one, as text
// from which the slip is told.
func (b *bench) slipOn(step string) string {
	b.t.Helper()
	for _, p := range grading.Patterns(b.exercise(), b.sheet.Issued, step) {
		if p.Harmless || p.ID == "digits-swapped" {
			continue
		}
		text := strconv.FormatFloat(p.Value, 'f', 2, 64)
		for _, r := range grading.Grade(b.exercise(), b.sheet.Issued, map[string]string{step: text}, grading.Millimetres).Steps {
			if r.ID == step && r.Pattern != nil && r.Pattern.ID == p.ID {
				return text
			}
		}
	}
	b.t.Fatalf("no slip on %s", step)
	return ""
}
