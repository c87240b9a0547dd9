package server

import (
	"context"
	"fmt"
	"net/http"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// What is typed stays in the browser until the server has it: over a page that
// is lost, a network that is away, an answer that never came, and a session
// that ended. At a shared PC nothing of it is left for the next student.
func TestBrowserDrafts(t *testing.T) {
	chromium := startChromium(t)
	b := newBench(t)
	_, code := b.card(b.class, b.student)
	tab := newTab(t, chromium, b.URL, phone)
	tab.enter(b.class.Code, code)
	right := b.right()
	steps := b.sheet.Issued.Steps
	first, second := steps[0].ID, steps[1].ID

	// The page is loaded anew with two numbers typed.
	tab.open(b.href).want(http.StatusOK)
	tab.fill(fieldOf(first), right[first])
	tab.fill(fieldOf(second), "1,234")
	tab.await("can mean two numbers")
	tab.await("2 numbers are new and still only on this device")
	tab.open(b.href).want(http.StatusOK, "2 numbers are new and still only on this device")
	if got := eval[string](tab, field(fieldOf(first))+".value"); got != right[first] {
		t.Errorf("after loading anew the field holds %q, want %q", got, right[first])
	}
	tab.await("can mean two numbers")

	// Without a network the numbers wait, and go out when it is back.
	tab.fill(fieldOf(second), right[second])
	tab.awaitReadings(first, second)
	tab.network(false)
	tab.choose(named("Send my numbers"))
	tab.await("No connection. Your numbers wait on this device")
	if n := len(b.attempts()); n != 0 {
		t.Fatalf("%d attempts without a network", n)
	}
	tab.forgive() // the browser notes the request that found no network
	tab.leads(networkIs(true))
	tab.want(http.StatusOK, "Two of six right")
	if n := len(b.attempts()); n != 1 {
		t.Fatalf("%d attempts, want 1", n)
	}
	if n := eval[int](tab, `Object.keys(localStorage).filter((k) => k.startsWith("arrisbook:")).length`); n != 0 {
		t.Errorf("%d drafts left after the numbers were received", n)
	}

	// The answer to a press is lost: the draft's key is the one received, so
	// the sheet knows that nothing is new.
	tab.open(b.href).want(http.StatusOK, "two of six right")
	eval[any](tab, fmt.Sprintf(`localStorage.setItem(%s, JSON.stringify({key: %s, wood: "0", texts: {%s: "99"}}))`,
		quoted(b.draftName()), quoted(b.attempts()[0].ClientKey), quoted(fieldOf(first))))
	tab.open(b.href).want(http.StatusOK, "Attempt 1 was received")
	if got := eval[string](tab, field(fieldOf(first))+".value"); got != right[first] {
		t.Errorf("the field holds %q from a draft that was received", got)
	}

	// The next student at the PC finds nothing.
	tab.fill(fieldOf(second), "77")
	tab.await("One number is new and still only on this device")
	tab.await("Read as 77")
	tab.press("Next student")
	if n := eval[int](tab, `Object.keys(localStorage).length`); n != 0 {
		t.Errorf("%d things left for the next student", n)
	}
}

func (b *bench) draftName() string {
	return fmt.Sprintf("arrisbook:%d:%d:%d", b.class.ID, b.student.No, b.sheet.No)
}

// enter signs in at the shared PC of a class.
func (b *tab) enter(class, code string) {
	b.t.Helper()
	b.open("/enter/" + class).want(http.StatusOK)
	b.fill("code", code)
	b.leads(chromedp.KeyEvent("\r"))
	b.want(http.StatusOK)
}

// awaitReadings waits until the readings of the steps stand on the page.
func (b *tab) awaitReadings(steps ...string) {
	b.t.Helper()
	for _, id := range steps {
		eval[bool](b, fmt.Sprintf(`new Promise((done) => {
const line = %s.closest("li").querySelector(".reading");
const look = () => line.textContent.startsWith("Read as") ? done(true) : setTimeout(look, 40);
look();
})`, field(fieldOf(id))))
	}
}

// network puts the network on or off.
func (b *tab) network(on bool) {
	b.t.Helper()
	b.do(networkIs(on))
}

// networkConditions is the command that browsers of several years know; the
// library only has the one that took its place lately.
var networkConditions = cdp.Command[networkConditionsParams, cdp.Empty]{Method: "Network.emulateNetworkConditions"}

type networkConditionsParams struct {
	Offline  bool    `json:"offline"`
	Latency  float64 `json:"latency"`
	Download float64 `json:"downloadThroughput"`
	Upload   float64 `json:"uploadThroughput"`
}

func networkIs(on bool) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		_, err := cdp.Call(ctx, s, networkConditions, networkConditionsParams{Offline: !on, Download: -1, Upload: -1})
		return err
	})
}

// forgive forgets what was heard so far.
func (b *tab) forgive() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.faults = nil
}
