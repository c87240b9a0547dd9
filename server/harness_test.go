package server

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"arrisbook/lessons"
	"arrisbook/server/store"
	"arrisbook/server/store/storetest"
)

// harness is a whole server on a database of its own, with a clock that only
// the test moves.
type harness struct {
	t     testing.TB
	Store *store.Store
	URL   string
	Log   *lockedBuffer
	// Server is the inside, for tests that look at its parts.
	Server *server

	mu  sync.Mutex
	now time.Time
}

// testStart is when tests begin: a Monday morning.
var testStart = time.Date(2026, 11, 23, 7, 0, 0, 0, time.UTC)

// startServer serves a fresh database. Options change the configuration.
func startServer(t testing.TB, options ...func(*Config)) *harness {
	t.Helper()
	h := &harness{t: t, Store: storetest.New(t), Log: &lockedBuffer{}, now: testStart}
	cfg := Config{
		Store: h.Store, Lessons: &lessons.Library{}, Now: h.Now,
		Log: slog.New(slog.NewJSONHandler(h.Log, nil)),
	}
	for _, change := range options {
		change(&cfg)
	}
	inside, err := newServer(cfg)
	if err != nil {
		t.Fatal(err)
	}
	h.Server = inside
	srv := httptest.NewServer(inside.handler())
	t.Cleanup(srv.Close)
	h.URL = srv.URL
	return h
}

// Now is the test's clock.
func (h *harness) Now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.now
}

// pass moves the clock.
func (h *harness) pass(d time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.now = h.now.Add(d)
}

// browser is one person's browser: cookies of its own, redirects followed.
type browser struct {
	h      *harness
	client *http.Client
	// Header goes with every request.
	Header http.Header
}

func (h *harness) browser() *browser {
	jar, err := cookiejar.New(nil)
	if err != nil {
		h.t.Fatal(err)
	}
	return &browser{h: h, client: &http.Client{Jar: jar}, Header: http.Header{}}
}

// page is an answer.
type page struct {
	Status int
	Path   string // where the redirects led, with the query
	Header http.Header
	Body   string
	Doc    *html.Node
}

// get asks for a page.
func (b *browser) get(path string) *page { return b.send(http.MethodGet, path, nil) }

// post sends a form: names and values in turn.
func (b *browser) post(path string, namesAndValues ...string) *page {
	return b.send(http.MethodPost, path, fields(namesAndValues...))
}

func fields(namesAndValues ...string) url.Values {
	form := url.Values{}
	for i := 0; i < len(namesAndValues); i += 2 {
		form.Add(namesAndValues[i], namesAndValues[i+1])
	}
	return form
}

func (b *browser) send(method, path string, form url.Values) *page {
	t := b.h.t
	t.Helper()
	var body io.Reader
	if method == http.MethodPost {
		body = strings.NewReader(form.Encode())
	}
	req, err := http.NewRequest(method, b.h.URL+path, body)
	if err != nil {
		t.Fatal(err)
	}
	for name, values := range b.Header {
		req.Header[name] = values
	}
	if method == http.MethodPost {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	res, err := b.client.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return &page{res.StatusCode, res.Request.URL.RequestURI(), res.Header, string(text), doc}
}

// press fills in the form of a page whose action is given with what it shows,
// changes some fields, and sends it.
func (b *browser) press(p *page, action string, changes ...string) *page {
	b.h.t.Helper()
	form := p.form(action)
	if form == nil {
		b.h.t.Fatalf("%s has no form %s:\n%s", p.Path, action, p.text())
	}
	values := formValues(form)
	for i := 0; i < len(changes); i += 2 {
		values.Set(changes[i], changes[i+1])
	}
	if strings.EqualFold(attr(form, "method"), "post") {
		return b.send(http.MethodPost, action, values)
	}
	return b.get(action + "?" + values.Encode())
}

// form finds a form by its action.
func (p *page) form(action string) *html.Node {
	return p.find(func(n *html.Node) bool { return n.DataAtom == atom.Form && attr(n, "action") == action })
}

// field finds an input, a text area or a list by its name.
func (p *page) field(name string) *html.Node {
	return p.find(func(n *html.Node) bool {
		return (n.DataAtom == atom.Input || n.DataAtom == atom.Textarea || n.DataAtom == atom.Select) && attr(n, "name") == name
	})
}

// link finds the address of the first link with a text.
func (p *page) link(text string) string {
	n := p.find(func(n *html.Node) bool { return n.DataAtom == atom.A && strings.Contains(textOf(n), text) })
	if n == nil {
		return ""
	}
	return attr(n, "href")
}

// text is what a person reads, in one line.
func (p *page) text() string { return textOf(p.Doc) }

// heading is the text of the first-level heading.
func (p *page) heading() string {
	if n := p.find(func(n *html.Node) bool { return n.DataAtom == atom.H1 }); n != nil {
		return textOf(n)
	}
	return ""
}

func (p *page) find(is func(*html.Node) bool) *html.Node {
	for n := range p.Doc.Descendants() {
		if is(n) {
			return n
		}
	}
	return nil
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func hasAttr(n *html.Node, name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.DataAtom != atom.Script && d.Parent.DataAtom != atom.Style {
			b.WriteString(d.Data)
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// formValues are what a browser would send for a form as it stands.
func formValues(form *html.Node) url.Values {
	values := url.Values{}
	for n := range form.Descendants() {
		name := attr(n, "name")
		if name == "" {
			continue
		}
		switch n.DataAtom {
		case atom.Input:
			kind := attr(n, "type")
			if (kind == "checkbox" || kind == "radio") && !hasAttr(n, "checked") {
				continue
			}
			value := attr(n, "value")
			if kind == "checkbox" && !hasAttr(n, "value") {
				value = "on"
			}
			values.Add(name, value)
		case atom.Textarea:
			values.Add(name, rawText(n))
		case atom.Select:
			values.Add(name, chosen(n))
		}
	}
	return values
}

func rawText(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

func chosen(list *html.Node) string {
	first, found := "", false
	for n := range list.Descendants() {
		if n.DataAtom != atom.Option {
			continue
		}
		if hasAttr(n, "selected") {
			return attr(n, "value")
		}
		if !found {
			first, found = attr(n, "value"), true
		}
	}
	return first
}

// want fails unless a page has a status and holds texts.
func (p *page) want(t testing.TB, status int, texts ...string) *page {
	t.Helper()
	if p.Status != status {
		t.Fatalf("%s = %d, want %d:\n%s", p.Path, p.Status, status, p.text())
	}
	all := p.text()
	for _, text := range texts {
		if !strings.Contains(all, text) {
			t.Fatalf("%s does not say %q:\n%s", p.Path, text, all)
		}
	}
	return p
}

// lacks fails when a page holds one of the texts.
func (p *page) lacks(t testing.TB, texts ...string) *page {
	t.Helper()
	for _, text := range texts {
		if strings.Contains(p.Body, text) {
			t.Fatalf("%s holds %q:\n%s", p.Path, text, p.text())
		}
	}
	return p
}

// testPassword is the password of all staff in tests.
const testPassword = "seven slow snails"

// staff makes an account and signs it in. E-mail and name come from a word.
func (h *harness) staff(word string, mayTeach bool) (*browser, store.Staff) {
	h.t.Helper()
	ctx := context.Background()
	hash, err := h.Server.hashing.hash(ctx, testPassword)
	if err != nil {
		h.t.Fatal(err)
	}
	p, err := h.Store.AddStaff(ctx, store.NewStaff{
		Email: word + "@shop.example", Name: strings.ToUpper(word[:1]) + word[1:] + " Test",
		PasswordHash: hash, MayTeach: mayTeach, At: h.Now(),
	})
	if err != nil {
		h.t.Fatal(err)
	}
	b := h.browser()
	b.post("/signin", "email", p.Email, "password", testPassword).want(h.t, http.StatusOK)
	return b, p
}

// class makes a class with its instructor signed in.
func (h *harness) class(instructor store.Staff) store.Class {
	h.t.Helper()
	class, err := h.Store.AddClass(context.Background(), store.ClassSettings{
		Name: "Wednesday evening", Zone: "Europe/Lisbon", Units: "mm", Projection: "first",
		FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1,
	}, newCode(classCodeLen), instructor.ID, h.Now())
	if err != nil {
		h.t.Fatal(err)
	}
	return class
}

// assistant makes an assistant of a class and signs it in.
func (h *harness) assistant(class store.Class, word string, mayClear bool) (*browser, store.Staff) {
	h.t.Helper()
	b, p := h.staff(word, false)
	token, hash := newToken()
	err := h.Store.Invite(context.Background(), class.ID, hash, "assistant", mayClear, h.Now().Add(time.Hour))
	if err != nil {
		h.t.Fatal(err)
	}
	b.press(b.get("/join/"+token), "/join/"+token).want(h.t, http.StatusOK)
	return b, p
}

// students adds students to a class and gives them as stored, in the order of
// the names.
func (h *harness) students(class store.Class, by store.Staff, names ...string) []store.Student {
	h.t.Helper()
	ctx := context.Background()
	before, err := h.Store.Students(ctx, class.ID)
	if err != nil {
		h.t.Fatal(err)
	}
	var add []store.NewStudent
	for i, name := range names {
		add = append(add, store.NewStudent{Name: name, Bench: len(before) + i + 1})
	}
	_, err = h.Store.AddStudents(ctx, class.ID, by.ID, h.Now(),
		func([]store.Student) ([]store.NewStudent, error) { return add, nil })
	if err != nil {
		h.t.Fatal(err)
	}
	all, err := h.Store.Students(ctx, class.ID)
	if err != nil {
		h.t.Fatal(err)
	}
	var made []store.Student
	for _, name := range names {
		for _, p := range all {
			if p.Name == name {
				made = append(made, p)
			}
		}
	}
	return made
}

// card issues a new card and gives its link and codes.
func (h *harness) card(class store.Class, p store.Student) (token, code string) {
	h.t.Helper()
	ctx := context.Background()
	now, err := h.Store.StudentByNo(ctx, class.ID, p.No)
	if err != nil {
		h.t.Fatal(err)
	}
	cards, err := h.Server.drawCards(ctx, class, []store.Student{now})
	if err != nil {
		h.t.Fatal(err)
	}
	if err := h.Server.issueCards(ctx, class, cards); err != nil {
		h.t.Fatal(err)
	}
	return cards[0].Token, cards[0].Code
}

// student gives a student a new card and a browser of an own device that is
// signed in with it.
func (h *harness) student(class store.Class, p store.Student) *browser {
	h.t.Helper()
	token, _ := h.card(class, p)
	b := h.browser()
	b.press(b.get("/card/"+token), "/card/"+token)
	return b
}

// classPath gives an address in a class.
func classPath(class store.Class, rest string) string {
	return fmt.Sprintf("/classes/%d%s", class.ID, rest)
}

// lockedBuffer is a buffer that a server may write to while a test reads.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

// String gives what was logged so far.
func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// base is the server's address as cookies know it.
func (h *harness) base() *url.URL {
	u, err := url.Parse(h.URL)
	if err != nil {
		h.t.Fatal(err)
	}
	return u
}

// stopRedirects makes a browser show redirects instead of following them.
func stopRedirects(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
