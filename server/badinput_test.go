package server

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/net/html/atom"
)

// badTexts are what no field is meant for, by what is wrong with them.
var badTexts = []struct{ name, text string }{
	{"empty", ""},
	{"NUL", "a\x00b"},
	{"not UTF-8", "\xff\xfe\xc3("},
	{"negative", "-1"},
	{"beyond 64 bits", "99999999999999999999"},
	{"beyond floats", "1e309"},
	{"not a number", "NaN"},
	{"markup", `"><script>alert(1)</script>`},
	{"several lines", "a\r\nb\n\n\tc"},
	{"signs that turn the text round", "\u202ea\u2066b\ufeff"},
	{"outside the plane", strings.Repeat("𝟙", 90)},
	{"very long", strings.Repeat("9", 100_000)},
}

// formsOf are the routes that take forms, in the order of the matrix.
func formsOf() []route {
	return slices.DeleteFunc(inOrder(routes()), func(r route) bool { return r.Method != http.MethodPost })
}

// holder is somebody who may send a form of a row.
func (s *school) holder(rw row, people []actor) actor {
	for _, name := range []string{"instructor", "student"} {
		for _, a := range people {
			if a.name == name && rw.open.admits(a) && rw.open.names != nil {
				return a
			}
		}
	}
	return people[0]
}

// Whatever stands in a field, no form breaks the server, and what was typed
// comes back with the page that says what is wrong.
func TestBadFields(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	people, tried, kept := s.actors(), 0, 0
	for _, r := range formsOf() {
		rw := matrix[r.Method+" "+r.Path]
		a := s.holder(rw, people)
		_, c := s.request(r, rw)
		names, err := url.ParseQuery(c.Body)
		s.must(err)
		for name := range names {
			for _, bad := range badTexts {
				kept += s.sendBad(t, r, rw, a, func(form url.Values) { form.Set(name, bad.text) })
				tried++
			}
			for _, spoil := range []func(url.Values){
				func(form url.Values) { form.Del(name) },
				func(form url.Values) { form[name] = append([]string{"1", "2"}, form[name]...) },
				func(form url.Values) { form[name+"\x00"], form["\xff"] = form[name], form[name] },
			} {
				kept += s.sendBad(t, r, rw, a, spoil)
				tried++
			}
		}
	}
	t.Logf("%d forms with something wrong, %d texts came back", tried, kept)
	if kept < 500 {
		t.Errorf("only %d texts came back in their fields", kept)
	}
}

// sendBad spoils a form that would be taken, sends it, and says how many texts
// came back with the refusal.
func (s *school) sendBad(t *testing.T, r route, rw row, a actor, spoil func(url.Values)) int {
	t.Helper()
	params, c := s.request(r, rw)
	form, err := url.ParseQuery(c.Body)
	s.must(err)
	spoil(form)
	c.Body, c.Token, c.Path = form.Encode(), a.token(), s.address(r.Path, params, a)
	p := s.ask(c)
	inspect(t, s.harness, p)
	if p.Status != http.StatusUnprocessableEntity {
		return 0
	}
	return keepsTexts(t, p, form)
}

// keepsTexts finds every text of a form in the fields of the page that refused
// it. Passwords are typed anew.
func keepsTexts(t *testing.T, p *page, form url.Values) int {
	t.Helper()
	kept := 0
	for name, values := range form {
		n := p.field(name)
		if n == nil || attr(n, "type") == "password" || attr(n, "type") == "hidden" || len(values) != 1 {
			continue
		}
		got := attr(n, "value")
		switch {
		case n.DataAtom == atom.Textarea:
			got = rawText(n)
		case n.DataAtom == atom.Select || attr(n, "type") == "radio" || attr(n, "type") == "checkbox":
			continue // only what was offered can be chosen
		}
		if squeeze(got) != squeeze(values[0]) {
			t.Errorf("%s: the field %s holds %.60q, typed was %.60q", p.Path, name, got, values[0])
		}
		kept++
	}
	return kept
}

// squeeze leaves out what a page cannot show or shows in one way only: spaces,
// control signs and what is no text.
func squeeze(text string) string {
	text = strings.ToValidUTF8(text, "")
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, text)
}

// badBody is a body that is no form, or not one of ours.
type badBody struct {
	call
	want int // 0: anything but a fault of the server's
}

func badBodies(form string) []badBody {
	var good, cut bytes.Buffer
	w := multipart.NewWriter(&good)
	values, _ := url.ParseQuery(form)
	for name := range values {
		_ = w.WriteField(name, values.Get(name))
	}
	f, _ := w.CreateFormFile("list", "../../etc/passwd")
	_, _ = f.Write(bytes.Repeat([]byte{0, 255}, 1000))
	_ = w.Close()
	cut.Write(good.Bytes()[:good.Len()/2])
	const urlencoded, bad, other = "application/x-www-form-urlencoded", http.StatusBadRequest, http.StatusUnsupportedMediaType
	return []badBody{
		{call{Type: urlencoded, Body: ""}, 0},
		{call{Type: urlencoded, Body: strings.Repeat("a=1&", 25_000) + form}, 0},
		{call{Type: urlencoded, Body: strings.Repeat("list=1%0a&", 10_000)}, 0},
		{call{Type: urlencoded, Body: form, Header: http.Header{"Content-Encoding": {"gzip"}}}, 0},
		{call{Type: w.FormDataContentType(), Body: good.String()}, 0},
		{call{Type: urlencoded, Body: form + "&broken=%zz&%"}, bad},
		{call{Type: urlencoded, Body: ";;;=&&&=;\x00\xff"}, bad},
		{call{Type: "multipart/form-data", Body: good.String()}, bad},
		{call{Type: "multipart/form-data; boundary=", Body: good.String()}, other},
		{call{Type: w.FormDataContentType(), Body: cut.String()}, bad},
		{call{Type: w.FormDataContentType(), Body: ""}, bad},
		{call{Type: "application/json", Body: `{"name":"x","list":["a"],"key":{"$gt":""}}`}, other},
		{call{Type: "text/plain", Body: form + "&a=b"}, other},
		{call{Type: "application/xml", Body: `<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>`}, other},
		{call{Type: "\x01;;;", Body: form + "&a=b"}, other},
	}
}

// Bodies that are no form are refused or read as far as they go; none breaks
// the server, and what could not be read is never taken for an empty form.
func TestBadBodies(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	people := s.actors()
	for _, r := range formsOf() {
		rw := matrix[r.Method+" "+r.Path]
		a := s.holder(rw, people)
		for i := range badBodies("") {
			params, c := s.request(r, rw)
			bad := badBodies(c.Body)[i]
			bad.Method, bad.Token, bad.Path = r.Method, a.token(), s.address(r.Path, params, a)
			before := s.checksum()
			p := s.ask(bad.call)
			inspect(t, s.harness, p)
			if bad.want != 0 && (p.Status != bad.want || s.checksum() != before) {
				t.Errorf("%s %s with %s %.40q = %d, want %d and nothing written", r.Method, r.Path, bad.Type, bad.Body, p.Status, bad.want)
			}
		}
	}
}

// A body over the limit is refused as such, also when its length is not told.
func TestLongBodies(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	people := s.actors()
	long := "list=" + strings.Repeat("Name\n", 60_000)
	for _, r := range formsOf() {
		rw := matrix[r.Method+" "+r.Path]
		a := s.holder(rw, people)
		params, c := s.request(r, rw)
		before := s.checksum()
		for _, untold := range []bool{false, true} {
			c.Body, c.Token, c.Path, c.Untold = long, a.token(), s.address(r.Path, params, a), untold
			p := s.ask(c)
			inspect(t, s.harness, p)
			if p.Status != http.StatusRequestEntityTooLarge || p.heading() != "That is too much at once" {
				t.Errorf("%s %s with %d bytes, untold %v = %d, want 413", r.Method, r.Path, len(long), untold, p.Status)
			}
		}
		if s.checksum() != before {
			t.Errorf("%s %s with too long a body has written", r.Method, r.Path)
		}
	}
}

// badParts are what no address is made of.
var badParts = []string{
	"0", "-1", "4294967296", "2147483648", "9223372036854775807", "99999999999999999999", "1e3", "1.5", "abc",
	"%00", "%FF%FE", "%27%20OR%201=1--", "%2e%2e%2f", "..%2f..%2fetc%2fpasswd", "%D9%A1", "1%0d%0aSet-Cookie:a=b", strings.Repeat("9", 2000),
}

// An address with a part that is no number of anything is an address that does
// not exist.
func TestBadAddresses(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	people := s.actors()
	before := s.checksum()
	for _, r := range routes() {
		rw := matrix[r.Method+" "+r.Path]
		a := s.holder(rw, people)
		for _, name := range paramShape.FindAllString(r.Path, -1) {
			for _, part := range badParts {
				c := call{Method: r.Method, Token: a.token(), Path: s.address(r.Path, map[string]string{name[1:]: part}, a)}
				p := s.ask(c)
				inspect(t, s.harness, p)
				switch {
				case rw.open.names == nil: // codes and tokens have pages of their own for it
					if p.Status == http.StatusOK && !strings.HasPrefix(r.Path, "/enter/") {
						t.Errorf("%s %s = 200", r.Method, c.Path)
					}
				case rw.foreign != 0 && p.Status == rw.foreign:
				default:
					s.isNowhere(t, p, c, a)
				}
			}
		}
	}
	if s.checksum() != before {
		t.Error("an address that does not exist has written")
	}
}

// What stands behind the question mark breaks no page.
func TestBadQueries(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	people := s.actors()
	for _, r := range routes() {
		if r.Method != http.MethodGet {
			continue
		}
		a := s.holder(matrix[r.Method+" "+r.Path], people)
		path := s.address(r.Path, nil, a)
		for _, bad := range badTexts {
			query := url.Values{}
			for _, name := range []string{"to", "exercise", "student", "who", "class", "code"} {
				query.Set(name, bad.text)
			}
			inspect(t, s.harness, s.ask(call{Method: r.Method, Token: a.token(), Path: path + "?" + query.Encode()}))
			if len(bad.text) > 1000 {
				break // the server takes no such line; the rest is the same
			}
		}
		inspect(t, s.harness, s.ask(call{Method: r.Method, Token: a.token(), Path: path + "?a;b=%zz&%"}))
	}
}

// Methods that no page uses lead nowhere.
func TestOtherMethods(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	a := s.holder(matrix["GET /classes/:class/roster"], s.actors())
	before := s.checksum()
	for _, r := range routes() {
		for _, method := range []string{http.MethodPut, http.MethodPatch, http.MethodDelete, http.MethodTrace, "PROPFIND", "BREW"} {
			p := s.ask(call{Method: method, Token: a.token(), Path: s.address(r.Path, nil, a)})
			if p.Status != http.StatusMethodNotAllowed && p.Status != http.StatusNotFound {
				t.Errorf("%s %s = %d, want 405 or 404", method, r.Path, p.Status)
			}
			inspectHeaders(t, p)
		}
	}
	if s.checksum() != before {
		t.Error("a method that no page uses has written")
	}
}
