package discover

import (
	"cmp"
	"math"
	"slices"

	"arrisbook/grading"
)

// Pattern is an error pattern with the answers that show it.
type Pattern struct {
	ID, Detail string
	Says       string
	Answers    []int // places in Problem.Answers
	two        bool  // two slips together
}

const (
	// nearShare sets answers aside that lie so near the key that a slip of the
	// calculator or of the rule is likelier than a wrong formula.
	nearShare = 0.05
	// oftenEnough is how many answers make a pattern of the catalogue a fact
	// about the class, so that no other formula is sought for them. Two slips
	// together are sought all the same: what is found says more than two names.
	oftenEnough = 3
)

// sift counts what needs no search and gives the places of what is left.
func sift(answers []Answer) (right int, patterns []Pattern, left []int) {
	s := sorter{answers: answers, of: map[int]int{}}
	for i, a := range answers {
		if a.Verdict == grading.Right {
			right++
		} else if a.Verdict == grading.Wrong {
			s.chance += chanceOf(a)
			if a.Slip != nil {
				s.give(i, s.pattern(*a.Slip))
			}
		}
	}
	s.share()
	slices.SortStableFunc(s.patterns, func(a, b Pattern) int {
		return cmp.Or(cmp.Compare(len(b.Answers), len(a.Answers)), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Detail, b.Detail))
	})
	explained := map[int]bool{}
	for _, p := range s.patterns {
		if len(p.Answers) == 0 {
			continue
		}
		patterns = append(patterns, p)
		for _, i := range p.Answers {
			explained[i] = len(p.Answers) >= oftenEnough && !p.two
		}
	}
	for i, a := range answers {
		if a.Verdict == grading.Wrong && !explained[i] && worthALook(a) {
			left = append(left, i)
		}
	}
	return right, patterns, left
}

func worthALook(a Answer) bool {
	off := math.Abs(a.Value - a.Key)
	return !math.IsInf(off, 0) && off > nearShare*math.Abs(a.Key) // false for NaN
}

// chanceOf is how likely a number that means nothing, anywhere between nothing
// and twice the key, is within the written digits of one that is given.
func chanceOf(a Answer) float64 {
	if a.Key == 0 || math.IsNaN(a.Key) {
		return 0
	}
	return min(1, a.Half/math.Abs(a.Key))
}

// sorter puts answers to patterns. One answer in few digits often fits more
// than one pattern; what many of the class did decides.
type sorter struct {
	answers  []Answer
	patterns []Pattern
	of       map[int]int // by answer: its pattern
	chance   float64     // how many answers a pattern gets by chance
}

// pattern finds a slip's pattern by place, or makes it.
func (s *sorter) pattern(slip grading.Slip) int {
	i := slices.IndexFunc(s.patterns, func(p Pattern) bool { return p.ID == slip.ID && p.Detail == slip.Detail })
	if i < 0 {
		i = len(s.patterns)
		s.patterns = append(s.patterns, Pattern{ID: slip.ID, Detail: slip.Detail, Says: slip.Says, two: slip.Two()})
	}
	return i
}

func (s *sorter) give(answer, pattern int) {
	s.of[answer] = pattern
	s.patterns[pattern].Answers = append(s.patterns[pattern].Answers, answer)
}

// share gives answers for which no pattern is sure to the one that most of them
// may have, as long as that is more than chance; those of a pattern that is
// seen often stay where they are.
func (s *sorter) share() {
	named := make([]int, len(s.patterns))
	for p := range s.patterns {
		named[p] = len(s.patterns[p].Answers)
	}
	open := map[int][]int{} // by answer: the patterns it may have
	for i, a := range s.answers {
		p, has := s.of[i]
		if a.Verdict != grading.Wrong || has && named[p] >= oftenEnough {
			continue
		}
		for _, slip := range a.Also {
			open[i] = append(open[i], s.pattern(slip))
		}
		if has {
			open[i] = append(open[i], p)
		}
	}
	for len(open) > 0 {
		p, n := s.commonest(open)
		if sure := p < len(named) && named[p] >= oftenEnough; !sure && float64(n) < s.needed() {
			return
		}
		s.move(p, open)
	}
}

// needed is how many answers make a pattern more than chance where not one of
// them is sure: twice what chance gives it, as with a formula that is found.
func (s *sorter) needed() float64 {
	return max(fewest, 2*s.chance+2+5*math.Sqrt(s.chance))
}

// commonest finds the pattern that most answers have or may have.
func (s *sorter) commonest(open map[int][]int) (pattern, n int) {
	counts := make([]int, len(s.patterns))
	for i, p := range s.of {
		if _, unsure := open[i]; !unsure {
			counts[p]++
		}
	}
	may := make([]bool, len(s.patterns))
	for _, ps := range open {
		for _, p := range ps {
			counts[p]++
			may[p] = true
		}
	}
	pattern = -1
	for p, c := range counts {
		if may[p] && (pattern < 0 || c > counts[pattern]) {
			pattern = p
		}
	}
	if pattern < 0 {
		return 0, 0
	}
	return pattern, counts[pattern]
}

// move gives every open answer that may have a pattern to it.
func (s *sorter) move(pattern int, open map[int][]int) {
	for i := range s.answers {
		if !slices.Contains(open[i], pattern) {
			continue
		}
		if p, has := s.of[i]; has {
			old := &s.patterns[p]
			old.Answers = slices.DeleteFunc(old.Answers, func(k int) bool { return k == i })
		}
		s.give(i, pattern)
		delete(open, i)
	}
	slices.Sort(s.patterns[pattern].Answers)
}
