package server

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"arrisbook/grading"
)

// typedForm is the form of the typed page for a sheet.
func (b *bench) typedForm(texts map[string]string) []string {
	form := []string{}
	for id, text := range texts {
		form = append(form, fieldOf(id), text)
	}
	return form
}

// typeIn types numbers in as the page's script sends them.
func (b *bench) typeIn(texts map[string]string) *page {
	return b.teacher.post(b.href+"/typed", append(b.typedForm(texts), "key", newKey(), "wood", "0")...)
}

// A code leads to its sheet; the numbers typed in are judged like any others,
// carry who typed them, and can be taken back whole.
func TestPaperIsTypedIn(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	base := classPath(b.class, "/typed")
	code := sheetCode(b.class.ID, b.sheet.No)
	p := b.teacher.get(base + "?code=" + strings.ToLower(code[:2]+"+"+code[2:]))
	p.want(t, http.StatusOK, "Wanda Petersen", "From paper, attempt 1")
	if p.Path != b.href+"/typed" {
		t.Fatalf("the code leads to %s, want %s", p.Path, b.href+"/typed")
	}

	right := b.right()
	half := right["half_angle"]
	right["half_angle"] = "12 mm"
	check := b.teacher.press(p, b.href+"/typed/check", b.typedForm(right)...)
	check.want(t, http.StatusUnprocessableEntity, "12 mm", "One number could not be read")
	right["half_angle"] = half
	check = b.teacher.press(check, b.href+"/typed/check", b.typedForm(right)...)
	check.want(t, http.StatusOK, "From paper, attempt 1", "Send these numbers")
	done := b.teacher.press(check, b.href+"/typed")
	done.want(t, http.StatusOK, "received as attempt 1", "6 of 6 right", "Take back")
	if done.Path != base {
		t.Errorf("after the numbers comes %s, want the next code at %s", done.Path, base)
	}
	b.pupil.get(b.href+"/attempts/1").want(t, http.StatusOK, "from paper, typed in by")
	b.teacher.get(b.href+"/bench").want(t, http.StatusOK, "Attempt 1 from paper, typed in by")

	back := b.teacher.press(done, b.href+"/typed/takeback", "attempt", "1")
	back.want(t, http.StatusOK, "is taken back")
	back.lacks(t, "Take back")
	if n := len(b.attempts()); n != 0 {
		t.Errorf("%d attempts are left, want none", n)
	}
	b.counts(0)
	// The page that sent them, sent once more by Back, does not bring them back
	// by itself.
	b.teacher.press(check, b.href+"/typed").want(t, http.StatusConflict, "taken back before")
	b.counts(0)
}

// counts holds the class's counts against its attempts.
func (b *bench) counts(attempts int) {
	b.t.Helper()
	c, err := b.Store.CheckCounts(b.t.Context(), b.class.ID)
	if err != nil {
		b.t.Fatal(err)
	}
	if c.Attempts != attempts || len(c.Faults) > 0 {
		b.t.Errorf("%d attempts, want %d; faults in the counts: %v", c.Attempts, attempts, c.Faults)
	}
}

// Only what is newest, of today and never cleared is taken back; everything
// else stays and says why.
func TestWhatStaysTyped(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	wrong := b.right()
	wrong["half_angle"] = "80"
	b.typeIn(wrong).want(t, http.StatusOK, "received as attempt 1")
	b.send(b.right())
	list := b.teacher.get(classPath(b.class, "/typed"))
	list.want(t, http.StatusOK, "Something was sent on this sheet since")
	b.teacher.post(b.href+"/typed/takeback", "attempt", "1").want(t, http.StatusConflict, "cannot be taken back")
	b.teacher.post(b.href+"/typed/takeback", "attempt", "2").want(t, http.StatusConflict, "cannot be taken back") // the student's own
	b.counts(2)

	again := b.right()
	again["half_angle"] = "79"
	b.typeIn(again).want(t, http.StatusOK, "received as attempt 3")
	b.pass(25 * time.Hour)
	b.teacherAgain()
	b.teacher.post(b.href+"/typed/takeback", "attempt", "3").want(t, http.StatusConflict, "A day is over")
	b.counts(3)
}

// Paper that was filled in before the key is typed in after it; the number of
// attempts holds for paper, too.
func TestPaperAfterTheRelease(t *testing.T) {
	t.Parallel()
	b := newBench(t, "attempts", "1")
	b.teacher.press(b.teacher.get(b.given), b.given+"/release")
	b.typeIn(b.right()).want(t, http.StatusOK, "received as attempt 1")
	b.teacher.get(b.href+"/typed").want(t, http.StatusOK, "All attempts are used")
}

// A code that is none, or of another class, is refused beside its field with
// the text kept; the square of a sheet leads everybody where they belong.
func TestCodesOfOthers(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	base := classPath(b.class, "/typed")
	code := sheetCode(b.class.ID, b.sheet.No)
	other := "A"
	if strings.HasSuffix(code, other) {
		other = "B"
	}
	misread := code[:len(code)-1] + other
	p := b.teacher.get(base + "?code=" + misread)
	p.want(t, http.StatusUnprocessableEntity, "No sheet has this code")
	if !strings.Contains(p.Body, `value="`+misread+`"`) {
		t.Errorf("the code %s does not stand in its field any more", misread)
	}
	b.teacher.get(base+"?code="+sheetCode(b.class.ID+1, b.sheet.No)).want(t, http.StatusUnprocessableEntity, "another class")
	b.teacher.get(base+"?code="+sheetCode(b.class.ID, 9999)).want(t, http.StatusUnprocessableEntity, "No sheet of this class")
	for who, c := range map[string]struct {
		b    *browser
		path string
	}{
		"teacher":  {b.teacher, b.href + "/typed"},
		"student":  {b.pupil, b.href},
		"stranger": {b.browser(), "/signin"},
	} {
		if p := c.b.get("/p/" + code); p.Path != c.path && !strings.HasPrefix(p.Path, c.path+"?") {
			t.Errorf("the square leads the %s to %s, want %s", who, p.Path, c.path)
		}
	}
	b.teacher.get("/p/"+misread).want(t, http.StatusNotFound)
}

// The student sends while the staff type: each press is one attempt, and the
// counts are right.
func TestTypedWhileSending(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	const rounds = 8
	for i := range rounds {
		typed, sent := b.right(), b.right()
		typed["half_angle"], sent["half_angle"] = fmt.Sprint(50+i), fmt.Sprint(30+i)
		done := make(chan struct{})
		go func() {
			defer close(done)
			b.typeIn(typed)
		}()
		b.send(sent)
		<-done
	}
	if n := len(b.attempts()); n != 2*rounds {
		t.Errorf("%d attempts, want %d", n, 2*rounds)
	}
	paper := 0
	for _, a := range b.attempts() {
		if a.TypedBy != nil {
			paper++
		}
		if r := a.Result.Steps[0]; r.Verdict != grading.Wrong {
			t.Errorf("attempt %d: %s is %s, want wrong", a.No, r.ID, r.Verdict)
		}
	}
	if paper != rounds {
		t.Errorf("%d attempts from paper, want %d", paper, rounds)
	}
	b.counts(2 * rounds)
}
