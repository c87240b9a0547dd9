package server

import (
	"cmp"
	"context"
	"slices"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// reviewData is what a class sent on an assignment, as the counts that were
// kept with each attempt tell it. What is loaded grows with sheets, numbers and
// slips, not with attempts.
type reviewData struct {
	class      store.Class
	assignment store.Assignment
	ex         *grading.Exercise
	sheets     []store.ReviewSheet
	progress   []store.Progress
	tallies    []store.Tally
	wrong      []store.WrongAnswer
}

func (s *server) reviewData(ctx context.Context, class store.Class, a store.Assignment, ex *grading.Exercise) (reviewData, error) {
	d := reviewData{class: class, assignment: a, ex: ex}
	var err error
	if d.sheets, err = s.store.ReviewSheets(ctx, class.ID, a.No); err != nil {
		return d, err
	}
	if d.progress, err = s.store.Progress(ctx, class.ID, a.No); err != nil {
		return d, err
	}
	if d.tallies, err = s.store.Tallies(ctx, class.ID, a.No); err != nil {
		return d, err
	}
	d.wrong, err = s.store.WrongAnswers(ctx, class.ID, a.No)
	return d, err
}

// begun are the sheets with an attempt.
func (d reviewData) begun() []store.ReviewSheet {
	var out []store.ReviewSheet
	for _, sh := range d.sheets {
		if sh.Attempts > 0 {
			out = append(out, sh)
		}
	}
	return out
}

// sheetStep is one number on one sheet.
type sheetStep struct {
	sheet int
	step  string
}

// last gives the last answers.
func (d reviewData) last() map[sheetStep]store.Progress {
	out := map[sheetStep]store.Progress{}
	for _, p := range d.progress {
		out[sheetStep{p.SheetNo, p.Step}] = p
	}
	return out
}

// tally counts the class's work.
func (d reviewData) tally() grading.Tally {
	begun, last := d.begun(), d.last()
	t := grading.Tally{Sheets: len(begun)}
	for i, st := range d.ex.Steps {
		n := grading.StepTally{ID: st.ID, Number: i + 1, Share: grading.Interval{Low: 0, High: 1}}
		for _, sh := range begun {
			if slices.Contains(sh.Steps, st.ID) {
				n.Add(last[sheetStep{sh.SheetNo, st.ID}].Verdict)
			}
		}
		for _, m := range d.slips(st.ID) {
			if m.slip == nil {
				n.Unexplained = m.answers
				continue
			}
			n.Slips = append(n.Slips, grading.SlipTally{Slip: *m.slip, Count: m.answers, Sheets: m.people()})
		}
		t.Steps = append(t.Steps, n)
	}
	return t
}

// moved is one slip on one number: how often, to how many, and what became of
// it.
type moved struct {
	slip        *grading.Slip // nil: no known slip
	keys        []string
	answers     int          // that show it
	sheets      map[int]bool // that showed it at some time
	first, last int          // sheets whose first answer, whose last answer shows it
}

func (m moved) people() int { return len(m.sheets) }

// slips lists the slips seen on a number, those that most people showed first;
// answers that nothing explains come last.
func (d reviewData) slips(step string) []moved {
	var out []moved
	for _, w := range d.wrong {
		if w.Step != step {
			continue
		}
		m := findMoved(out, w.Result.Pattern)
		if m == nil {
			out = append(out, moved{slip: w.Result.Pattern, sheets: map[int]bool{}})
			m = &out[len(out)-1]
		}
		m.sheets[w.SheetNo] = true
		if key := patternKey(w.Result.Pattern); !slices.Contains(m.keys, key) {
			m.keys = append(m.keys, key)
		}
	}
	for i := range out {
		d.count(step, &out[i])
	}
	slices.SortStableFunc(out, func(a, b moved) int {
		if (a.slip == nil) != (b.slip == nil) {
			return cmp.Compare(boolOrder(a.slip == nil), boolOrder(b.slip == nil))
		}
		return cmp.Or(cmp.Compare(b.people(), a.people()), cmp.Compare(b.answers, a.answers), cmp.Compare(a.keys[0], b.keys[0]))
	})
	return out
}

func boolOrder(b bool) int {
	if b {
		return 1
	}
	return 0
}

// count adds up what the tallies say of a slip.
func (d reviewData) count(step string, m *moved) {
	for _, t := range d.tallies {
		if t.Step != step || t.Verdict != grading.Wrong || !slices.Contains(m.keys, pairKey(t.Pattern, t.Detail)) {
			continue
		}
		m.answers += t.Answers
		if t.Turn == 1 {
			m.first += t.Answers
		}
	}
	for _, p := range d.progress {
		if p.Step == step && p.Verdict == grading.Wrong && slices.Contains(m.keys, pairKey(p.Pattern, p.Detail)) {
			m.last++
		}
	}
}

// findMoved finds the line of a slip. Slips that one sentence tells are one to
// whoever reads it.
func findMoved(all []moved, slip *grading.Slip) *moved {
	for i := range all {
		o := all[i].slip
		if slip == nil || o == nil {
			if slip == o {
				return &all[i]
			}
			continue
		}
		if o.ID == slip.ID && (o.Detail == slip.Detail || o.Says != "" && o.Says == slip.Says) {
			return &all[i]
		}
	}
	return nil
}

func patternKey(s *grading.Slip) string {
	if s == nil {
		return pairKey("", "")
	}
	return pairKey(s.ID, s.Detail)
}

func pairKey(pattern, detail string) string { return pattern + "\x00" + detail }

// work gives the wrong answers as cases are chosen from.
func (d reviewData) work() []grading.Work {
	var out []grading.Work
	for _, w := range d.wrong {
		if n := len(out); n == 0 || out[n-1].No != int64(w.SheetNo) {
			out = append(out, grading.Work{No: int64(w.SheetNo)})
		}
		at := &out[len(out)-1]
		at.Attempts = append(at.Attempts, grading.Attempt{
			Sheet: grading.Sheet{Parameters: w.Parameters}, Result: grading.Result{Steps: []grading.StepResult{w.Result}},
		})
	}
	return out
}

// right says who has what right by now: a row for each sheet with an attempt,
// a column for each number that all of them ask.
func (d reviewData) right() (rows [][]bool, steps []grading.Step) {
	begun, last := d.begun(), d.last()
	for _, st := range d.ex.Steps {
		if !slices.ContainsFunc(begun, func(sh store.ReviewSheet) bool { return !slices.Contains(sh.Steps, st.ID) }) {
			steps = append(steps, st)
		}
	}
	for _, sh := range begun {
		row := make([]bool, len(steps))
		for i, st := range steps {
			v := last[sheetStep{sh.SheetNo, st.ID}].Verdict
			row[i] = v == grading.Right || v == grading.Follows
		}
		rows = append(rows, row)
	}
	return rows, steps
}
