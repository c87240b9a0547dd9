package discover

import (
	"context"
	"slices"
)

const (
	// everyone is the largest class in which each formula is tried on everyone.
	// Of a larger one a sample is taken first, and what does well there is tried
	// on more and more: the same for the students' answers and the decoy's, so
	// that neither has a better chance.
	everyone = 200
	// firstSample and secondSample are how many students the sieve for large
	// classes looks at before it looks at all.
	firstSample, secondSample = 64, 96
	// afterFirst and afterSecond are how many formulas of a level go on.
	afterFirst, afterSecond = 250, 8
	// ownKept and decoysKept are how many formulas of a level are looked at
	// closely where all were tried on everyone.
	ownKept, decoysKept = 300, 150
)

// sieve is a plan's formulas on their way into a pool.
type sieve struct {
	*plan
	c      *class
	levels []level // by root
	from   source
	room   room
	pool
}

// sieve tries a plan on a class and keeps what gives several answers.
func (p *plan) sieve(ctx context.Context, c *class, of []level, from source) (pool, error) {
	s := sieve{plan: p, c: c, levels: of, from: from}
	var err error
	if c.n > everyone {
		err = s.large(ctx)
	} else {
		err = s.small(ctx)
	}
	return s.pool, err
}

// small tries every formula on everyone.
func (s *sieve) small(ctx context.Context) error {
	t, err := s.screen(ctx, s.c)
	if err != nil {
		return err
	}
	own, _ := rank(t.own, s.levels, fewest, ownKept, false)
	decoys, floor := rank(t.decoy, s.levels, 1, decoysKept, false)
	s.floor = floor
	s.keep(own, decoys)
	return nil
}

// keep keeps formulas by level.
func (s *sieve) keep(own, decoys [levels][]int) {
	for l := range levels {
		for _, k := range own[l] {
			s.keepOwn(k)
		}
		for _, k := range decoys[l] {
			s.keepDecoy(k)
		}
	}
}

// keepOwn keeps a formula with the answers that it gives.
func (s *sieve) keepOwn(k int) {
	c := s.c
	numbers := s.room.work(s.forest, s.roots[k], c.cols, c.n)
	if uniform(numbers) {
		return
	}
	own, beside := newSet(c.n), newSet(c.n)
	for i, v := range numbers {
		switch w := &c.windows[i]; {
		case w.holds(v):
			own.add(i)
		case w.beside(v):
			beside.add(i)
		}
	}
	if own.size() >= fewest {
		s.own = append(s.own, candidate{
			level: s.levels[k], nodes: s.nodes(s.roots[k]), source: s.from, place: int32(k), own: own, beside: beside,
		})
	}
}

// keepDecoy keeps a formula with the answers that it gives on the blanks before
// theirs.
func (s *sieve) keepDecoy(k int) {
	c := s.c
	numbers := s.room.work(s.forest, s.roots[k], c.cols, c.n)
	if uniform(numbers) {
		return
	}
	hits := newSet(c.n)
	for i, v := range numbers {
		if c.windows[i].decoyHolds(v) {
			hits.add((i + 1) % c.n)
		}
	}
	s.decoys = append(s.decoys, decoy{level: s.levels[k], hits: hits})
}

// uniform says that a formula gives everybody the same number: their answers
// then say nothing about it.
func uniform(numbers []float64) bool {
	for _, v := range numbers {
		if v != numbers[0] {
			return false
		}
	}
	return true
}

// large is for classes that are too large to try every formula on everyone.
func (s *sieve) large(ctx context.Context) error {
	first := spread(s.c.n, firstSample, nil)
	t, err := s.screen(ctx, s.c.pick(first))
	if err != nil {
		return err
	}
	second := s.c.pick(spread(s.c.n, secondSample, first))
	own, _ := rank(t.own, s.levels, 0, afterFirst, true)
	decoys, _ := rank(t.decoy, s.levels, 0, afterFirst, true)
	for l := range levels {
		if err := ctx.Err(); err != nil {
			return err
		}
		own[l] = s.survivors(second, own[l], t.own, (*window).holds)
		decoys[l] = s.survivors(second, decoys[l], t.decoy, (*window).decoyHolds)
	}
	s.keep(own, decoys)
	return nil
}

// survivors are the roots that do best on the first sample and on the second.
func (s *sieve) survivors(second *class, roots []int, first []uint16, holds func(*window, float64) bool) []int {
	both := make([]int, len(roots))
	for j, k := range roots {
		both[j] = int(first[k])
		for i, v := range s.room.work(s.forest, s.roots[k], second.cols, second.n) {
			if holds(&second.windows[i], v) {
				both[j]++
			}
		}
	}
	var out []int
	for _, j := range topOf(both, afterSecond) {
		out = append(out, roots[j])
	}
	return out
}

// spread picks so many of n, evenly, and none of those that are given.
func spread(n, many int, not []int) []int {
	var out []int
	for k := range many {
		i := k * n / many
		for slices.Contains(not, i) {
			i++
		}
		if i < n && (len(out) == 0 || i > out[len(out)-1]) {
			out = append(out, i)
		}
	}
	return out
}
