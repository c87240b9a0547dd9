package server

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"time"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// keyPlan is a key that could be made, ready to be tried on what was sent.
type keyPlan struct {
	class store.Class
	from  rules     // as they are
	rules rules     // as they would be
	key   store.Key // without number, name and time
	// leave says what becomes of leave to cut for numbers that would not be
	// right any more: leaveStays or leaveEnds, "" while nobody has said.
	leave string
}

// What an instructor decides about leave to cut.
const (
	leaveStays = "stays"
	leaveEnds  = "ends"
)

// keyEffect is what a key would do.
type keyEffect struct {
	Sheets   []sheetEffect // those on which something changes, in bench order
	Attempts int           // judged again, all of them
	Verdicts int           // answers of last attempts with another verdict
	Hints    int           // wrong answers, of all attempts, that another slip explains
}

// sheetEffect is what a key would do to one sheet.
type sheetEffect struct {
	SheetNo, Bench int
	Name           string
	Before, After  string // "4 of 6 right"
	Steps          []stepEffect
	// Cleared says that leave to cut stands and would stand for a number that is
	// not right any more; Waits, that the sheet would leave the queue.
	Cleared, Waits bool
}

// stepEffect is another verdict on one number; "" for one that is not asked
// before or after.
type stepEffect struct {
	Name, Before, After string
}

// losing are the sheets whose leave to cut would stand for wrong numbers.
func (e keyEffect) losing() []int {
	var nos []int
	for _, sh := range e.Sheets {
		if sh.Cleared {
			nos = append(nos, sh.SheetNo)
		}
	}
	return nos
}

// hashOf is a short name of some values that no others share.
func hashOf(values ...any) string {
	text, err := json.Marshal(values)
	if err != nil {
		panic(err) // numbers and texts only
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:12])
}

// decide judges everything that was sent by the planned rules, in the order in
// which it was sent. It is pure.
func (p keyPlan) decide(w store.Work) (store.Rekeyed, keyEffect, error) {
	out := store.Rekeyed{Key: p.key, EndedWhy: "the key was changed: " + p.key.Why}
	var effect keyEffect
	now := make([]store.Sheet, len(w.Sheets))
	for i, sh := range w.Sheets {
		keyed, err := p.rules.sheet(sh.Sheet.Plain(), shopOf(p.class))
		if err != nil {
			return out, effect, fmt.Errorf("sheet %d under a new key: %w", sh.Sheet.No, err)
		}
		out.Sheets = append(out.Sheets, store.KeyedSheet{No: sh.Sheet.No, Keyed: keyed})
		now[i] = sh.Sheet
		now[i].Keyed = keyed
	}
	results, err := p.judgeAgain(w, now)
	if err != nil {
		return out, effect, err
	}
	for i, sh := range w.Sheets {
		out.Results = append(out.Results, results[i]...)
		effect.add(p, sh, results[i])
	}
	for _, sh := range effect.Sheets {
		if sh.Waits {
			out.Unasked = append(out.Unasked, sh.SheetNo)
		}
	}
	if p.leave == leaveEnds {
		out.Ended = effect.losing()
	}
	return out, effect, nil
}

// sending is one attempt among all of an assignment.
type sending struct{ sheet, attempt int }

// asSent lists all attempts in the order in which they were sent.
func asSent(w store.Work) []sending {
	var all []sending
	for i, sh := range w.Sheets {
		for k := range sh.Attempts {
			all = append(all, sending{i, k})
		}
	}
	at := func(s sending) time.Time { return w.Sheets[s.sheet].Attempts[s.attempt].SentAt }
	slices.SortStableFunc(all, func(a, b sending) int { return at(a).Compare(at(b)) })
	return all
}

// judgeAgain judges the attempts of all sheets: results by sheet, in order. A
// slip weighs by what was named before it, as when it was sent; what the
// student did on other assignments counts as a whole.
func (p keyPlan) judgeAgain(w store.Work, now []store.Sheet) ([][]store.NewResult, error) {
	out := make([][]store.NewResult, len(w.Sheets))
	class := map[string]map[string]int{}
	own := map[int]map[string]int{}
	for student, counts := range w.Own {
		own[student] = maps.Clone(counts)
	}
	for _, s := range asSent(w) {
		sh := &w.Sheets[s.sheet]
		student := sh.Sheet.StudentNo
		if own[student] == nil {
			own[student] = map[string]int{}
		}
		h := grading.History{Own: own[student], Class: class}
		n, err := p.judgeOne(sh.Attempts[s.attempt], now[s.sheet], h)
		if err != nil {
			return nil, err
		}
		var last *store.Attempt
		if s.attempt > 0 {
			last = &sh.Attempts[s.attempt-1].Attempt
		}
		n.Fresh = newAnswers(n.Result, last, sh.Attempts[s.attempt].Wood)
		learn(h, n.Fresh)
		out[s.sheet] = append(out[s.sheet], n)
	}
	return out, nil
}

// judgeOne judges one attempt. Taking a key back brings back what was said
// before it, word for word, where there was a before.
func (p keyPlan) judgeOne(a store.SentAttempt, now store.Sheet, h grading.History) (n store.NewResult, err error) {
	n = store.NewResult{SheetNo: now.No, AttemptNo: a.No}
	if p.key.Undoes != nil && a.Before != nil {
		n.Sheet, n.Result = a.Before.Sheet, a.Before.Result
		return n, nil
	}
	if n.Sheet, err = p.sheetOfAttempt(a.Attempt, now); err != nil {
		return n, err
	}
	n.Result = grading.Weigh(p.rules.exercise, grading.Grade(p.rules.exercise, n.Sheet, a.Answers, p.unitsThen(a.Attempt)), h)
	return n, nil
}

// sheetOfAttempt is the sheet that an attempt is judged by under the planned
// rules: on the wood of its day.
func (p keyPlan) sheetOfAttempt(a store.Attempt, now store.Sheet) (grading.Sheet, error) {
	if a.Wood == now.Wood {
		return now.Current(), nil
	}
	plain := a.Sheet
	if p.from.no > 0 {
		// Its own tolerances may be those that an earlier key has set.
		anew, err := grading.OnBlank(p.rules.given, a.Sheet.Parameters, shopOf(p.class))
		if err != nil {
			return plain, fmt.Errorf("attempt %d of sheet %d on earlier wood: %w", a.No, now.No, err)
		}
		anew.Seed, plain = a.Sheet.Seed, anew
	}
	keyed, err := p.rules.sheet(plain, shopOf(p.class))
	if err != nil || keyed == nil {
		return plain, err
	}
	return *keyed, nil
}

// unitsThen is how the class wrote lengths when an attempt was sent.
func (p keyPlan) unitsThen(a store.Attempt) grading.Units {
	if a.Units != "" {
		return a.Units
	}
	return unitsOf(p.class)
}

// add notes what becomes of one sheet.
func (e *keyEffect) add(p keyPlan, sh store.SheetOf, results []store.NewResult) {
	e.Attempts += len(results)
	if sh.Removed {
		return // judged all the same, in case the student comes back
	}
	for i, r := range results {
		e.Hints += explainedAnew(sh.Attempts[i].Result, r.Result)
	}
	if len(results) == 0 {
		return
	}
	before, after := sh.Attempts[len(results)-1].Result, results[len(results)-1].Result
	line := sheetEffect{
		SheetNo: sh.Sheet.No, Bench: sh.Sheet.Bench, Name: sh.Sheet.StudentName,
		Before: scoreWords(before), After: scoreWords(after), Steps: p.stepEffects(before, after),
		Cleared: sh.Cleared != nil && complete(before) && !complete(after),
		Waits:   sh.Sheet.AskedAt != nil && complete(before) && !complete(after),
	}
	e.Verdicts += len(line.Steps)
	if len(line.Steps) > 0 {
		e.Sheets = append(e.Sheets, line)
	}
}

func scoreWords(r grading.Result) string { return ofAll(r.Score, r.OutOf) + " right" }

// explainedAnew counts wrong answers that another slip explains, or one where
// there was none, or none any more.
func explainedAnew(before, after grading.Result) int {
	n := 0
	for _, b := range before.Steps {
		i := slices.IndexFunc(after.Steps, func(a grading.StepResult) bool { return a.ID == b.ID })
		if i < 0 || b.Verdict != grading.Wrong || after.Steps[i].Verdict != grading.Wrong {
			continue
		}
		if slipKey(b.Pattern) != slipKey(after.Steps[i].Pattern) {
			n++
		}
	}
	return n
}

func slipKey(s *grading.Slip) string {
	if s == nil {
		return ""
	}
	return s.ID + " " + s.Detail + " " + s.Says
}

// stepEffects lists the numbers with another verdict, in the exercise's order.
func (p keyPlan) stepEffects(before, after grading.Result) []stepEffect {
	verdict := func(r grading.Result, id string) string {
		for _, st := range r.Steps {
			if st.ID == id {
				return string(st.Verdict)
			}
		}
		return ""
	}
	var out []stepEffect
	for _, step := range p.from.given.Steps {
		b, a := verdict(before, step.ID), verdict(after, step.ID)
		if b != a {
			out = append(out, stepEffect{Name: step.Name, Before: b, After: a})
		}
	}
	return out
}
