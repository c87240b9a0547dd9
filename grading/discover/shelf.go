package discover

import (
	"context"
	"sync"
)

// shelf keeps what took a while to make, so that it is made once whoever asks.
// When it is full, what was asked for longest ago goes.
type shelf[T interface{ bytes() int }] struct {
	mu    sync.Mutex
	kept  map[string]*kept[T]
	clock int
}

type kept[T any] struct {
	ready chan struct{}
	value T
	err   error
	used  int
}

// mostKeptBytes bounds a shelf. The banks of all shipped families take less
// than half of it together.
const mostKeptBytes = 80 << 20

// get gives what is kept under a key, and makes it if need be. Others who ask
// meanwhile wait, each as long as its own context lets it; if the one who makes
// it gives up, the next one begins.
func (s *shelf[T]) get(ctx context.Context, key string, make func(context.Context) (T, error)) (T, error) {
	for {
		k, mine := s.claim(key)
		if mine {
			k.value, k.err = make(ctx)
			s.settle(key, k)
			return k.value, k.err
		}
		select {
		case <-k.ready:
			if k.err == nil {
				return k.value, nil
			}
		case <-ctx.Done():
			var none T
			return none, ctx.Err()
		}
	}
}

// claim finds an entry, or puts in an empty one that is the caller's to fill.
func (s *shelf[T]) claim(key string) (k *kept[T], mine bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.clock++
	if k, ok := s.kept[key]; ok {
		k.used = s.clock
		return k, false
	}
	if s.kept == nil {
		s.kept = map[string]*kept[T]{}
	}
	k = &kept[T]{ready: make(chan struct{}), used: s.clock}
	s.kept[key] = k
	return k, true
}

// settle lets the others have an entry, or takes a failed one away.
func (s *shelf[T]) settle(key string, k *kept[T]) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if k.err != nil {
		delete(s.kept, key)
	}
	close(k.ready)
	for s.held() > mostKeptBytes && s.drop(key) {
	}
}

// held is what the finished entries take.
func (s *shelf[T]) held() int {
	n := 0
	for _, k := range s.kept {
		if k.done() {
			n += k.value.bytes()
		}
	}
	return n
}

func (k *kept[T]) done() bool {
	select {
	case <-k.ready:
		return k.err == nil
	default:
		return false
	}
}

// drop takes away the finished entry that was asked for longest ago, but not
// the one just made. It is false where there is none.
func (s *shelf[T]) drop(but string) bool {
	oldest := ""
	for key, k := range s.kept {
		if key != but && k.done() && (oldest == "" || k.used < s.kept[oldest].used) {
			oldest = key
		}
	}
	delete(s.kept, oldest)
	return oldest != ""
}
