package server

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"net/netip"
	"time"

	"github.com/labstack/echo/v4"
)

// guarded is one key that failures count against, with its limit.
type guarded struct {
	key string
	limit
}

// The limits of signing in. Tight for one account tried from one place, wide
// for a class or everything tried from one place, because a whole school sits
// behind one address; that wide limit also stays short, so that one joker cannot keep a
// class out. An account tried from everywhere has a wide limit too.
var (
	limitAccountHere = limit{free: 5, most: 15 * time.Minute}
	limitClassHere   = limit{free: 40, most: 30 * time.Second}
	limitHere        = limit{free: 80, most: 30 * time.Second}
	limitAccount     = limit{free: 100, most: 15 * time.Minute}
)

// guardedBy gives the keys of a try at an account from an address.
func guardedBy(kind, account, address string) []guarded {
	return []guarded{
		{kind + " " + account + " " + address, limitAccountHere},
		{kind + " " + account, limitAccount},
		{kind + " from " + address, limitHere},
	}
}

// addressOf is where a request comes from; an IPv6 client owns its whole /64.
func addressOf(c echo.Context) string {
	text := c.RealIP()
	addr, err := netip.ParseAddr(text)
	if err != nil || addr.Unmap().Is4() {
		return text
	}
	net, err := addr.WithZone("").Prefix(64)
	if err != nil {
		return text
	}
	return net.String()
}

// tooManyError says how long to wait.
type tooManyError struct{ wait time.Duration }

func (e *tooManyError) Error() string { return "too many failures" }

// Seconds are whole seconds, one at least.
func (e *tooManyError) Seconds() int { return max(1, int(math.Ceil(e.wait.Seconds()))) }

// Says tells a person.
func (e *tooManyError) Says() string {
	n := e.Seconds()
	switch {
	case n == 1:
		return "Too many wrong tries. Wait one second, then try again."
	case n < 100:
		return fmt.Sprintf("Too many wrong tries. Wait %d seconds, then try again.", n)
	}
	return fmt.Sprintf("Too many wrong tries. Wait %d minutes, then try again.", (n+59)/60)
}

// answer sets the headers of the refusal and gives its status.
func (e *tooManyError) answer(c echo.Context) int {
	c.Response().Header().Set("Retry-After", fmt.Sprint(e.Seconds()))
	return http.StatusTooManyRequests
}

// prove says whether a secret is the one of a hash, and counts a failure
// against every key. Waiting, comparing and counting take place under one turn
// of the hashing, so that a burst of tries gets no further than one by one.
// An empty hash takes the same time and never matches.
func (s *server) prove(ctx context.Context, keys []guarded, secret, hash string) (bool, error) {
	if err := s.hashing.wait(ctx); err != nil {
		return false, err
	}
	defer s.hashing.done()
	for _, k := range keys {
		if wait := s.failures.wait(k.key); wait > 0 {
			return false, &tooManyError{wait}
		}
	}
	ok, err := s.hashing.compare(secret, hash)
	if err != nil {
		return false, err
	}
	if ok {
		// The account is known to be in the right hands here; the address is
		// not forgiven what it tried at other accounts.
		s.failures.succeeded(keys[0].key)
		return true, nil
	}
	for _, k := range keys {
		s.failures.failed(k.key, k.limit)
	}
	return false, nil
}
