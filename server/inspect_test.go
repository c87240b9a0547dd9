package server

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// inspect holds an answer to what every answer must keep: no fault of the
// server's own, the headers, and, for a page, its markup.
func inspect(t *testing.T, h *harness, p *page) {
	t.Helper()
	if p.Status >= 500 {
		t.Errorf("%s = %d:\n%s\n%s", p.Path, p.Status, p.text(), lastLine(h.Log.String()))
	}
	inspectHeaders(t, p)
	if p.Doc.FirstChild == nil || p.Status == http.StatusSeeOther || p.Status == http.StatusNotModified {
		return
	}
	for _, fault := range markupFaults(p.Doc, h.URL) {
		t.Errorf("%s (%d): %s", p.Path, p.Status, fault)
	}
}

func lastLine(log string) string {
	lines := strings.Split(strings.TrimSpace(log), "\n")
	return lines[len(lines)-1]
}

// inspectHeaders looks at the headers that protect whoever reads.
func inspectHeaders(t *testing.T, p *page) {
	t.Helper()
	for name, want := range map[string]string{
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "same-origin",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
	} {
		if got := p.Header.Get(name); got != want {
			t.Errorf("%s (%d): %s = %q, want %q", p.Path, p.Status, name, got, want)
		}
	}
	policy := p.Header.Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"} {
		if !strings.Contains(policy, part) {
			t.Errorf("%s (%d): the policy %q lacks %s", p.Path, p.Status, policy, part)
		}
	}
	if strings.Contains(policy, "unsafe") || strings.Contains(policy, "script-src") || strings.Contains(policy, "style-src") || strings.Contains(policy, "*") {
		t.Errorf("%s (%d): the policy %q lets in what does not come from here", p.Path, p.Status, policy)
	}
	for _, name := range []string{"Server", "X-Powered-By", "Access-Control-Allow-Origin"} {
		if got := p.Header.Get(name); got != "" {
			t.Errorf("%s (%d): %s = %q, want none", p.Path, p.Status, name, got)
		}
	}
	public := p.Status == http.StatusOK && (strings.HasPrefix(p.Path, "/static/") || strings.HasPrefix(p.Path, "/lessons/") || strings.HasPrefix(p.Path, "/pictures/"))
	if cache := p.Header.Get("Cache-Control"); !public && !strings.Contains(cache, "no-store") {
		t.Errorf("%s (%d): Cache-Control = %q, want no-store", p.Path, p.Status, cache)
	}
	for _, cookie := range p.Header.Values("Set-Cookie") {
		if !strings.Contains(cookie, "HttpOnly") || !strings.Contains(cookie, "SameSite=Lax") || !strings.Contains(cookie, "Path=/") || strings.Contains(cookie, "Domain=") {
			t.Errorf("%s (%d): cookie %q", p.Path, p.Status, cookie)
		}
	}
}

// markupFaults says what is wrong with a page.
func markupFaults(doc *html.Node, home string) []string {
	m := markup{ids: map[string]bool{}, home: home}
	for n := range doc.Descendants() {
		if id := attr(n, "id"); id != "" {
			if m.ids[id] {
				m.fault("two elements have the id %s", id)
			}
			m.ids[id] = true
		}
	}
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode {
			m.element(n)
		}
	}
	if m.headings != 1 {
		m.fault("%d first-level headings, want 1", m.headings)
	}
	if m.title == "" {
		m.fault("no title")
	}
	if m.lang == "" {
		m.fault("no language")
	}
	return m.faults
}

type markup struct {
	ids         map[string]bool
	home        string
	faults      []string
	headings    int
	title, lang string
}

func (m *markup) fault(format string, args ...any) {
	m.faults = append(m.faults, fmt.Sprintf(format, args...))
}

func (m *markup) element(n *html.Node) {
	switch n.DataAtom {
	case atom.Html:
		m.lang = attr(n, "lang")
	case atom.Title:
		if n.Parent.DataAtom == atom.Head {
			m.title = textOf(n)
		}
	case atom.H1:
		m.headings++
		if textOf(n) == "" {
			m.fault("an empty heading")
		}
	case atom.Script:
		if attr(n, "src") == "" || n.FirstChild != nil {
			m.fault("a script inside the page")
		}
	case atom.Style:
		m.fault("a style inside the page")
	case atom.Base, atom.Iframe, atom.Object, atom.Embed:
		m.fault("an element %s", n.Data)
	case atom.Img:
		if !hasAttr(n, "alt") {
			m.fault("a picture without a text")
		}
	case atom.Button, atom.A:
		if name := textOf(n) + attr(n, "aria-label") + attr(n, "aria-labelledby"); strings.TrimSpace(name) == "" {
			m.fault("a %s without a name: %s", n.Data, attr(n, "href"))
		}
	case atom.Input, atom.Select, atom.Textarea:
		m.control(n)
	case atom.Meta:
		if hasAttr(n, "http-equiv") {
			m.fault("a header inside the page")
		}
	}
	m.attributes(n)
}

// control asks whether a field has a label.
func (m *markup) control(n *html.Node) {
	switch attr(n, "type") {
	case "hidden", "submit", "button":
		return
	}
	if hasAttr(n, "hidden") {
		return
	}
	label := ""
	for up := n.Parent; up != nil; up = up.Parent {
		if up.DataAtom == atom.Label {
			label = textOf(up)
		}
	}
	for d := range root(n).Descendants() {
		if d.DataAtom == atom.Label && attr(d, "for") != "" && attr(d, "for") == attr(n, "id") {
			label += textOf(d)
		}
	}
	if strings.TrimSpace(label+attr(n, "aria-label")) == "" {
		m.fault("the field %s has no label", attr(n, "name"))
	}
}

func root(n *html.Node) *html.Node {
	for n.Parent != nil {
		n = n.Parent
	}
	return n
}

// attributes finds script and style in attributes, marks that lead nowhere,
// and addresses of other hosts.
func (m *markup) attributes(n *html.Node) {
	for _, a := range n.Attr {
		switch {
		case strings.HasPrefix(a.Key, "on"):
			m.fault("script in the attribute %s of %s", a.Key, n.Data)
		case a.Key == "style":
			m.fault("style in an attribute of %s: %s", n.Data, a.Val)
		case a.Key == "for" || a.Key == "form" || strings.HasPrefix(a.Key, "aria-") && (strings.HasSuffix(a.Key, "by") || a.Key == "aria-controls"):
			for id := range strings.FieldsSeq(a.Val) {
				if !m.ids[id] {
					m.fault("%s of %s names %s, which is not there", a.Key, n.Data, id)
				}
			}
		case a.Key == "href" || a.Key == "src" || a.Key == "action" || a.Key == "formaction" || a.Key == "srcset" || a.Key == "poster" || a.Key == "data":
			m.address(n, a.Val)
		}
	}
}

func (m *markup) address(n *html.Node, text string) {
	if text == "data:," && attr(n, "rel") == "icon" {
		return
	}
	u, err := url.Parse(text)
	switch {
	case err != nil:
		m.fault("the address %q", text)
	case u.Scheme == "" && u.Host == "":
		if frag := u.Fragment; frag != "" && u.Path == "" && !m.ids[frag] {
			m.fault("#%s leads nowhere", frag)
		}
	case u.Scheme+"://"+u.Host != m.home:
		m.fault("an address elsewhere: %s", text)
	}
}
