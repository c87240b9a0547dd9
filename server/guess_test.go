package server

import (
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/labstack/echo/v4"
)

func TestAddressOf(t *testing.T) {
	for _, test := range []struct{ remote, want string }{
		{"192.0.2.7:5555", "192.0.2.7"},
		{"[2001:db8:1:2:3:4:5:6]:5555", "2001:db8:1:2::/64"},
		{"[::ffff:192.0.2.7]:5555", "::ffff:192.0.2.7"},
	} {
		e := echo.New()
		e.IPExtractor = echo.ExtractIPDirect()
		r := httptest.NewRequest(http.MethodPost, "/signin", nil)
		r.RemoteAddr = test.remote
		r.Header.Set("X-Forwarded-For", "198.51.100.1") // anybody can claim that
		if got := addressOf(e.NewContext(r, httptest.NewRecorder())); got != test.want {
			t.Errorf("addressOf(%s) = %q, want %q", test.remote, got, test.want)
		}
	}
}

func TestTooManySays(t *testing.T) {
	for _, test := range []struct {
		wait time.Duration
		want string
	}{
		{time.Millisecond, "Too many wrong tries. Wait one second, then try again."},
		{1500 * time.Millisecond, "Too many wrong tries. Wait 2 seconds, then try again."},
		{99 * time.Second, "Too many wrong tries. Wait 99 seconds, then try again."},
		{15 * time.Minute, "Too many wrong tries. Wait 15 minutes, then try again."},
		{14*time.Minute + time.Second, "Too many wrong tries. Wait 15 minutes, then try again."},
	} {
		if got := (&tooManyError{test.wait}).Says(); got != test.want {
			t.Errorf("%v says %q, want %q", test.wait, got, test.want)
		}
	}
}

func TestReachesNobody(t *testing.T) {
	for _, test := range []struct {
		address string
		want    bool
	}{
		{"http://127.0.0.1:8080", true},
		{"http://localhost", true},
		{"http://[::1]:8080", true},
		{"http://0.0.0.0:8080", true},
		{"http://192.168.1.20:8080", false},
		{"https://book.example", false},
		{"http://shop.local:8080", false},
		{"http://local host", true},
	} {
		if got := reachesNobody(test.address); got != test.want {
			t.Errorf("reachesNobody(%s) = %v, want %v", test.address, got, test.want)
		}
	}
}

func TestLocalPath(t *testing.T) {
	for _, test := range []struct {
		text string
		want bool
	}{
		{"/classes/7/roster?a=b", true},
		{"", false},
		{"classes", false},
		{"//evil.example", false},
		{`/\evil.example`, false},
		{"/\tevil", false},
		{"https://evil.example", false},
	} {
		if got := localPath(test.text); got != test.want {
			t.Errorf("localPath(%q) = %v, want %v", test.text, got, test.want)
		}
	}
}
