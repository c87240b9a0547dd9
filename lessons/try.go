package lessons

import (
	"arrisbook/grading"
)

// trySeeds is how many blanks an exercise is tried on before its module counts
// as sound, in millimetres and again in inches. Ranges that fail do so on the
// first seeds or on nearly none.
const trySeeds = 3

// tryExercises draws blanks of every exercise, so that ranges which cannot be
// built, or on which a slip would pass for right, are found by the author and
// not by a class.
func (p *page) tryExercises(seeds uint64) {
	failing := 0
	for _, b := range p.exercises {
		ok := p.try(b, grading.Millimetres, seeds)
		if len(b.exercise.InchGivens) > 0 {
			ok = p.try(b, grading.Inches, seeds) && ok
		}
		if !ok {
			failing++
		}
		if failing == maxFailing {
			return // the others wait until these are put right: failing takes long
		}
	}
}

// try says whether every seed gives a blank.
func (p *page) try(b *exerciseBlock, units grading.Units, seeds uint64) bool {
	for seed := uint64(1); seed <= seeds; seed++ {
		if _, err := grading.Generate(b.exercise, seed, grading.ShopFor(units)); err != nil {
			p.fault(b.line, "in %s, %v", unitsName(units), err)
			return false
		}
	}
	return true
}

func unitsName(u grading.Units) string {
	if u == grading.Inches {
		return "inches"
	}
	return "millimetres"
}
