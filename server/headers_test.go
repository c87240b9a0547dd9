package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"arrisbook/server/store"
)

// Behind https every answer asks browsers to stay there, and the cookie goes
// nowhere else. (That all answers have the other headers is seen where all
// addresses are tried: see inspect.)
func TestHTTPS(t *testing.T) {
	t.Parallel()
	w := newWorld(t, func(c *Config) { c.PublicURL = "https://book.example" })
	ada := w.account("ada", true)
	token := w.staffToken(ada.ID)
	for _, path := range []string{"/", "/signin", "/classes", "/nowhere", "/lessons/head-v-joint", "/healthz", w.Server.assets.Path("app.css")} {
		p := w.ask(call{Method: http.MethodGet, Path: path, Token: token})
		inspectHeaders(t, p)
		if got := p.Header.Get("Strict-Transport-Security"); !strings.HasPrefix(got, "max-age=31536000") {
			t.Errorf("%s: Strict-Transport-Security = %q", path, got)
		}
	}
	in := w.ask(call{Method: http.MethodPost, Path: "/signin", Body: fields("email", ada.Email, "password", testPassword).Encode()})
	cookie := in.Header.Get("Set-Cookie")
	for _, part := range []string{"__Host-arrisbook=", "; Secure", "; HttpOnly", "; SameSite=Lax", "; Path=/"} {
		if !strings.Contains(cookie, part) {
			t.Errorf("signed in with the cookie %q, which lacks %q", cookie, part)
		}
	}
}

// What is kept by caches is the same for everybody: styles for good, lessons
// as long as their mark holds.
func TestWhatCachesKeep(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	nobody := call{Method: http.MethodGet, Path: "/lessons/head-v-joint"}
	lesson := w.ask(nobody)
	etag := lesson.Header.Get("ETag")
	if etag == "" || lesson.Header.Get("Cache-Control") != "public, no-cache" {
		t.Errorf("lesson: ETag %q, Cache-Control %q", etag, lesson.Header.Get("Cache-Control"))
	}
	nobody.Header = http.Header{"If-None-Match": {etag}}
	if again := w.ask(nobody); again.Status != http.StatusNotModified || again.Body != "" {
		t.Errorf("the same lesson again = %d with %d bytes, want 304 and none", again.Status, len(again.Body))
	}
	ada := w.account("ada", true)
	known := w.ask(call{Method: http.MethodGet, Path: nobody.Path, Token: w.staffToken(ada.ID)})
	if known.Body != lesson.Body {
		t.Error("a lesson that caches may keep differs from person to person")
	}
	style := w.ask(call{Method: http.MethodGet, Path: w.Server.assets.Path("app.css")})
	if got := style.Header.Get("Cache-Control"); got != "public, max-age=31536000, immutable" {
		t.Errorf("style: Cache-Control = %q", got)
	}
	if p := w.ask(call{Method: http.MethodGet, Path: "/static/nothing.css"}); p.Status != http.StatusNotFound {
		t.Errorf("an asset that is not there = %d, want 404", p.Status)
	}
}

// wrongSignIn tries a wrong password from an address as the network and as a
// header tell it, and gives the status.
func (w *world) wrongSignIn(email, forwarded string) int {
	h := http.Header{}
	if forwarded != "" {
		h = http.Header{"X-Forwarded-For": {forwarded}, "X-Real-Ip": {forwarded}, "Forwarded": {"for=" + forwarded}}
	}
	return w.ask(call{
		Method: http.MethodPost, Path: "/signin", Header: h, Addr: "10.0.0.7:4000",
		Body: fields("email", email, "password", "not the password").Encode(),
	}).Status
}

// A client cannot choose the address that its failures count against. Only
// where a proxy is trusted its word counts, and then only what it added itself.
func TestSpoofedAddress(t *testing.T) {
	t.Parallel()
	worlds := map[bool]*world{}
	for _, trust := range []bool{false, true} {
		worlds[trust] = newWorld(t, func(c *Config) { c.TrustProxy = trust })
	}
	for i, test := range []struct {
		name    string
		trust   bool
		address func(i int) string // of the i-th try
		slowed  bool
	}{
		{"direct, same", false, func(int) string { return "" }, true},
		{"direct, claims another each time", false, spoof("203.0.113.%", ""), true},
		{"behind a proxy, one client", true, func(int) string { return "203.0.113.1" }, true},
		{"behind a proxy, one client that claims another each time", true, spoof("198.51.100.%", ", 203.0.113.1"), true},
		{"behind a proxy, many clients", true, spoof("203.0.113.%", ""), false},
	} {
		slowed, email := false, fmt.Sprintf("nobody%d@shop.example", i)
		for try := range limitAccountHere.free + 2 {
			slowed = worlds[test.trust].wrongSignIn(email, test.address(try)) == http.StatusTooManyRequests
		}
		if slowed != test.slowed {
			t.Errorf("%s: slowed = %v, want %v", test.name, slowed, test.slowed)
		}
	}
}

// spoof puts the number of a try in place of the % of an address.
func spoof(shape, after string) func(int) string {
	return func(i int) string { return strings.Replace(shape, "%", string(rune('1'+i)), 1) + after }
}

// cutOff takes the database away: connections end, and no new one is made.
func (w *world) cutOff() {
	w.t.Helper()
	ctx := context.Background()
	cfg := w.db.Config().Copy()
	name := cfg.Database
	cfg.Database = "postgres"
	above, err := pgx.ConnectConfig(ctx, cfg)
	w.must(err)
	defer above.Close(ctx)
	_, err = above.Exec(ctx, "ALTER DATABASE "+name+" ALLOW_CONNECTIONS false")
	w.must(err)
	_, err = above.Exec(ctx, "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = $1", name)
	w.must(err)
}

// Without its database the server says so in words, with the headers of every
// answer, tells when to come again, and lets nobody in.
func TestDatabaseAway(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	staff, student := s.staffToken(s.instructor.ID), s.studentToken(s.class, s.students[0].No, false)
	s.cutOff()
	for _, c := range []call{
		{Method: http.MethodGet, Path: "/"},
		{Method: http.MethodGet, Path: "/classes", Token: staff},
		{Method: http.MethodGet, Path: classPath(s.class, "/roster"), Token: staff},
		{Method: http.MethodGet, Path: "/sheets", Token: student},
		{Method: http.MethodPost, Path: "/signin", Body: fields("email", s.instructor.Email, "password", testPassword).Encode()},
		{Method: http.MethodPost, Path: classPath(s.class, "/sheets/1/attempts"), Token: student, Body: fields("key", newKey(), "wood", "0").Encode()},
	} {
		begun := time.Now()
		p := s.ask(c)
		inspectHeaders(t, p)
		if p.Status != http.StatusServiceUnavailable || p.heading() != "Not ready yet" || p.Header.Get("Retry-After") == "" {
			t.Errorf("%s %s = %d, Retry-After %q, want 503 and a time:\n%s", c.Method, c.Path, p.Status, p.Header.Get("Retry-After"), p.Body)
		}
		if took := time.Since(begun); took > 4*time.Second {
			t.Errorf("%s %s took %v to say so", c.Method, c.Path, took)
		}
		for _, word := range []string{"pool", "pgx", "SELECT", "store:"} {
			p.lacks(t, word)
		}
	}
	if p := s.ask(call{Method: http.MethodGet, Path: "/healthz", Token: staff}); p.Status != http.StatusOK {
		t.Errorf("/healthz = %d, want 200", p.Status)
	}
	if p := s.ask(call{Method: http.MethodGet, Path: "/readyz", Token: staff}); p.Status != http.StatusServiceUnavailable {
		t.Errorf("/readyz = %d, want 503", p.Status)
	}
	for _, kind := range []string{`"msg":"request failed"`, store.ErrAway.Error()} {
		if !strings.Contains(s.Log.String(), kind) {
			t.Errorf("the log does not say %s", kind)
		}
	}
	if p := s.ask(call{Method: http.MethodGet, Path: "/lessons/head-v-joint"}); p.Status != http.StatusOK {
		t.Errorf("a lesson = %d, want 200: it needs no database", p.Status)
	}
}
