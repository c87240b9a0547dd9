package server

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"arrisbook/grading"
)

func aPractice(*school) (made, []string) {
	return made{"exercise": "head-v-joint-first", "?": "?seed=2"}, []string{"seed", "2", "n-tip_depth", "12.5"}
}

const practised = "/practice/head-v-joint-first"

// Anybody draws a blank and has numbers checked; a wrong one is told from a
// right one, and the right ones stay unsaid until the working is asked for.
func TestPractice(t *testing.T) {
	t.Parallel()
	h := startServer(t, withLessons(t))
	b := h.browser()
	b.get("/lessons/head-v-joint").want(t, http.StatusOK, "Practise on a fresh blank")
	if p := b.get(practised); p.Status != http.StatusOK || !regexp.MustCompile(`\?seed=[0-9]+$`).MatchString(p.Path) {
		t.Errorf("GET %s = %d at %s, want 200 at a seed", practised, p.Status, p.Path)
	}
	ex, _ := shippedLessons(t).Exercise("head-v-joint-first")
	sheet, err := grading.Generate(ex, 7, grading.DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	right := written(grading.Key(ex, sheet.Parameters), sheet)
	page := b.get(practised+"?seed=7").want(t, http.StatusOK, "Nothing is kept", "Check my numbers")
	page.lacksNumbers(t, right)

	b.press(page, practised).want(t, http.StatusUnprocessableEntity, "Nothing is filled in yet")
	all := b.press(page, practised, fieldsOf(right)...).want(t, http.StatusOK, "all six right", "Next: another blank", "tight")
	if to := all.link("Next: another blank"); strings.Contains(to, "seed=") {
		t.Errorf("another blank = %s, want a fresh one", to)
	}
	first := sheet.Steps[0].ID
	wrong := b.press(page, practised, fieldsOf(map[string]string{first: "1.5", sheet.Steps[1].ID: "two"})...)
	wrong.want(t, http.StatusOK, "none of six right", "wrong", "Read on", "Show the working")
	wrong.lacksNumbers(t, right)
	work := b.press(page, practised, append(fieldsOf(map[string]string{first: "1.5"}), "do", "work")...)
	work.want(t, http.StatusOK, "How the numbers come about", "Right number")
	if n := strings.Count(work.Body, "Right number"); n != len(right) {
		t.Errorf("the working shows %d right numbers, want %d", n, len(right))
	}
}

// lacksNumbers fails where a page holds one of the numbers.
func (p *page) lacksNumbers(t *testing.T, numbers map[string]string) {
	t.Helper()
	for id, text := range numbers {
		if strings.Contains(text, ".") && len(text) > 4 && strings.Contains(p.Body, text) {
			t.Errorf("%s holds %s, the right %s", p.Path, text, id)
		}
	}
}

// Nobody gets the key of an own sheet by practising on its sizes; once it is
// released there is nothing to hide.
func TestPracticeKeepsTheKey(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	own := fmt.Sprintf("%s?seed=%d", practised, b.sheet.Issued.Seed)
	b.pupil.get(own).want(t, http.StatusOK, "This blank has the sizes of your own sheet").lacks(t, "Check my numbers")
	numbers := append(fieldsOf(b.right()), "seed", fmt.Sprint(b.sheet.Issued.Seed), "do", "work")
	b.pupil.post(practised, numbers...).want(t, http.StatusUnprocessableEntity, "This blank has the sizes of your own sheet").lacks(t, "right", "Right number")
	other := b.pupil.get(practised+"?seed=7").want(t, http.StatusOK, "Check my numbers")
	b.pupil.press(other, practised, "n-tip_depth", "5", "do", "work").want(t, http.StatusOK, "waits for its key").lacks(t, "Right number", "Show the working")

	b.teacher.post(b.given + "/release")
	b.pupil.get(own).want(t, http.StatusOK, "Check my numbers")
	b.pupil.press(other, practised, "n-tip_depth", "5", "do", "work").want(t, http.StatusOK, "Right number")
}

// What cannot be practised is nowhere, and whoever draws blanks by machine is
// told to wait.
func TestPracticeRefuses(t *testing.T) {
	t.Parallel()
	h := startServer(t, withLessons(t))
	b := h.browser()
	for _, path := range []string{"/practice/none-such?seed=1", practised + "?seed=x", practised + "?seed=-1", practised + "?seed=99999999999999999999"} {
		b.get(path).want(t, http.StatusNotFound)
	}
	for range limitPractice.free + 1 {
		h.Server.failures.failed("practice from 127.0.0.1", limitPractice)
	}
	p := b.get(practised+"?seed=1").want(t, http.StatusTooManyRequests, "One moment")
	if p.Header.Get("Retry-After") == "" {
		t.Error("no Retry-After")
	}
	h.pass(limitPractice.most * 2)
	b.get(practised+"?seed=1").want(t, http.StatusOK)
}
