package server

import (
	"context"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/html/atom"
)

// cardCodes reads the personal codes off the page to be printed, by name.
func cardCodes(p *page) map[string]string {
	codes, name := map[string]string{}, ""
	for n := range p.Doc.Descendants() {
		switch {
		case n.DataAtom == atom.H2:
			name = textOf(n)
		case n.DataAtom == atom.Dd && attr(n, "class") == "code":
			codes[name] = textOf(n) // the personal code is the last of a card
		}
	}
	return codes
}

// The whole way: make cards, print them, sign in at a shared PC, hand the PC
// to the next student.
func TestCards(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	cards := classPath(class, "/cards")
	b.get(cards).want(t, 200, "Nobody is on the roster yet")
	h.students(class, staff, "Wanda Petersen", "Oskar Hale")
	page := b.get(cards).want(t, 200, "Two cards to print", "only this machine itself can reach") // it runs on 127.0.0.1
	printed := b.press(page, cards).want(t, 200, "Print this page", "Wanda Petersen", "Bench 2", groups(class.Code), "A new card ends the old one.")
	codes := cardCodes(printed)
	if len(codes) != 2 || len(codes["Wanda Petersen"]) != 12 || codes["Wanda Petersen"] == codes["Oskar Hale"] {
		t.Fatalf("codes = %v", codes)
	}
	if got := strings.Count(printed.Body, `class="qr"`); got != 2 {
		t.Errorf("%d QR codes, want 2", got)
	}
	b.get(cards).want(t, 200, "Everybody has a card").lacks(t, codes["Wanda Petersen"])
	// A second press of the first button must not end the cards just made.
	b.press(page, cards).want(t, 409, "No card was made by this press")

	pc := h.browser()
	enter := pc.get("/enter/"+strings.ToLower(class.Code)).want(t, 200, "Class "+groups(class.Code))
	if enter.field("class") != nil {
		t.Error("the class code is asked though it stands in the address")
	}
	in := pc.press(enter, "/enter/"+class.Code, "code", " "+strings.ToLower(codes["Wanda Petersen"]))
	if in.Path != "/sheets" {
		t.Fatalf("the code led to %s: %s", in.Path, in.text())
	}
	next := pc.press(in, "/next").want(t, 200, "Type your code", groups(class.Code))
	if next.Path != "/enter/"+class.Code {
		t.Errorf("Next student led to %s", next.Path)
	}
	if p := pc.get("/sheets"); p.Path != "/enter" {
		t.Errorf("after Next student /sheets gives %s", p.Path)
	}
	if p := pc.press(next, "/enter/"+class.Code, "code", codes["Oskar Hale"]); p.Path != "/sheets" {
		t.Errorf("the next student's code led to %s: %s", p.Path, p.text())
	}
	if log := h.Log.String(); strings.Contains(log, "Wanda") || strings.Contains(log, codes["Oskar Hale"]) || strings.Contains(log, strings.ReplaceAll(codes["Oskar Hale"], " ", "")) ||
		!strings.Contains(log, "cards issued") {
		t.Errorf("the log holds what it should not, or lacks the cards:\n%s", log)
	}
}

// Leaving tells the browser to forget everything, also when the time was up.
func TestNextStudentClears(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	st := h.students(class, staff, "Wanda Petersen")[0]
	_, code := h.card(class, st)
	for _, idle := range []time.Duration{0, 4 * time.Minute} {
		pc := h.browser()
		pc.client.CheckRedirect = stopRedirects
		pc.post("/enter/"+class.Code, "code", code, "shared", "on").want(t, 303)
		old := pc.client.Jar.Cookies(h.base())
		h.pass(idle)
		next := pc.post("/next").want(t, 303)
		if got := next.Header.Get("Clear-Site-Data"); got != `"cache", "cookies", "storage"` {
			t.Errorf("Clear-Site-Data = %q", got)
		}
		if got := next.Header.Get("Location"); got != "/enter/"+class.Code {
			t.Errorf("after %v Next student leads to %s", idle, got)
		}
		if got := next.Header.Get("Cache-Control"); !strings.Contains(got, "no-store") {
			t.Errorf("Cache-Control = %q", got)
		}
		// The old cookie, kept by whoever, leads nowhere.
		thief := h.browser()
		thief.client.Jar.SetCookies(h.base(), old)
		if p := thief.get("/sheets"); p.Path != "/enter" {
			t.Errorf("the old cookie leads to %s", p.Path)
		}
	}
}

// A request that was still under way must not bring the session back.
func TestEndedSessionStaysEnded(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	b := h.student(class, h.students(class, staff, "Wanda Petersen")[0])
	m := h.Server.sessions
	slow, err := m.Load(context.Background(), b.client.Jar.Cookies(h.base())[0].Value)
	if err != nil || m.GetInt(slow, sessionStudent) == 0 {
		t.Fatalf("no session: %v", err)
	}
	m.Put(slow, sessionSeen, h.Now().Unix())
	b.post("/leave").want(t, 200)
	token, _, err := m.Commit(slow)
	if err != nil {
		t.Fatal(err)
	}
	again, err := m.Load(context.Background(), token)
	if err != nil || m.GetInt(again, sessionStudent) != 0 {
		t.Errorf("the session is back: student %d, %v", m.GetInt(again, sessionStudent), err)
	}
}

// A new card ends the session, the code and the link of the old one.
func TestNewCardEndsTheOld(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	sts := h.students(class, staff, "Wanda Petersen", "Oskar Hale")
	token, code := h.card(class, sts[0])
	other := h.student(class, sts[1])
	wanda := h.browser()
	wanda.press(wanda.get("/card/"+token).want(t, 200, "You are Wanda Petersen, bench 1"), "/card/"+token)
	cards := classPath(class, "/cards")
	again := b.press(b.get(cards), cards+"/again", "student", "1").want(t, 200, "One old card ends", "Wanda Petersen")
	again.lacks(t, "Oskar")
	fresh := cardCodes(b.press(again, cards).want(t, 200, "Print this page"))
	if p := wanda.get("/sheets"); p.Path != "/enter" {
		t.Errorf("the old session leads to %s", p.Path)
	}
	wanda.get("/card/"+token).want(t, 404, "This card no longer counts")
	wanda.post("/enter", "class", class.Code, "code", code).want(t, 422, "No card has this code")
	if p := wanda.post("/enter", "class", class.Code, "code", fresh["Wanda Petersen"]); p.Path != "/sheets" {
		t.Errorf("the new code leads to %s: %s", p.Path, p.text())
	}
	if p := other.get("/sheets"); p.Path != "/sheets" {
		t.Errorf("somebody else was signed out: %s", p.Path)
	}
	b.press(b.get(cards), cards+"/again", "who", "all").want(t, 200, "Two old cards end")
	b.get(cards+"/again").want(t, 422, "Choose at least one student.")
}

// Two presses at once issue one set, and the set that is shown is the one that
// counts.
func TestCardsPressedTwiceAtOnce(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	h.students(class, staff, "Wanda Petersen", "Oskar Hale")
	cards := classPath(class, "/cards")
	form := formValues(b.get(cards).form(cards))
	var presses sync.WaitGroup
	answers := make([]*page, 3)
	for i := range answers {
		presses.Go(func() { answers[i] = b.send("POST", cards, form) })
	}
	presses.Wait()
	shown := 0
	for _, p := range answers {
		switch p.Status {
		case 200:
			shown++
			if got := h.browser().post("/enter/"+class.Code, "code", cardCodes(p)["Oskar Hale"]); got.Path != "/sheets" {
				t.Errorf("the code shown leads to %s", got.Path)
			}
		case 409:
		default:
			t.Errorf("a press gave %d: %s", p.Status, p.text())
		}
	}
	if shown != 1 {
		t.Errorf("%d pages of cards shown, want 1", shown)
	}
}

// Looking at a card's link changes nothing, and foreign fields change nothing.
func TestCardLinkOnlyLooks(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	st := h.students(class, staff, "Wanda Petersen")[0]
	token, _ := h.card(class, st)
	b := h.browser()
	b.get("/card/"+token).want(t, 200, "Start")
	if p := b.get("/sheets"); p.Path != "/enter" {
		t.Errorf("looking signed in: %s", p.Path)
	}
	b.get("/card/"+token+"x").want(t, 404)
	b.get("/card/x").want(t, 404)
	p := b.post("/card/"+token, "student", "2", "class", "999", "staff", "1")
	if p.Path != "/sheets" {
		t.Errorf("the link led to %s", p.Path)
	}
	b.get("/classes").want(t, 404)
}

// A student's session in the browser of somebody who teaches takes the
// teaching away, and the other way round.
func TestOnePrincipalABrowser(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, staff := h.staff("ada", true)
	class := h.class(staff)
	token, _ := h.card(class, h.students(class, staff, "Wanda Petersen")[0])
	b.post("/card/" + token)
	b.get(classPath(class, "")).want(t, 404)
	b.post("/signin", "email", staff.Email, "password", testPassword)
	b.get(classPath(class, "")).want(t, 200)
	if p := b.get("/sheets"); p.Status != 404 {
		t.Errorf("/sheets for staff = %d", p.Status)
	}
}

func TestEnterRefusals(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	sts := h.students(class, staff, "Wanda Petersen", "Oskar Hale")
	_, code := h.card(class, sts[0])
	_, oskar := h.card(class, sts[1])
	b := h.browser()
	b.post("/enter").want(t, 422, "Type the class code", "Type the code of your own")
	b.post("/enter", "class", "ABCD", "code", "*").want(t, 422, "A class code has eight letters and figures; this has 4.", "letters from A to Z and figures only")
	wrong := code[:9] + string(codeLetters[(strings.IndexByte(codeLetters, code[9])+1)%32])
	unknownClass := b.post("/enter", "class", "AAAAAAAA", "code", code).want(t, 422)
	wrongCode := b.post("/enter", "class", class.Code, "code", wrong).want(t, 422)
	if strings.ReplaceAll(unknownClass.Body, "AAAAAAAA", class.Code) != strings.ReplaceAll(wrongCode.Body, wrong, code) {
		t.Errorf("unknown class and wrong code differ:\n%s\n%s", unknownClass.text(), wrongCode.text())
	}
	if attr(wrongCode.field("code"), "value") != wrong {
		t.Error("what was typed is lost")
	}
	for range 5 {
		b.post("/enter", "class", class.Code, "code", wrong).want(t, 422)
	}
	slow := b.post("/enter", "class", class.Code, "code", code).want(t, 429, "Wait 2 seconds")
	if slow.Header.Get("Retry-After") != "2" {
		t.Errorf("Retry-After = %q", slow.Header.Get("Retry-After"))
	}
	// Only this one account is slowed: the neighbour at the same PC is not.
	if p := b.post("/enter", "class", class.Code, "code", oskar); p.Path != "/sheets" {
		t.Errorf("the neighbour is refused: %s", p.text())
	}
	h.pass(3 * time.Second)
	if p := b.post("/enter", "class", class.Code, "code", code); p.Path != "/sheets" {
		t.Errorf("the right code is refused: %s", p.text())
	}
}

// Guessing heads at random is slowed for the class at that address, but never
// for longer than half a minute.
func TestGuessingAClassIsSlowed(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b := h.browser()
	refused := 0
	for i := 0; refused == 0 && i < 60; i++ {
		if b.post("/enter/KX4M7TQP", "code", newCode(personalCodeLen)).Status == 429 {
			refused = i
		}
	}
	if refused < 30 || refused > 45 {
		t.Errorf("refused after %d guesses, want about 40", refused)
	}
	for range 20 {
		h.pass(31 * time.Second)
		b.post("/enter/KX4M7TQP", "code", newCode(personalCodeLen)).want(t, 422)
	}
}

// At a shared PC the session ends after three minutes without a press, and a
// form sent after that is told not to have been received.
func TestSharedSessionEnds(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	_, code := h.card(class, h.students(class, staff, "Wanda Petersen")[0])
	pc := h.browser()
	sit := func() { pc.post("/enter/"+class.Code, "code", code, "shared", "on") }
	sit()
	for range 10 {
		h.pass(170 * time.Second)
		if p := pc.get("/sheets"); p.Path != "/sheets" {
			t.Fatalf("signed out while at work: %s", p.Path)
		}
	}
	h.pass(181 * time.Second)
	late := pc.get("/sheets").want(t, 200, "You were signed out because nothing was pressed")
	if late.Path != "/enter/"+class.Code {
		t.Errorf("late, and led to %s", late.Path)
	}
	sit()
	h.pass(181 * time.Second)
	lost := pc.post(classPath(class, "/sheets/1/attempts"), "x", "1").want(t, 401, "this was not received")
	if got := lost.link("sign in again"); got != "/enter/"+class.Code {
		t.Errorf("the way back is %q", got)
	}
	// Forty-five minutes are the most, however busy.
	sit()
	for range 16 {
		h.pass(170 * time.Second)
		pc.get("/sheets")
	}
	if p := pc.get("/sheets"); p.Path == "/sheets" {
		t.Error("still signed in after 45 minutes")
	}
}

// An own device stays signed in over the weekend.
func TestOwnDeviceStays(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	b := h.student(class, h.students(class, staff, "Wanda Petersen")[0])
	h.pass(13 * 24 * time.Hour)
	if p := b.get("/sheets"); p.Path != "/sheets" {
		t.Errorf("signed out after 13 days: %s", p.Path)
	}
	h.pass(14*24*time.Hour + time.Minute)
	if p := b.get("/sheets"); p.Path != "/enter/"+class.Code {
		t.Errorf("after 14 idle days /sheets gives %s", p.Path)
	}
}
