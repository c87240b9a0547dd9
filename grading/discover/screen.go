package discover

import (
	"context"
	"runtime"
	"sync"
)

const (
	// blockSize is how many students are worked out together: the kept rows of
	// the largest bank then take a few megabytes.
	blockSize = 32
	// stretch is how many formulas are tried between two looks at the context.
	stretch = 8192
	// mostWorkers keeps a search from taking a whole large machine.
	mostWorkers = 4
)

// tallies count for each root how many answers it gives, the students' own and
// the decoy's.
type tallies struct{ own, decoy []uint16 }

// screen tries every root on a class of up to 65,535.
func (p *plan) screen(ctx context.Context, c *class) (tallies, error) {
	t := tallies{make([]uint16, len(p.roots)), make([]uint16, len(p.roots))}
	s := screener{plan: p, values: make([]float64, len(p.parts)*min(blockSize, c.n))}
	for from := 0; from < c.n; from += blockSize {
		s.start(c.part(from, min(c.n, from+blockSize)))
		if s.each(ctx, t); ctx.Err() != nil {
			return t, ctx.Err()
		}
	}
	return t, nil
}

// each counts the block's hits of every root, on as many processors as there
// are. The tallies of a root are one worker's own, so the result is the same
// however many there are.
func (s *screener) each(ctx context.Context, t tallies) {
	workers := min(runtime.GOMAXPROCS(0), mostWorkers, 1+len(s.roots)/stretch)
	share := (len(s.roots) + workers - 1) / workers
	var wg sync.WaitGroup
	for from := 0; from < len(s.roots); from += share {
		wg.Go(func() {
			end := min(len(s.roots), from+share)
			scratch := make([]float64, s.c.n)
			for i := from; i < end && ctx.Err() == nil; i += stretch {
				s.count(i, min(end, i+stretch), t, scratch)
			}
		})
	}
	wg.Wait()
}

// screener is one block of students on its way through a plan.
type screener struct {
	*plan
	c      *class
	values []float64 // of the parts, a row of students each
	// befores are the windows before a last step on one number, by step.
	befores [opPow + 1][]window
}

// start works out the parts, a worker for some of the students each.
func (s *screener) start(c *class) {
	s.c = c
	for o := opNeg; o < opAdd; o++ {
		s.befores[o] = c.before(o)
	}
	workers := min(runtime.GOMAXPROCS(0), mostWorkers, 1+c.n/8)
	share := (c.n + workers - 1) / workers
	var wg sync.WaitGroup
	for from := 0; from < c.n; from += share {
		wg.Go(func() {
			for _, i := range s.parts {
				s.fill(s.rowOf(i), i, from, min(c.n, from+share))
			}
		})
	}
	wg.Wait()
}

// fill works out one formula, whose parts are known, for some of the students.
func (s *screener) fill(row []float64, i int32, from, to int) {
	row = row[from:to]
	switch o := s.ops[i]; {
	case o == opSize:
		copy(row, s.c.cols[s.l[i]][from:to])
	case o == opNumber:
		for j := range row {
			row[j] = s.number(i)
		}
	case o.binary():
		o.row(row, s.rowOf(s.l[i])[from:to], s.rowOf(s.r[i])[from:to])
	default:
		o.row(row, s.rowOf(s.l[i])[from:to], nil)
	}
}

func (s *screener) rowOf(i int32) []float64 {
	k := int(s.row[i]) * s.c.n
	return s.values[k : k+s.c.n]
}

// count adds the block's hits of some roots.
func (s *screener) count(from, to int, t tallies, scratch []float64) {
	for k := from; k < to; k++ {
		own, decoy := s.hits(s.roots[k], scratch)
		t.own[k] += uint16(own)
		t.decoy[k] += uint16(decoy)
	}
}

func (s *screener) hits(i int32, scratch []float64) (own, decoy int) {
	w := s.c.windows
	if s.row[i] >= 0 {
		return hits(s.rowOf(i), w)
	}
	o := s.ops[i]
	if o.binary() && o != opPow {
		return hitsOf(o, s.rowOf(s.l[i]), s.rowOf(s.r[i]), w, s.befores[opRoot])
	}
	if b := s.befores[o]; b != nil {
		return hits(s.rowOf(s.l[i]), b)
	}
	s.fill(scratch, i, 0, s.c.n)
	return hits(scratch, w)
}
