package server

import (
	"context"
	"errors"
	"runtime"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"
)

// An unknown name is checked against a hash that costs the same as a real one,
// and nothing matches it.
func TestUnknownCostsTheSame(t *testing.T) {
	t.Parallel()
	h, err := newHashing()
	if err != nil {
		t.Fatal(err)
	}
	params, _, _, err := argon2id.DecodeHash(h.decoy)
	if err != nil || *params != *hashParams {
		t.Errorf("the decoy costs %+v (%v), want %+v", params, err, hashParams)
	}
	if ok, err := h.compare("nobody has this password", ""); ok || err != nil {
		t.Errorf("compare with an empty hash = %v, %v", ok, err)
	}
	real, err := h.hash(context.Background(), testPassword)
	if err != nil {
		t.Fatal(err)
	}
	if ok, err := h.compare(testPassword, real); !ok || err != nil {
		t.Errorf("compare with the right hash = %v, %v", ok, err)
	}
	if ok, err := h.compare(testPassword+" ", real); ok || err != nil {
		t.Errorf("compare with a wrong secret = %v, %v", ok, err)
	}
}

// At most one hash a processor runs at once; who waits can give up.
func TestHashingTakesTurns(t *testing.T) {
	t.Parallel()
	h, err := newHashing()
	if err != nil {
		t.Fatal(err)
	}
	for range runtime.NumCPU() {
		if err := h.wait(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	ctx, stop := context.WithTimeout(context.Background(), 20*time.Millisecond)
	defer stop()
	if err := h.wait(ctx); !errors.Is(err, context.DeadlineExceeded) {
		t.Fatalf("one turn too many: %v", err)
	}
	h.done()
	if err := h.wait(context.Background()); err != nil {
		t.Error(err)
	}
}

func TestFailures(t *testing.T) {
	now := testStart
	f := newFailures(func() time.Time { return now })
	l := limit{free: 2, most: 10 * time.Second}
	var waits []time.Duration
	for range 7 {
		f.failed("key", l)
		waits = append(waits, f.wait("key"))
	}
	want := []time.Duration{0, 0, 2 * time.Second, 4 * time.Second, 8 * time.Second, 10 * time.Second, 10 * time.Second}
	for i := range want {
		if waits[i] != want[i] {
			t.Fatalf("waits = %v, want %v", waits, want)
		}
	}
	if got := f.wait("other"); got != 0 {
		t.Errorf("another key waits %v", got)
	}
	now = now.Add(10 * time.Second)
	if got := f.wait("key"); got != 0 {
		t.Errorf("after the wait: %v", got)
	}
	f.failed("key", l)
	f.succeeded("key")
	f.failed("key", l)
	if got := f.wait("key"); got != 0 {
		t.Errorf("after a success the first failure waits %v", got)
	}
	for range 3 {
		f.failed("key", l)
	}
	now = now.Add(forget + time.Minute)
	f.failed("key", l)
	if got := f.wait("key"); got != 0 {
		t.Errorf("an hour later the first failure waits %v", got)
	}
}

// An address from which somebody slips once every ten minutes is never slowed,
// not in a month.
func TestFailuresWearOff(t *testing.T) {
	now := testStart
	f := newFailures(func() time.Time { return now })
	for range 30 * 24 * 6 {
		f.failed("school", limitHere)
		if got := f.wait("school"); got > 0 {
			t.Fatalf("on %v it waits %v", now, got)
		}
		now = now.Add(10 * time.Minute)
	}
}

// However many keys are tried, memory stays bounded and keys that wait now are
// the last to be forgotten.
func TestFailuresStayBounded(t *testing.T) {
	now := testStart
	f := newFailures(func() time.Time { return now })
	for i := range 3 * keysMost {
		now = now.Add(time.Second / 2)
		f.failed(string(rune(i))+"/"+time.Duration(i).String(), limitHere)
	}
	if len(f.seen) > keysMost {
		t.Errorf("%d keys kept, want at most %d", len(f.seen), keysMost)
	}
}
