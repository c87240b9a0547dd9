package server

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// newDay is a story without a person in a browser so far: a class with three
// students, and the whole joint given out.
func newDay(t *testing.T, chromium context.Context) *story {
	t.Helper()
	h := startServer(t, func(c *Config) { c.Lessons = shippedLessons(t) })
	s := &story{t: t, chromium: chromium, h: h, size: phone, script: true}
	b, staff := h.staff("ada", true)
	s.class = h.class(staff)
	h.students(s.class, staff, studentName, "Eno Brandt", "Mira Koval")
	p := b.get(classPath(s.class, "/assignments/new"))
	b.press(p, classPath(s.class, "/assignments/new"), "exercise", "head-v-joint").want(t, 200, "3 sheets given out")
	return s
}

// testOtherPages looks at the pages that the story does not come by, most of
// them pages on which something has gone wrong.
func testOtherPages(t *testing.T, chromium context.Context) {
	s := newDay(t, chromium)
	s.strangers()
	s.troubled()
	s.staffPages()
}

// strangers are what somebody sees who is not signed in.
func (s *story) strangers() {
	b := s.device()
	b.open("/nothing/here").want(404).look("nothing there")
	b.open("/join/used").want(404, "can no longer be used").look("link used up")
	b.open("/card/lost").want(404, "no longer counts").look("card lost")
	b.open("/lessons").want(200).look("lessons")
	b.open("/glossary").want(200).look("glossary")
	b.press("tilted instrument head").want(200).look("lesson")
	b.open("/enter").want(200)
	b.press("Start").want(422, "Type the class code").look("both codes, with faults")
	b.open("/signin?to=/classes/1/people").want(200)
	b.fill("email", "ada@shop.example")
	b.fill("password", "not this one at all")
	b.leads(chromedp.KeyEvent(kb.Enter))
	b.want(422, "No account has").look("sign in, refused")
}

// troubled is a student who measures the wood and sends nonsense.
func (s *story) troubled() {
	ctx := context.Background()
	students, err := s.h.Store.Students(ctx, s.class.ID)
	if err != nil {
		s.t.Fatal(err)
	}
	token, _ := s.h.card(s.class, students[0])
	b := s.device()
	b.open("/card/"+token).want(200, "You are "+studentName).look("card")
	b.press("Start").want(200)
	b.open("/skills").want(200).look("skills")
	b.open("/practice/through-dovetail").want(200).look("practice")
	b.open("/sheets")
	b.press("Sheet 1").want(200, "13 numbers")
	s.sheet = b.path()
	b.walk("/sheets", "n-", "send")
	b.press("My wood differs").want(200).look("wood")
	sheet := s.stored(s.sheet)
	b.fill(woodFieldOf("thickness"), "twelve")
	b.press("Read these sizes").want(422).look("wood, with a fault")
	b.fill(woodFieldOf("thickness"), fmt.Sprint(sheet.Parameters["thickness"]+0.5))
	b.press("Read").want(200, "Use these sizes").look("wood, read")
	b.press("Use these sizes").want(200, "as measured")
	b.fill(fieldOf(sheet.Steps[0].ID), "12 mm of nonsense")
	b.await("not sent")
	b.press("Send my numbers").want(422, "could not be read").look("sheet, unreadable")
	b.open("/enter/"+s.class.Code).want(200, "is still signed in here").look("code, somebody there")
}

// staffPages are those beside the way of the story.
func (s *story) staffPages() {
	b := s.device()
	b.open("/signin")
	b.fill("email", "ada@shop.example")
	b.fill("password", testPassword)
	b.leads(chromedp.KeyEvent(kb.Enter))
	for _, page := range []string{"/people", "/settings", "/students/2", "/cards"} {
		b.open(classPath(s.class, page)).want(200).look("class" + page)
	}
	b.open("/me").want(200).look("me")
	b.open(classPath(s.class, "/cards/again?who=chosen&student=1")).want(200, "old card ends").look("new cards")
	b.open(classPath(s.class, "/people"))
	b.choose(`document.querySelector("input[name=kind]").closest("label")`)
	b.press("Make the link").want(200, "copy it").look("people, with a link")
	b.open(classPath(s.class, "/roster"))
	b.fill("bench", "x")
	b.press("Add this student").want(422).look("roster, with faults")
	b.open(classPath(s.class, "/sheets/2/bench")).want(200, "has not started").look("bench, not started")
	b.open(classPath(s.class, "/assignments/1")).want(200)
	b.fill("attempts", "many")
	b.press("Change the terms").want(422).look("assignment, with faults")
	for _, page := range []string{"/report", "/students/1/report", "/assignments/1/alike", "/skills", "/students/1/skills", "/assignments/1/review", "/assignments/1/review/wall", "/assignments/1/review/findings"} {
		b.open(classPath(s.class, page)).want(200).look("class" + page)
	}
	b.open(classPath(s.class, "/assignments/1/key")).want(200, "as given out").look("key")
	b.fill("tolerance-mouth_near", "half a hair")
	b.fill("why", "Our rules read to half a millimetre.")
	b.press("Show what would change").want(422).look("key, with faults")
	b.fill("tolerance-mouth_near", "0.5 mm")
	b.press("Show what would change").want(200, "What it means at the bench").look("key, what would change")
	b.press("Change the key").want(200, "Key 2 counts now").look("key, changed")
	b.open(classPath(s.class, "/assignments/1"))
	b.press("Release the key now").want(200, "Released by hand").look("assignment, released")
	paperPath := classPath(s.class, "/assignments/1/paper")
	b.open(paperPath).want(200, "sheets to print").look("paper")
	b.press("Make the PDF").want(200)
	s.h.printed()
	b.open(paperPath).want(200, "The PDF is ready").look("paper, ready")
}

// firstPage is the most that a page may bring with it over poor Wi-Fi, styles
// and scripts included: 60 kB.
const firstPage = 60 << 10

// testWeight counts what comes over the wire on a first visit.
func testWeight(t *testing.T, chromium context.Context) {
	s := newDay(t, chromium)
	ctx := context.Background()
	students, err := s.h.Store.Students(ctx, s.class.ID)
	if err != nil {
		t.Fatal(err)
	}
	token, _ := s.h.card(s.class, students[0])
	b := s.device()
	b.open("/card/" + token)
	b.press("Start")
	for _, path := range []string{"/sheets", classPath(s.class, "/sheets/1"), "/lessons/head-v-joint"} {
		got := b.weigh(path)
		t.Logf("%s: %.1f kB at a first visit", path, got/1024)
		if got < 4096 || got > firstPage {
			t.Errorf("%s weighs %.0f bytes, want from 4096 (page and styles were counted) to %d", path, got, firstPage)
		}
	}
}

// weigh opens a page with nothing kept from before.
func (b *tab) weigh(path string) float64 {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		_, err := cdp.Call(ctx, s, network.SetCacheDisabled, network.SetCacheDisabledParams{CacheDisabled: true})
		return err
	}))
	b.mu.Lock()
	b.bytes = 0
	b.mu.Unlock()
	b.open(path).want(200)
	time.Sleep(300 * time.Millisecond) // what scripts still ask for
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.bytes
}
