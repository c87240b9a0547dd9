package server

import (
	"context"
	"strconv"
	"testing"
	"time"

	"arrisbook/grading"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// typingPause is how long a hand takes from key to key.
const typingPause = 10 * time.Millisecond

// testTyping types the answers of three students in by keyboard alone: code,
// Enter, number, Tab, number, …, Enter, and the next code. How many keys that
// takes is written to the log; at a quarter of a second a key (set typingPause
// to that) the three sheets of 13 numbers took 54 s.
func testTyping(t *testing.T, chromium context.Context) {
	s := newDay(t, chromium)
	b := s.device()
	b.open("/signin")
	b.fill("email", "ada@shop.example")
	b.fill("password", testPassword)
	b.leads(chromedp.KeyEvent(kb.Enter))
	typed := classPath(s.class, "/typed")
	b.open(typed).want(200, "Code of the sheet").look("paper answers")
	b.open(typed + "?code=QQQQQ").want(422).look("paper answers, no such code")

	ctx := context.Background()
	room, err := s.h.Store.Room(ctx, s.class.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	_, ex, err := s.h.Server.loadAssignment(ctx, s.class.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	b.open(typed)
	begun, keys := time.Now(), 0
	press := func(text string) {
		for _, r := range text {
			b.do(chromedp.KeyEvent(string(r)))
			time.Sleep(typingPause)
			keys++
		}
	}
	for i, row := range room {
		b.awaitCursor("sheetcode")
		press(sheetCode(s.class.ID, row.SheetNo))
		b.leads(chromedp.KeyEvent(kb.Enter))
		b.awaitCursor(fieldOf(row.Sheet().Steps[0].ID))
		key := grading.Key(ex, row.Sheet().Parameters)
		for n, st := range row.Sheet().Steps {
			if n > 0 {
				press("\t")
			}
			press(strconv.FormatFloat(key[st.ID], 'f', 1, 64))
		}
		if i == 0 {
			b.look("paper answers, a sheet")
		}
		b.awaitReadings(row.Sheet().Steps[len(row.Sheet().Steps)-1].ID)
		b.leads(chromedp.KeyEvent(kb.Enter))
		b.await("received as attempt 1")
	}
	t.Logf("%d sheets of %d numbers: %d keys in %.0f s", len(room), len(room[0].Sheet().Steps), keys, time.Since(begun).Seconds())
	b.want(200, "13 right or following").look("paper answers, typed in")
}

// awaitCursor waits until the page has put the cursor into a field. A hand is
// slower than that, a test is not.
func (b *tab) awaitCursor(id string) {
	b.t.Helper()
	eval[bool](b, `new Promise((done) => {
const look = () => document.activeElement?.id === `+quoted(id)+` ? done(true) : setTimeout(look, 20);
look();
})`)
}
