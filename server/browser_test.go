package server

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// TestBrowser goes through a real browser from the first start of a server to
// the class's common errors. Every page on the way is looked at.
func TestBrowser(t *testing.T) {
	chromium := startChromium(t)
	for _, way := range []struct {
		name   string
		size   window
		script bool
	}{
		{"phone", phone, true},
		{"desktop", desktop, true},
		{"phone without script", phone, false},
	} {
		t.Run(way.name, func(t *testing.T) {
			t.Parallel()
			s := newStory(t, chromium, way.size, way.script)
			s.setUp()
			s.roster()
			s.printCards()
			s.assign()
			s.signIn()
			s.firstTry()
			s.correct()
			s.next()
			s.others()
			s.clear()
			s.change()
			s.review()
		})
	}
	t.Run("other pages", func(t *testing.T) {
		t.Parallel()
		testOtherPages(t, chromium)
	})
	t.Run("own modules", func(t *testing.T) {
		t.Parallel()
		testModules(t, chromium)
	})
	t.Run("lessons", func(t *testing.T) {
		t.Parallel()
		testLessons(t, chromium)
	})
	t.Run("typing", func(t *testing.T) {
		t.Parallel()
		testTyping(t, chromium)
	})
	t.Run("turning", func(t *testing.T) {
		t.Parallel()
		testTurning(t, chromium)
	})
	t.Run("weight", func(t *testing.T) {
		t.Parallel()
		testWeight(t, chromium)
	})
}

// story is one class from its beginning to its review.
type story struct {
	t        *testing.T
	chromium context.Context
	h        *harness
	size     window
	script   bool
	pc       *tab // the shared PC, where the instructor sets up as well
	walker   *tab // what the instructor carries round
	own      *tab // the student's own device
	class    store.Class
	codes    map[string]string // by student, as printed
	key      grading.Sheet
	exercise *grading.Exercise
	slip     slipPlan
	sheet    string // its address
}

const (
	instructorName = "Ida Marlow"
	studentName    = "Wanda Petersen"
)

func newStory(t *testing.T, chromium context.Context, size window, script bool) *story {
	h := startServer(t, func(c *Config) { c.Lessons = shippedLessons(t) })
	s := &story{t: t, chromium: chromium, h: h, size: size, script: script}
	s.pc = s.device()
	return s
}

// device is another window on the same server.
func (s *story) device() *tab {
	b := newTab(s.t, s.chromium, s.h.URL, s.size)
	if !s.script {
		b.scripts(false)
	}
	return b
}

// setUp follows the one-time link that the first start prints, makes the
// instructor's account, and makes a class.
func (s *story) setUp() {
	path, needed, err := SetUpPath(context.Background(), s.h.Server.cfg)
	if err != nil || !needed {
		s.t.Fatalf("SetUpPath = %q, %v, %v, want a path", path, needed, err)
	}
	b := s.pc
	b.open("/").want(200, "This server is new").look("start, new")
	b.open(path).want(200, "Make the first account").look("account")
	b.press("Make my account").want(422, "Type your name.").look("account, with faults")
	b.fill("name", instructorName)
	b.fill("email", "ida@shop.example")
	b.fill("password", testPassword)
	b.press("Make my account").want(200, "Your account is made").look("classes, none")
	b.press("Next: make a class").want(200).look("class form")
	b.fill("name", "Thursday bench")
	b.fill("zone", "Lisbon")
	b.leads(chromedp.KeyEvent(kb.Enter))
	b.want(200, "Thursday bench").look("class, empty")
	s.class, err = s.h.Store.ClassByID(context.Background(), 1)
	if err != nil {
		s.t.Fatal(err)
	}
}

// roster pastes a list, looks at what it would do, and adds it.
func (s *story) roster() {
	b := s.pc
	b.open(classPath(s.class, "/roster")).want(200, "Nobody is on the roster yet").look("roster, empty")
	b.choose(field("list"))
	b.do(pasted(studentName + ", 3\nEno Brandt, 5\nMira Koval\nno bench, x\n"))
	b.press("Look at it first").want(200, "Nothing is added yet", studentName).look("roster, what would be added")
	b.press("Add these").want(200, "Mira Koval").look("roster")
}

// pasted puts a text in as pasting does.
func pasted(text string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		_, err := cdp.Call(ctx, s, input.InsertText, input.InsertTextParams{Text: text})
		return err
	})
}

// printCards makes the cards and reads the codes off the printed page.
func (s *story) printCards() {
	b := s.pc
	b.open(classPath(s.class, "/cards")).want(200).look("cards")
	b.press("show the page").want(200, "Print this page before you leave it").look("cards to print")
	s.codes = eval[map[string]string](b, `Object.fromEntries([...document.querySelectorAll(".card")].map((c) => [c.querySelector("h2").innerText, c.querySelectorAll("dd")[1].innerText]))`)
	if len(s.codes) != 3 || s.codes[studentName] == "" {
		s.t.Fatalf("codes on the cards: %v, want three", s.codes)
	}
}

// assign gives the short exercise to everybody.
func (s *story) assign() {
	b := s.pc
	b.open(classPath(s.class, "/assignments/new")).want(200).look("assign")
	b.choose(`document.querySelector("input[name=exercise][value=head-v-joint-first]")`)
	b.press("Give out the sheets").want(200, "3 sheets given out").look("assignment")
	b.open(classPath(s.class, "/assignments/1/review")).want(200).look("review, empty")
	b.open(classPath(s.class, "")).want(200).look("class")
	b.press("Leave").want(200)
}

// signIn starts at the address that a shop keeps open on its shared PC.
func (s *story) signIn() {
	b := s.pc
	b.open("/enter/"+s.class.Code).want(200, "Type your code").look("code")
	began := time.Now()
	// The cursor is in the field already: ten keys and Enter, no mouse.
	code := strings.ReplaceAll(s.codes[studentName], " ", "")
	if len(code) != 10 {
		s.t.Errorf("the code %q has %d characters, want 10", code, len(code))
	}
	b.leads(chromedp.KeyEvent(code + kb.Enter))
	b.want(200, "Head V joint, first six")
	// Somebody who looks for every key needs 0.6 s for each (20 words a minute).
	took := time.Since(began) + time.Duration(len(code)+1)*600*time.Millisecond
	s.t.Logf("signed in after %d keys; with a slow hand %.1f s", len(code)+1, took.Seconds())
	if took > 10*time.Second {
		s.t.Errorf("signing in takes %v, want less than 10 s", took)
	}
	b.look("sheets")
}

// firstTry types every number, one of them wrong in a known way, and sends.
func (s *story) firstTry() {
	b := s.pc
	b.press("Head V joint, first six").want(200)
	s.sheet = b.path()
	s.plan()
	b.want(200, "six numbers to set out").look("sheet, empty")
	for _, st := range s.key.Steps {
		b.fill(fieldOf(st.ID), s.slip.texts[st.ID])
	}
	for _, st := range s.key.Steps {
		if s.script {
			b.await("Read as " + s.slip.reads[st.ID] + ".")
		}
	}
	b.look("sheet, typed")
	b.walk("/sheets", "Next student", "send", fieldOf(s.slip.step))
	s.send("Send my numbers", "Six numbers read", s.slip.reads[s.slip.step])
	b.want(200, "Five of six right", s.slip.says, "Read as "+s.slip.reads[s.slip.step]).look("result, one slip")
	if got := eval[string](b, `document.querySelector(".big").innerText`); got != s.slip.fit {
		s.t.Errorf("the result shows the fit %q, want %q", got, s.slip.fit)
	}
	s.keyless()
}

// keyless fails when the page gives the right number of the step with the slip.
func (s *story) keyless() {
	b := s.pc
	number := regexp.QuoteMeta(bare(s.slip.right))
	if found := regexp.MustCompile(`(^|[^\d.])` + number + `\d*($|[^\d.])`).FindString(b.text()); found != "" {
		s.t.Errorf("%s gives the right number of %s away: %q", b.path(), s.slip.step, found)
	}
}

// send presses the button; without script the readings are shown before.
func (s *story) send(button string, readings ...string) {
	b := s.pc
	if s.own != nil {
		b = s.own
	}
	if !s.script {
		b.press("Read my numbers").want(200, "Is that what you meant?").want(200, readings...).look("check")
		button = "Send these numbers"
	}
	b.press(button)
}

// correct follows the hint to the field, puts the number right, and asks for
// a check.
func (s *story) correct() {
	b := s.pc
	b.press("Go to number").want(200, s.slip.says, "five of six right").look("sheet, one slip")
	b.fill(fieldOf(s.slip.step), s.slip.right)
	if s.script {
		b.await("Read as " + s.slip.right)
	}
	s.send("Send what is new", s.slip.right)
	b.want(200, "All six right").look("result, all right")
	b.press("Ask for a check").want(200, "place 1").look("sheet, waits")
}

// next ends the student's turn at the shared PC: nothing is left behind.
func (s *story) next() {
	b := s.pc
	if s.script {
		b.fill(fieldOf(s.slip.step), "99")
		b.await("One number is new and still only on this device")
		b.await("Read as 99")
	}
	began := time.Now()
	b.press("Next student").want(200, "Type your code").look("code, after the turn")
	s.t.Logf("next student: %v", time.Since(began).Round(time.Millisecond))
	if n := eval[int](b, `localStorage.length + sessionStorage.length`); n != 0 {
		s.t.Errorf("the PC still holds %d things of the last student", n)
	}
	b.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		kept, err := cdp.Call(ctx, target, storage.GetCookies, storage.GetCookiesParams{})
		for _, c := range kept.Cookies {
			s.t.Errorf("the PC still holds the cookie %s", c.Name)
		}
		return err
	}))
	for range 4 {
		b.back()
		text := b.text()
		for _, mine := range []string{"Wanda", "Petersen", "six numbers", s.slip.right} {
			if strings.Contains(text, mine) {
				s.t.Fatalf("Back at the shared PC shows %q at %s:\n%s", mine, b.path(), text)
			}
		}
	}
	// The address itself is closed as well.
	b.open(s.sheet)
	if p := b.path(); !strings.HasPrefix(p, "/enter") {
		s.t.Errorf("the sheet's address leads to %s, want to where codes are typed", p)
	}
}

// others lets a second student make the same slip, over plain forms.
func (s *story) others() {
	ctx := context.Background()
	students, err := s.h.Store.Students(ctx, s.class.ID)
	if err != nil {
		s.t.Fatal(err)
	}
	s.h.pass(4 * time.Minute)
	for _, st := range students {
		if st.Name != "Eno Brandt" {
			continue
		}
		b := s.h.student(s.class, st)
		path := b.get("/sheets").want(s.t, 200).link("Head V joint, first six")
		p := b.get(path).want(s.t, 200)
		sheet := s.stored(path)
		plan := planSlip(s.t, s.exercise, sheet, s.slip.id, s.slip.detail, s.slip.step)
		var form []string
		for _, asked := range sheet.Steps {
			form = append(form, fieldOf(asked.ID), plan.texts[asked.ID])
		}
		p = b.press(p, path+"/check", form...).want(s.t, 200)
		b.press(p, path+"/attempts").want(s.t, 200, plan.says)
	}
}

// clear is the instructor's walk: the room shows who waits, the bench shows
// the slip, and the leave to cut reaches the student with name and time.
func (s *story) clear() {
	b := s.device()
	s.walker = b
	b.open("/signin").want(200).look("sign in")
	b.fill("email", "ida@shop.example")
	b.fill("password", testPassword)
	b.leads(chromedp.KeyEvent(kb.Enter))
	b.want(200, "Thursday bench").look("classes")
	b.press("Thursday bench").want(200)
	b.press("Room").want(200, "Wanda P.", "waits", "Eno B.", "working").look("room")
	if place := eval[string](b, `document.querySelector(".bench.next .state text").textContent`); place != "1" {
		s.t.Errorf("bench 3 waits at place %s, want 1", place)
	}
	b.press("Check bench 3").want(200, "Wanda P. waits for a check", s.slip.says, "6 of 6 right").look("bench, waits")
	s.h.pass(time.Minute)
	b.press("Clear bench 3 to cut").want(200, "Bench 3 may cut").look("room, cleared")
	s.student()
	s.own.open(s.sheet).want(200, "you may cut", "Cleared by "+instructorName+" at 07:05").look("sheet, may cut")
}

// student signs in on a device of their own with both codes of the card.
func (s *story) student() {
	b := s.device()
	s.own = b
	b.open("/").want(200).look("start")
	b.press("I have a card").want(200).look("both codes")
	b.fill("class", s.class.Code)
	b.fill("code", strings.ToLower(s.codes[studentName]))
	b.choose(field("shared"))
	b.press("Start").want(200, "Head V joint, first six").look("sheets, may cut")
}

// change sends another number: the leave to cut ends, and both sides say so.
func (s *story) change() {
	b := s.own
	b.fillOn(s.sheet, fieldOf(s.slip.step), s.slip.texts[s.slip.step])
	if s.script {
		b.await("Read as " + s.slip.reads[s.slip.step])
	}
	s.send("Send what is new")
	b.want(200, s.slip.says)
	b.open(s.sheet).want(200, "Leave to cut has ended: new numbers were sent.").look("sheet, leave ended")
	s.walker.press("Wanda P.").want(200, "Clearance ended: new numbers were sent", "Not cleared").look("bench, leave ended")
	if strings.Contains(s.walker.text(), "Wanda P. may cut") {
		s.t.Error("the bench still says that she may cut")
	}
}

// fillOn opens a page and fills a field there.
func (b *tab) fillOn(path, name, text string) {
	b.t.Helper()
	b.open(path).want(200)
	b.fill(name, text)
}

// review shows the slip with its count: on two sheets, three answers.
func (s *story) review() {
	b := s.walker
	b.open(classPath(s.class, "/assignments/1/review")).want(200, slipClause(s.slip.says)).look("review")
	row := eval[[]string](b, fmt.Sprintf(`[...[...document.querySelectorAll("tr")].find((r) => r.innerText.includes(%s)).cells].slice(1, 3).map((c) => c.innerText)`, quoted(slipClause(s.slip.says))))
	if fmt.Sprint(row) != "[2 3]" {
		s.t.Errorf("the review counts %v sheets and answers with the slip, want [2 3]", row)
	}
	for name := range s.codes {
		if first, _, _ := strings.Cut(name, " "); strings.Contains(b.text(), first) {
			s.t.Errorf("the review shows a name: %s", first)
		}
	}
}
