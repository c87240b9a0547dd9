package skills

import "slices"

// Lesson is what the rule needs to know of a lesson module.
type Lesson struct {
	ID     string
	Needs  []string // ids of the lessons to read before
	Skills []string // that a number of its exercises trains
}

// Reason is why something comes next.
type Reason int

// The reasons.
const (
	Weakest Reason = iota // the smallest chance of the skills in work or faded
	Before                // a lesson of the weakest one needs it
	New                   // nothing is in work, and its needed lessons are settled
)

// Suggestion is what to take up next.
type Suggestion struct {
	Skill, Lesson string
	Reason        Reason
	For           string // Before: the skill that needs it
}

// Next says what to take up; the lessons stand in teaching order. ok is false
// where every skill is shown, or where there are none.
func Next(course []Lesson, levels map[string]Level) (s Suggestion, ok bool) {
	c := plan{course, levels}
	if weak := c.weakest(c.weakSkills(func(string) bool { return true })); weak != "" {
		return c.goDown(weak), true
	}
	for _, l := range course {
		for _, id := range l.Skills {
			if state(levels[id]) == NotTried && c.settled(l) {
				return Suggestion{Skill: id, Lesson: l.ID, Reason: New}, true
			}
		}
	}
	return Suggestion{}, false
}

type plan struct {
	course []Lesson
	levels map[string]Level
}

// home is the first lesson that trains a skill.
func (p plan) home(skill string) (Lesson, bool) {
	i := slices.IndexFunc(p.course, func(l Lesson) bool { return slices.Contains(l.Skills, skill) })
	if i < 0 {
		return Lesson{}, false
	}
	return p.course[i], true
}

// weakSkills are the skills in work or faded that are taught in lessons of a
// choice, in teaching order. One that no lesson teaches by now leads nowhere.
func (p plan) weakSkills(in func(lesson string) bool) []string {
	var weak []string
	for _, l := range p.course {
		for _, id := range l.Skills {
			home, _ := p.home(id)
			if s := state(p.levels[id]); home.ID == l.ID && in(l.ID) && (s == InWork || s == Faded) {
				weak = append(weak, id)
			}
		}
	}
	return weak
}

// weakest is the one with the smallest chance, of equal ones the first; "" of
// none.
func (p plan) weakest(ids []string) string {
	least := ""
	for _, id := range ids {
		if least == "" || p.levels[id].Chance < p.levels[least].Chance {
			least = id
		}
	}
	return least
}

// goDown goes from a weak skill to the weak ones below it. Needed lessons never
// run in a circle in a course that passes its checks; a lesson is gone into
// once, so that one that does comes to an end.
func (p plan) goDown(weak string) Suggestion {
	home, _ := p.home(weak)
	s := Suggestion{Skill: weak, Lesson: home.ID, Reason: Weakest}
	been := map[string]bool{home.ID: true}
	for {
		below := map[string]bool{}
		p.needed(s.Lesson, below)
		id := p.weakest(p.weakSkills(func(lesson string) bool { return below[lesson] && !been[lesson] }))
		if id == "" {
			return s
		}
		home, _ = p.home(id)
		been[home.ID] = true
		s = Suggestion{Skill: id, Lesson: home.ID, Reason: Before, For: weak}
	}
}

// needed gathers the lessons that one needs, and those that they need.
func (p plan) needed(lesson string, into map[string]bool) {
	i := slices.IndexFunc(p.course, func(l Lesson) bool { return l.ID == lesson })
	if i < 0 {
		return
	}
	for _, id := range p.course[i].Needs {
		if !into[id] {
			into[id] = true
			p.needed(id, into)
		}
	}
}

// settled says that no skill of the lessons that one needs is below shown.
func (p plan) settled(l Lesson) bool {
	below := map[string]bool{}
	p.needed(l.ID, below)
	delete(below, l.ID)
	for _, o := range p.course {
		if below[o.ID] && slices.ContainsFunc(o.Skills, func(id string) bool { return state(p.levels[id]) != Shown }) {
			return false
		}
	}
	return true
}
