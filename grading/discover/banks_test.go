package discover

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// The banks of all families together stay under 100 MB, those of each asked
// kind and the parts for larger formulas included.
func TestBanksStaySmall(t *testing.T) {
	total := 0
	for _, f := range joint.All() {
		s, _ := signatureOf(f.Parameters)
		b, err := grow(context.Background(), s, bankSize, bankMost, func(float64) {})
		if err != nil {
			t.Fatalf("grow(%s) = %v, want none", s, err)
		}
		for _, q := range f.Quantities {
			b.plan(kindOfUnit(q.Unit))
		}
		b.partsPlan()
		n := b.bytes()
		total += n
		if size := len(b.spans) - 1; size < 7 {
			t.Errorf("the bank of %s has formulas of up to %d nodes, want 7", f.ID, size)
		}
		t.Logf("%s %s: %d formulas of up to %d nodes, %.1f MB", f.ID, s, len(b.ops), len(b.spans)-1, float64(n)/1e6)
	}
	if total > mostKeptBytes {
		t.Errorf("the banks of all families take %d bytes, want at most %d", total, mostKeptBytes)
	}
}

// Every formula of a bank is there once: no two give the same numbers on every
// blank. And each gives the numbers that its written form gives.
func TestBankIsWhatItIsWritten(t *testing.T) {
	const s, blanks = signature("LLANC"), 3 * probes
	b, err := grow(context.Background(), s, 5, bankMost, func(float64) {})
	if err != nil {
		t.Fatalf("grow(%s) = %v, want none", s, err)
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	var cols [][]float64
	for _, k := range s.kinds() {
		var col []float64
		for range blanks / probes {
			p := invented(k, rnd)
			col = append(col, p[:]...)
		}
		cols = append(cols, col)
	}
	names := []string{"a", "b", "w", "s", "n"}
	seen := map[string]int{}
	for i := range b.ops {
		got := b.work(int32(i), cols, blanks)
		key := fmt.Sprintf("%.9g", got)
		if before, ok := seen[key]; ok && !strings.Contains(key, "NaN") { // where both have a value everywhere
			t.Errorf("formulas %d and %d both give %s", before, i, key)
		}
		seen[key] = i
		for k := range blanks {
			larger := func(i int32) bool { return b.work(b.l[i], cols, blanks)[k] >= b.work(b.r[i], cols, blanks)[k] }
			g := formula.FromNode(b.tree(int32(i), names, larger))
			want, err := g.Eval(func(id string) (float64, bool) { j := slices.Index(names, id); return cols[max(j, 0)][k], j >= 0 })
			if err == nil && math.Abs(got[k]-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("formula %d gives %v on blank %d, written %s it gives %v", i, got[k], k, g, want)
			}
			if err != nil && !math.IsNaN(got[k]) && !math.IsInf(got[k], 0) {
				t.Errorf("formula %d gives %v on blank %d, written %s it gives %v", i, got[k], k, g, err)
			}
		}
	}
	t.Logf("%d formulas", len(b.ops))
}

// However many ask for a bank at once, it is made once; who gives up waiting
// goes, and if the one who makes it gives up, another one does.
func TestShelfMakesOnce(t *testing.T) {
	var s shelf[*bank]
	var made atomic.Int32
	makeIt := func(context.Context) (*bank, error) { made.Add(1); return &bank{}, nil }
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() {
			if b, err := s.get(context.Background(), "LLA", makeIt); b == nil || err != nil {
				t.Errorf("get = %v, %v, want a bank", b, err)
			}
		})
	}
	wg.Wait()
	if n := made.Load(); n != 1 {
		t.Errorf("made %d times, want 1", n)
	}

	given, up := context.WithCancel(context.Background())
	begun := make(chan bool)
	wg.Go(func() {
		_, err := s.get(given, "L", func(ctx context.Context) (*bank, error) {
			begun <- true
			<-ctx.Done()
			return nil, ctx.Err()
		})
		if !errors.Is(err, context.Canceled) {
			t.Errorf("get of who gave up = %v, want %v", err, context.Canceled)
		}
	})
	<-begun
	gone, leave := context.WithCancel(context.Background())
	leave()
	if _, err := s.get(gone, "L", makeIt); !errors.Is(err, context.Canceled) {
		t.Errorf("get of who does not wait = %v, want %v", err, context.Canceled)
	}
	wg.Go(func() {
		if b, err := s.get(context.Background(), "L", makeIt); b == nil || err != nil {
			t.Errorf("get after one gave up = %v, %v, want a bank", b, err)
		}
	})
	up()
	wg.Wait()
}

// sized is something that takes room.
type sized int

func (s sized) bytes() int { return int(s) }

func TestShelfDropsTheOldest(t *testing.T) {
	var s shelf[sized]
	put := func(key string) {
		if _, err := s.get(context.Background(), key, func(context.Context) (sized, error) { return mostKeptBytes / 2, nil }); err != nil {
			t.Fatalf("get(%s) = %v, want none", key, err)
		}
	}
	for _, key := range []string{"a", "b", "a", "c"} {
		put(key)
	}
	got := []bool{s.kept["a"] != nil, s.kept["b"] != nil, s.kept["c"] != nil}
	if want := []bool{true, false, true}; !reflect.DeepEqual(got, want) {
		t.Errorf("a, b and c are kept: %v, want %v", got, want)
	}
}

// A search that is called off ends with its context's error, wherever it is,
// and the next one finds everything in order.
func TestSearchIsCalledOff(t *testing.T) {
	ex := exerciseOf(t, "coopered-vessel")
	p := noiseProblem(t, ex, "stave_length", 40)
	for _, stage := range []string{"changes of the right formula", "formulas over the givens", "larger formulas"} {
		var banks Banks
		ctx, stop := context.WithCancel(context.Background())
		_, err := banks.Search(ctx, p, func(at Progress) {
			if at.Stage == stage {
				stop()
			}
		})
		if !errors.Is(err, context.Canceled) {
			t.Errorf("Search called off at %q = %v, want %v", stage, err, context.Canceled)
		}
		if _, err := banks.Search(context.Background(), p, nil); err != nil {
			t.Errorf("Search after that = %v, want none", err)
		}
		stop()
	}
}

// Progress only goes on, and ends at 1.
func TestProgressGoesOn(t *testing.T) {
	var banks Banks
	last := Progress{}
	_, err := banks.Search(context.Background(), noiseProblem(t, exerciseOf(t, "unequal-mitre"), "mitre_a", 30), func(p Progress) {
		if p.Done < last.Done || p.Done > 1 || p.Stage == "" {
			t.Errorf("progress %v after %v", p, last)
		}
		last = p
	})
	if err != nil || last.Done != 1 {
		t.Errorf("Search = %v, progress %v at the end, want 1", err, last)
	}
}
