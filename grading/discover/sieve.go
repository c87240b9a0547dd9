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
	// decoysKept is how many decoys of a level are kept by name.
	decoysKept = 150
)

// sieve tries a plan on a class and keeps what gives several answers.
func (p *plan) sieve(ctx context.Context, c *class, levels []level, from source) (pool, error) {
	s := sieve{p, c, levels, from, pool{}}
	if c.n > everyone {
		err := s.large(ctx)
		return s.pool, err
	}
	t, err := p.screen(ctx, c)
	if err != nil {
		return pool{}, err
	}
	for _, k := range top(t.own, fewest, mostKept) {
		s.keepOwn(k)
	}
	for l, roots := range s.byLevel() {
		counts := picked(t.decoy, roots)
		kept := top(counts, 1, decoysKept)
		for _, j := range kept {
			s.keepDecoy(roots[j])
		}
		s.floor[l] = mostBut(counts, kept)
	}
	return s.pool, nil
}

// sieve is a plan's formulas on their way into a pool.
type sieve struct {
	*plan
	c      *class
	levels []level // by root
	from   source
	pool
}

// keepOwn keeps a formula with the answers that it gives.
func (s *sieve) keepOwn(k int) {
	c := s.c
	numbers := s.work(s.roots[k], c.cols, c.n)
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
	numbers := s.work(s.roots[k], c.cols, c.n)
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

// byLevel lists the roots of each level.
func (s *sieve) byLevel() (by [levels][]int) {
	for k, l := range s.levels {
		by[l] = append(by[l], k)
	}
	return by
}

func picked(counts []uint16, which []int) []uint16 {
	out := make([]uint16, len(which))
	for i, k := range which {
		out[i] = counts[k]
	}
	return out
}

// top lists the places of the highest counts, from least on: as many as most,
// and none of a count that would make them more.
func top(counts []uint16, least uint16, most int) []int {
	return highest(counts, least, most, false)
}

// highest is top, and with cut the earliest of the count that is too many.
func highest(counts []uint16, least uint16, most int, cut bool) []int {
	top := uint16(0)
	for _, n := range counts {
		top = max(top, n)
	}
	many := make([]int, int(top)+1)
	for _, n := range counts {
		many[n]++
	}
	from, kept := len(many), 0
	for from > int(least) && kept+many[from-1] <= most {
		from--
		kept += many[from]
	}
	spare := 0
	if cut && from > int(least) {
		spare = most - kept
	}
	var out []int
	for k, n := range counts {
		switch {
		case int(n) >= from:
			out = append(out, k)
		case int(n) == from-1 && spare > 0:
			out = append(out, k)
			spare--
		}
	}
	return out
}

// mostBut is the highest count of those that were not kept.
func mostBut(counts []uint16, kept []int) int {
	most := uint16(0)
	for k, n := range counts {
		if n > most {
			if _, ok := slices.BinarySearch(kept, k); !ok {
				most = n
			}
		}
	}
	return int(most)
}

// large is for classes that are too large to try every formula on everyone.
func (s *sieve) large(ctx context.Context) error {
	c := s.c
	first := spread(c.n, firstSample, nil)
	t, err := s.screen(ctx, c.pick(first))
	if err != nil {
		return err
	}
	second := spread(c.n, secondSample, first)
	sample := c.pick(second)
	for _, roots := range s.byLevel() {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, k := range s.survivors(sample, roots, t.own, (*window).holds) {
			s.keepOwn(k)
		}
		for _, k := range s.survivors(sample, roots, t.decoy, (*window).decoyHolds) {
			s.keepDecoy(k)
		}
	}
	return nil
}

// survivors are the roots that do best on the first sample and on the second.
func (p *plan) survivors(second *class, roots []int, first []uint16, holds func(*window, float64) bool) []int {
	counts := picked(first, roots)
	chosen := highest(counts, 0, afterFirst, true)
	numbers := make([]float64, second.n)
	both := make([]uint16, len(chosen))
	for j, at := range chosen {
		both[j] = counts[at]
		p.into(numbers, p.roots[roots[at]], second.cols)
		for i, v := range numbers {
			if holds(&second.windows[i], v) {
				both[j]++
			}
		}
	}
	var out []int
	for _, j := range highest(both, 0, afterSecond, true) {
		out = append(out, roots[chosen[j]])
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
