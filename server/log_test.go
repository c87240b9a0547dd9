package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"
)

// secretsOf are what a flow uses and no log may hold.
type secretsOf struct {
	*school
	planted map[string]string // by what it is
}

// plant notes a secret and gives it back.
func (s *secretsOf) plant(what, text string) string {
	if len(text) < 4 {
		s.t.Fatalf("%s is too short to look for: %q", what, text)
	}
	s.planted[what] = text
	return text
}

// sent sends a form and expects it to be taken.
func (s *secretsOf) sent(token, path string, status int, form ...string) *page {
	s.t.Helper()
	p := s.ask(call{Method: http.MethodPost, Path: path, Token: token, Body: fields(form...).Encode()})
	if p.Status != status {
		s.t.Fatalf("%s = %d, want %d:\n%s", path, p.Status, status, p.text())
	}
	return p
}

// cookieOf is the session that an answer starts.
func cookieOf(p *page) string {
	_, after, _ := strings.Cut(p.Header.Get("Set-Cookie"), "=")
	token, _, _ := strings.Cut(after, ";")
	return token
}

// A whole flow, from accounts over cards and answers to refusals and a lost
// database, leaves in the log who did what and when, by numbers, and none of
// the passwords, codes, links, names and answers in it.
func TestLogHoldsNoSecrets(t *testing.T) {
	t.Parallel()
	s := &secretsOf{newSchool(t), map[string]string{}}
	staff := s.staffFlow()
	s.studentFlow(staff)
	s.refusedFlow()
	s.cutOff()
	for _, c := range []call{
		{Method: http.MethodPost, Path: "/signin", Body: fields("email", s.planted["e-mail"], "password", s.planted["new password"]).Encode()},
		{Method: http.MethodPost, Path: "/enter/" + s.class.Code, Body: fields("code", s.code).Encode()},
		{Method: http.MethodGet, Path: "/card/" + s.planted["card link"]},
	} {
		s.ask(c)
	}
	log := s.Log.String()
	if len(s.planted) < 20 {
		t.Errorf("%d secrets planted, want 20 at least", len(s.planted))
	}
	for what, text := range s.planted {
		for _, form := range []string{text, strings.ReplaceAll(text, " ", ""), strings.ReplaceAll(text, " ", "+"), strings.ToLower(text)} {
			if strings.Contains(strings.ToLower(log), strings.ToLower(form)) {
				t.Errorf("the log holds the %s %q: %s", what, form, lineWith(log, form))
			}
		}
	}
	wantEvents(t, log)
}

func lineWith(log, text string) string {
	for line := range strings.Lines(log) {
		if strings.Contains(strings.ToLower(line), strings.ToLower(text)) {
			return line
		}
	}
	return ""
}

// wantEvents reads the log as what it is, one JSON object a line, and looks
// for what has to be in it.
func wantEvents(t *testing.T, log string) {
	t.Helper()
	count := map[string]int{}
	for line := range strings.Lines(log) {
		var event struct {
			Time  time.Time
			Level string
			Msg   string
		}
		if err := json.Unmarshal([]byte(line), &event); err != nil || event.Time.IsZero() || event.Msg == "" || event.Level == "" {
			t.Errorf("not an event: %q (%v)", line, err)
		}
		count[event.Msg]++
	}
	for _, msg := range []string{
		"account made", "staff signed in", "sign-in refused", "password changed", "class made", "link made",
		"roster added to", "roster changed", "student removed", "cards issued", "student signed in", "card refused",
		"assigned", "cleared to cut", "clearance taken back", "clearance ended by new numbers", "key released", "key taken back",
		"refused", "a form from another site refused", "request failed",
	} {
		if count[msg] == 0 {
			t.Errorf("the log does not say %q: %v", msg, count)
		}
	}
}

// staffFlow makes an account, a class with a roster and cards, and gives an
// exercise out.
func (s *secretsOf) staffFlow() (session string) {
	params, _ := aLink(s.school)
	link := "/join/" + s.plant("join link", params["token"])
	s.sent("", link, http.StatusSeeOther, "name", s.plant("instructor's name", "Quirin Zabel"), "email", s.plant("e-mail", "quirin.zabel@shop.example"),
		"password", s.plant("password", "violet anvils sing 71"))
	s.sent("", "/signin", http.StatusUnprocessableEntity, "email", s.planted["e-mail"], "password", s.plant("wrong password", "indigo anvils sing 72"))
	in := s.sent("", "/signin", http.StatusSeeOther, "email", s.planted["e-mail"], "password", s.planted["password"])
	first := s.plant("instructor's session", cookieOf(in))
	again := s.sent(first, "/me/password", http.StatusSeeOther, "old", s.planted["password"], "new", s.plant("new password", "amber chisels hum 73"))
	s.plant("instructor's second session", cookieOf(again))
	ada := s.staffToken(s.instructor.ID)
	s.sent(ada, "/classes", http.StatusSeeOther, "name", s.plant("class name", "Alder Lane evening"), "zone", "Europe/Lisbon", "units", "mm",
		"projection", "first", "fit_word", "tight", "length_step", "0.1", "angle_step", "0.1", "paper", "A4")
	made := s.sent(ada, classPath(s.class, "/people/links"), http.StatusOK, "kind", "clearer")
	s.plant("second join link", made.textAfter("/join/"))
	s.sent(ada, classPath(s.class, "/roster"), http.StatusSeeOther, "name", s.plant("student's name", "Ottokar Fennhals"), "bench", "31")
	_, list := nameList(s.school)
	s.plant("name in a list", strings.Fields(list[1])[0]+" "+strings.Fields(list[1])[1])
	s.sent(ada, classPath(s.class, "/roster/add"), http.StatusSeeOther, list...)
	s.sent(ada, fmt.Sprintf("%s/students/%d", classPath(s.class, ""), s.students[0].No), http.StatusSeeOther, "name", s.plant("changed name", "Wanda Peterzell"), "bench", "1")
	gone, _ := newStudent(false)(s.school)
	s.sent(ada, classPath(s.class, "/students/"+gone["student"]+"/remove"), http.StatusSeeOther)
	_, form := cardForm(s.school)
	cards := s.sent(ada, classPath(s.class, "/cards"), http.StatusOK, form...)
	for _, code := range cardCodes(cards) {
		s.plant("printed code", code)
	}
	_, give := assignmentFields(s.school)
	s.sent(ada, classPath(s.class, "/assignments/new"), http.StatusSeeOther, give...)
	return ada
}

// studentFlow signs in with code and link, sends numbers, asks, is cleared,
// sends again, and sees the key.
func (s *secretsOf) studentFlow(staff string) {
	s.plant("class code", s.class.Code)
	s.plant("personal code", s.code)
	s.sent("", "/card/"+s.plant("card link", s.token), http.StatusSeeOther)
	in := s.sent("", "/enter", http.StatusSeeOther, "class", s.class.Code, "code", s.code, "shared", "on")
	pupil := s.plant("student's session", cookieOf(in))
	base := fmt.Sprintf("%s/sheets/%d", classPath(s.class, ""), s.sheet)
	_, form := numbers(s.school)
	for i := 4; i < len(form); i += 2 {
		s.plant("answer "+form[i], form[i+1])
	}
	s.plant("key of a press", form[1])
	s.sent(pupil, base+"/readings", http.StatusOK, form...)
	s.sent(pupil, base+"/check", http.StatusOK, form...)
	s.sent(pupil, base+"/attempts", http.StatusSeeOther, form...)
	s.sent(pupil, base+"/ask", http.StatusSeeOther)
	attempt := fmt.Sprint(queryOne[int](s.world, `SELECT attempts FROM sheets WHERE class_id = $1 AND no = $2`, s.class.ID, s.sheet))
	s.sent(staff, base+"/clear", http.StatusSeeOther, "attempt", attempt)
	s.sent(staff, base+"/revoke", http.StatusSeeOther, "why", s.plant("reason", "saw wobbles on the far cheek"))
	s.sent(staff, base+"/clear", http.StatusSeeOther, "attempt", attempt)
	_, form = numbers(s.school)
	s.sent(pupil, base+"/attempts", http.StatusSeeOther, form...)
	given := fmt.Sprintf("%s/assignments/%d", classPath(s.class, ""), s.work.assignment.No)
	s.sent(staff, given+"/release", http.StatusSeeOther)
	s.sent(staff, given+"/takeback", http.StatusSeeOther, "note", s.plant("note", "shown to the wrong bench"))
}

// refusedFlow tries what is not allowed, with secrets in every place.
func (s *secretsOf) refusedFlow() {
	wrong := s.plant("wrong code", "ZZZZ9ZZZZZ")
	s.sent("", "/enter", http.StatusUnprocessableEntity, "class", s.class.Code, "code", wrong)
	pupil := s.studentToken(s.class, s.students[0].No, false)
	s.sent(pupil, classPath(s.class, "/roster"), http.StatusNotFound, "name", s.planted["student's name"])
	s.ask(call{Method: http.MethodGet, Token: pupil, Path: classPath(s.other, "/roster") + "?name=Ottokar+Fennhals%0d%0a{}"})
	s.ask(call{Method: http.MethodPost, Token: pupil, Path: "/next", Header: http.Header{"Origin": {"https://elsewhere.example"}}})
	s.ask(call{Method: http.MethodGet, Path: "/join/" + s.planted["join link"]})
}

// textAfter is the word that follows a piece of text on the page, in texts and
// in fields.
func (p *page) textAfter(piece string) string {
	_, after, _ := strings.Cut(p.Body, piece)
	end := strings.IndexFunc(after, func(r rune) bool { return strings.ContainsRune(`"'<> `+"\n", r) })
	return after[:max(end, 0)]
}
