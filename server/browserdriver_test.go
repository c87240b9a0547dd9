package server

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// startChromium starts the one Chromium that all browser tests share. Without
// one the test is skipped, unless ARRISBOOK_REQUIRE asks for it.
func startChromium(t *testing.T) context.Context {
	t.Helper()
	var path string
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		const missing = "no Chromium here: install the package chromium to run the pages in it"
		if strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "browser") {
			t.Fatal(missing)
		}
		t.Skip(missing)
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		// The turning view is drawn without a graphics card.
		chromedp.Flag("enable-unsafe-swiftshader", true))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("start Chromium: %v", err)
	}
	return ctx
}

// window is the size of what somebody looks at, in CSS px.
type window struct{ Width, Height int64 }

var (
	phone   = window{390, 844}
	desktop = window{1280, 800}
	// narrow is a page at four times its size on a desktop (WCAG 2.2, 1.4.10).
	narrow = window{320, 640}
)

// tab is one window of one person: cookies and storage of its own, as on a
// device of its own.
type tab struct {
	t      *testing.T
	ctx    context.Context
	base   string
	size   window
	plain  bool // no scripts run
	Status int  // of the last page

	mu     sync.Mutex
	faults []string // requests elsewhere, and what the console says
	bytes  float64  // received over the wire
	// failing is the address of the last page with an error status.
	failing string
	looked  map[string]bool // kinds of pages
}

// newTab opens a window on a server.
func newTab(t *testing.T, chromium context.Context, base string, size window) *tab {
	t.Helper()
	b := &tab{t: t, base: base, looked: map[string]bool{}}
	ctx, stop := chromedp.NewContext(chromium, chromedp.WithNewBrowserContext(), chromedp.WithListener(b.hear))
	t.Cleanup(stop)
	b.ctx = ctx
	b.do(chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		if _, err := cdp.Call(ctx, s, log.Enable, cdp.Empty{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, s, network.Enable, network.EnableParams{})
		return err
	}))
	b.resize(size)
	t.Cleanup(b.quiet)
	return b
}

// hear notes what must not happen on any page, and what comes over the wire.
func (b *tab) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		if u := ev.Request.URL; !strings.HasPrefix(u, b.base+"/") && !strings.HasPrefix(u, "data:") {
			b.faults = append(b.faults, "a request to "+u)
		}
	case *network.EventResponseReceived:
		if ev.Type == network.ResourceTypeDocument {
			b.Status = int(ev.Response.Status)
			if b.Status >= 400 {
				b.failing = ev.Response.URL
			}
		}
	case *network.EventLoadingFinished:
		b.bytes += ev.EncodedDataLength
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, "a script failed: "+ev.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		if len(ev.Args) > 0 {
			b.faults = append(b.faults, fmt.Sprintf("console.%s %s", ev.Type, ev.Args[0].Value))
		}
	case *log.EventEntryAdded:
		// The browser notes every page whose status is an error as well.
		if e := ev.Entry; e.Level == log.EntryLevelError && e.URL != b.failing {
			b.faults = append(b.faults, fmt.Sprintf("the browser says %q of %s", e.Text, e.URL))
		}
	}
}

// quiet fails the test for everything that was heard.
func (b *tab) quiet() {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, f := range b.faults {
		b.t.Error(f)
	}
	b.faults = nil
}

// do runs steps in the tab, with a limit.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	// The first steps bind the tab to their context, which must not end.
	ctx := b.ctx
	if chromedp.FromContext(ctx).Target != nil {
		limited, stop := context.WithTimeout(ctx, 20*time.Second)
		defer stop()
		ctx = limited
	}
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("%v\n%s", err, b.where())
	}
}

// where tells a failure's place, as far as the tab still answers.
func (b *tab) where() string {
	ctx, stop := context.WithTimeout(b.ctx, 3*time.Second)
	defer stop()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.pathname + "\n" + (document.querySelector("main") || document.body).innerText`))
	if err != nil {
		return err.Error()
	}
	return text
}

// eval gives the value of an expression on the page; a promise is awaited.
func eval[T any](b *tab, expression string) T {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, 30*time.Second)
	defer stop()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%v\nin %.300s\nat %s", err, expression, b.where())
	}
	return v
}

func (b *tab) resize(size window) {
	b.size = size
	b.do(chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		_, err := cdp.Call(ctx, s, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
			Width: size.Width, Height: size.Height, DeviceScaleFactor: 1,
		})
		return err
	}))
}

// lamp puts the light on or off, as a device that prefers dark pages does.
func (b *tab) lamp(on bool) {
	scheme := "dark"
	if on {
		scheme = "light"
	}
	b.do(chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		_, err := cdp.Call(ctx, s, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		return err
	}))
}

// scripts lets the pages' own scripts run or keeps them from it.
func (b *tab) scripts(run bool) {
	b.plain = !run
	b.do(chromedp.Func(func(ctx context.Context, s *chromedp.Target) error {
		_, err := cdp.Call(ctx, s, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !run})
		return err
	}))
}

// open goes to an address of the server.
func (b *tab) open(path string) *tab {
	b.t.Helper()
	b.do(chromedp.Navigate(b.base + path))
	return b
}

// back presses Back and waits until something stands there: a page loaded anew,
// one that the browser had kept as it was, or the browser's own question
// whether a form should go out once more.
func (b *tab) back() {
	b.t.Helper()
	// A moment later, so that the answer is out before its page is gone.
	eval[any](b, `setTimeout(() => history.back(), 20); 0`)
	for until := time.Now().Add(8 * time.Second); ; {
		time.Sleep(200 * time.Millisecond)
		ctx, stop := context.WithTimeout(b.ctx, time.Second)
		state, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.readyState`))
		stop()
		if err == nil && state == "complete" {
			return
		}
		if time.Now().After(until) {
			b.t.Fatalf("Back leads nowhere: %s, %v", state, err)
		}
	}
}

// path is where the tab is, without the server.
func (b *tab) path() string { return eval[string](b, `location.pathname + location.search`) }

// text is what a person can read on the page.
func (b *tab) text() string {
	return strings.Join(strings.Fields(eval[string](b, `document.body.innerText`)), " ")
}

// want fails unless the page has a status and shows the texts.
func (b *tab) want(status int, texts ...string) *tab {
	b.t.Helper()
	b.mu.Lock()
	got := b.Status
	b.mu.Unlock()
	if got != status {
		b.t.Fatalf("the page has status %d, want %d: %s", got, status, b.where())
	}
	all := b.text()
	for _, text := range texts {
		if !strings.Contains(all, text) {
			b.t.Fatalf("%s does not show %q:\n%s", b.path(), text, all)
		}
	}
	return b
}

// await waits until the page shows a text.
func (b *tab) await(text string) {
	b.t.Helper()
	for until := time.Now().Add(8 * time.Second); ; time.Sleep(80 * time.Millisecond) {
		if strings.Contains(b.text(), text) {
			return
		}
		if time.Now().After(until) {
			b.t.Fatalf("%s never shows %q:\n%s", b.path(), text, b.where())
		}
	}
}

// point brings something into sight and gives its middle. What lies under
// something else cannot be pressed and fails the test.
const point = `(() => {
const el = %s;
if (!el) return {Fault: "not on the page"};
el.scrollIntoView({block: "nearest"});
const r = el.getClientRects()[0];
if (!r) return {Fault: "not to be seen"};
const x = r.x + r.width / 2, y = r.y + r.height / 2, top = document.elementFromPoint(x, y);
if (!top) return {Fault: "outside the window"};
if (!el.contains(top) && !top.contains(el)) return {Fault: "under " + top.outerHTML.slice(0, 200)};
return {X: x, Y: y};
})()`

// middle finds the middle of an element, given as an expression.
func (b *tab) middle(element string) (x, y float64) {
	b.t.Helper()
	at := eval[struct {
		X, Y  float64
		Fault string
	}](b, fmt.Sprintf(point, element))
	if at.Fault != "" {
		b.t.Fatalf("%s on %s: %s\n%s", element, b.path(), at.Fault, b.where())
	}
	return at.X, at.Y
}

// named is an expression for the button or link in sight with a text: in the
// main part if there is one, and with that text alone if there is one.
func named(text string) string {
	return fmt.Sprintf(`((text) => {
const says = (el) => (el.innerText || "").replace(/\s+/g, " ").trim();
const all = [...document.querySelectorAll("main button, main a"), ...document.querySelectorAll("button, a")].filter((el) => el.getClientRects().length);
return all.find((el) => says(el) === text) || all.find((el) => says(el).includes(text));
})(%s)`, quoted(text))
}

// field is an expression for the field with a name.
func field(name string) string { return fmt.Sprintf(`document.getElementsByName(%s)[0]`, quoted(name)) }

func quoted(text string) string {
	q, err := json.Marshal(text)
	if err != nil {
		panic(err)
	}
	return string(q)
}

// press clicks a button or link and waits for the page it leads to.
func (b *tab) press(text string) *tab {
	b.t.Helper()
	x, y := b.middle(named(text))
	b.leads(chromedp.MouseClickXY(x, y))
	return b
}

// leads takes steps that lead to another page and waits for it.
func (b *tab) leads(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, 20*time.Second)
	defer stop()
	if _, err := chromedp.RunResponse(ctx, steps...); err != nil {
		b.t.Fatalf("no page came: %v\n%s", err, b.where())
	}
}

// choose clicks something that leads nowhere: a box to tick, a field.
func (b *tab) choose(element string) {
	b.t.Helper()
	x, y := b.middle(element)
	b.do(chromedp.MouseClickXY(x, y))
}

// fill types a text into a field in place of what stands there.
func (b *tab) fill(name, text string) {
	b.t.Helper()
	b.choose(field(name))
	eval[chromedp.Void](b, field(name)+`.select()`)
	b.keys(text)
}

// keys types, key by key, wherever the cursor is.
func (b *tab) keys(text string) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(text))
}
