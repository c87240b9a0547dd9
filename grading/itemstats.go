package grading

import (
	"math"
	"slices"
)

// ItemStats describes how the numbers of a sheet told a class's people apart:
// one row for each number asked, one column for each person. All of it comes
// from right and wrong alone.
//
// With twenty people such figures move a good deal by chance: a difficulty by
// up to a fifth either way, a correlation by more. They are a reason to look
// at a question again, never a judgement of it, and none of a person.
type ItemStats struct {
	People int
	Items  []ItemStat
	// Mean and Variance are of the totals; the variance divides by People.
	Mean, Variance float64
	// KR20 is how far the numbers agree with each other (Kuder and Richardson
	// 1937, formula 20; Cronbach's alpha of right and wrong).
	KR20 Stat
}

// ItemStat describes one number.
type ItemStat struct {
	Right int
	// Difficulty is the share that had it right.
	Difficulty Stat
	// PointBiserial is the correlation of this number with the total of the
	// others.
	PointBiserial Stat
	// Upper27 and UpperThird are the share right in the best 27 % (or third) by
	// total less that in the worst. Where a group ends within people of one
	// total, each of them belongs to it by the same share.
	Upper27, UpperThird Stat
}

// Stat is a figure that may not exist: a correlation with something that is
// the same for everybody, anything of nobody.
type Stat struct {
	Value float64
	OK    bool
}

// NewItemStats works the figures out. right[person][item] says who had what
// right; every row has the same length.
func NewItemStats(right [][]bool) ItemStats {
	s := ItemStats{People: len(right)}
	if len(right) == 0 {
		return s
	}
	totals := make([]int, len(right))
	s.Items = make([]ItemStat, len(right[0]))
	for p, row := range right {
		for i, ok := range row {
			if ok {
				totals[p]++
				s.Items[i].Right++
			}
		}
	}
	n := float64(len(right))
	s.Mean, s.Variance = moments(totals)
	spread := 0.0 // sum of the items' own variances
	for i := range s.Items {
		p := float64(s.Items[i].Right) / n
		spread += p * (1 - p)
		s.Items[i].Difficulty = Stat{p, true}
		s.Items[i].PointBiserial = restCorrelation(right, totals, i)
		s.Items[i].Upper27 = discrimination(right, totals, i, 0.27)
		s.Items[i].UpperThird = discrimination(right, totals, i, 1.0/3)
	}
	if k := float64(len(s.Items)); k > 1 && s.Variance > 0 {
		s.KR20 = Stat{k / (k - 1) * (1 - spread/s.Variance), true}
	}
	return s
}

// moments are the mean and the variance (divided by the count) of totals.
func moments(totals []int) (mean, variance float64) {
	n := float64(len(totals))
	for _, t := range totals {
		mean += float64(t) / n
	}
	for _, t := range totals {
		variance += (float64(t) - mean) * (float64(t) - mean) / n
	}
	return mean, variance
}

// restCorrelation is Pearson's r of an item with the total of all others.
func restCorrelation(right [][]bool, totals []int, item int) Stat {
	rest := slices.Clone(totals)
	own := make([]int, len(totals))
	for p, row := range right {
		if row[item] {
			own[p] = 1
			rest[p]--
		}
	}
	ownMean, ownVar := moments(own)
	restMean, restVar := moments(rest)
	if ownVar == 0 || restVar == 0 {
		return Stat{}
	}
	cov := 0.0
	for p := range own {
		cov += (float64(own[p]) - ownMean) * (float64(rest[p]) - restMean) / float64(len(own))
	}
	return Stat{cov / math.Sqrt(ownVar*restVar), true}
}

// discrimination is the share right in the best part of the people by total
// less that in the worst part.
func discrimination(right [][]bool, totals []int, item int, part float64) Stat {
	groups := make([]tied, len(right[0])+1)
	for p, row := range right {
		groups[totals[p]].people++
		if row[item] {
			groups[totals[p]].right++
		}
	}
	size := part * float64(len(totals))
	low := shareRight(groups, size)
	slices.Reverse(groups)
	return Stat{shareRight(groups, size) - low, true}
}

// tied is everybody with one total.
type tied struct{ people, right float64 }

// shareRight is the share right among the first size people, groups taken in
// order and the last one in part.
func shareRight(groups []tied, size float64) float64 {
	left, right := size, 0.0
	for _, g := range groups {
		if g.people == 0 {
			continue
		}
		take := min(left, g.people)
		right += take / g.people * g.right
		left -= take
	}
	return right / size
}
