package lessons

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// allowedElements are all that a lesson's HTML may hold, whatever was written.
var allowedElements = strings.Fields(`html head body
	h1 h2 h3 h4 h5 h6 p ul ol li dl dt dd blockquote pre code em strong b br hr a img
	table caption thead tbody tr th td div aside figure figcaption span
	svg title desc path g text tspan circle line polyline polygon rect defs marker
	math mrow mi mo mn mtext msup msub mfrac msqrt`)

// checkHarmless parses HTML as a browser does and holds it to the page's
// policy: known elements only, no style and no script, no address but the
// site's own, https and e-mail.
func checkHarmless(t *testing.T, page string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatalf("the page cannot be parsed: %v", err)
	}
	ids := map[string]bool{}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if !slices.Contains(allowedElements, n.Data) {
			t.Errorf("the page holds <%s>", n.Data)
		}
		for _, a := range n.Attr {
			checkAttribute(t, n.Data, a)
			if a.Key == "id" {
				if ids[a.Val] {
					t.Errorf("the id %s stands twice", a.Val)
				}
				ids[a.Val] = true
			}
		}
	}
}

func checkAttribute(t *testing.T, element string, a html.Attribute) {
	t.Helper()
	switch {
	case a.Key == "style", strings.HasPrefix(a.Key, "on"), a.Key == "srcset", a.Key == "srcdoc":
		t.Errorf("<%s> has the attribute %s=%q", element, a.Key, a.Val)
	case a.Key == "href" || a.Key == "src":
		u, err := url.Parse(strings.TrimSpace(a.Val))
		if err != nil {
			return // a browser does not follow it either
		}
		if !slices.Contains([]string{"", "https", "http", "mailto"}, strings.ToLower(u.Scheme)) {
			t.Errorf("<%s> goes to %q", element, a.Val)
		}
		if a.Key == "src" && (u.Scheme != "" || u.Host != "") {
			t.Errorf("<%s> fetches %q", element, a.Val)
		}
	}
}
