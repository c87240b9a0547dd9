package server

import (
	"arrisbook/grading"
	"arrisbook/server/store"
)

// historyOf is what was named before, as the weighing of slips takes it.
func historyOf(s store.Slips) grading.History {
	h := grading.History{Own: map[string]int{}, Class: map[string]map[string]int{}}
	for _, c := range s.Own {
		h.Own[c.Pattern] += c.Count
	}
	for _, c := range s.Class {
		note(h, c.Step, grading.Slip{ID: c.Pattern, Detail: c.Detail}, c.Count)
	}
	return h
}

// note adds to what the class was named on a step; a slip without an id stands
// for a number that nothing explained.
func note(h grading.History, step string, s grading.Slip, times int) {
	if h.Class[step] == nil {
		h.Class[step] = map[string]int{}
	}
	h.Class[step][s.Key()] += times
}

// learn adds the answers of an attempt, so that they count for the next.
func learn(h grading.History, fresh []grading.StepResult) {
	for _, r := range fresh {
		if r.Verdict != grading.Wrong {
			continue
		}
		var s grading.Slip
		if r.Pattern != nil {
			s = *r.Pattern
			h.Own[s.ID]++
		}
		note(h, r.ID, s, 1)
	}
}
