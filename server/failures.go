package server

import (
	"math"
	"sync"
	"time"
)

// failures slows down guessing. Only failures count: a whole class sits behind
// one address, and thirty right sign-ins must never be slowed. A key is an
// account together with the address it is tried from, so that nobody can lock
// somebody else out, or an address alone with a much wider limit.
type failures struct {
	now  func() time.Time
	mu   sync.Mutex
	seen map[string]failure
}

type failure struct {
	count float64
	until time.Time // no further try before
	last  time.Time
}

// limit says how many failures of a key are free, and how long the delay that
// then begins and doubles may get.
type limit struct {
	free int
	most time.Duration
}

const (
	delayStart = 2 * time.Second
	forget     = time.Hour
	keysMost   = 20_000
)

func newFailures(now func() time.Time) *failures {
	return &failures{now: now, seen: map[string]failure{}}
}

// wait says how long a key still has to wait; 0: it may try.
func (f *failures) wait(key string) time.Duration {
	f.mu.Lock()
	defer f.mu.Unlock()
	return max(0, f.seen[key].until.Sub(f.now()))
}

// failed counts a failure. What is free comes back over an hour, so that the
// slips of a busy school's address never add up over days.
func (f *failures) failed(key string, l limit) {
	f.mu.Lock()
	defer f.mu.Unlock()
	now := f.now()
	if len(f.seen) >= keysMost {
		f.sweep(now)
	}
	e := f.seen[key]
	back := float64(l.free) * (now.Sub(e.last).Seconds() / forget.Seconds())
	e.count = max(0, e.count-back) + 1
	if now.Sub(e.last) > forget {
		e.count = 1
	}
	e.last = now
	if over := int(math.Ceil(e.count)) - l.free; over > 0 {
		e.until = now.Add(min(l.most, delayStart<<min(over-1, 10)))
	}
	f.seen[key] = e
}

// succeeded forgets a key.
func (f *failures) succeeded(key string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	delete(f.seen, key)
}

func (f *failures) sweep(now time.Time) {
	for k, e := range f.seen {
		if now.Sub(e.last) > forget/4 {
			delete(f.seen, k)
		}
	}
	if len(f.seen) >= keysMost {
		clear(f.seen)
	}
}
