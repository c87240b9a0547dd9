package server

import (
	"errors"
	"fmt"
	"net/http"
	"time"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// errOtherKey says that a new key came between reading the exercise and locking
// the sheet. Nothing is wrong with the press: it is to be read again.
var errOtherKey = errors.New("the key has changed in the meantime")

// refusal says why numbers were not taken. Nothing of them is lost: they go
// back into their fields.
type refusal struct {
	Status   int
	Sentence string
	Faults   map[string]string // by step
}

// Error is the sentence.
func (r *refusal) Error() string { return r.Sentence }

// judge decides about a press from the sheet as it stands when its row is
// locked. It is pure, so it may be asked again.
func (f numbersForm) judge(ex *grading.Exercise, units grading.Units, now time.Time) store.Judge {
	return func(b store.Before) (store.Judged, error) {
		sh, a, last := b.Sheet, b.Assignment, b.Last
		if a.KeyNo != f.KeyNo {
			return store.Judged{}, errOtherKey
		}
		if why := f.shut(a, sh.Attempts, now); why != "" {
			return store.Judged{}, &refusal{Status: http.StatusConflict, Sentence: why}
		}
		if f.Wood != sh.Wood {
			return store.Judged{}, &refusal{Status: http.StatusConflict,
				Sentence: "The blank was measured again since this page was made. Look at the sizes, then send."}
		}
		if f.empty() {
			return store.Judged{}, &refusal{Status: http.StatusUnprocessableEntity,
				Sentence: "Nothing is filled in yet. Write at least one number; the others can wait."}
		}
		sheet := sh.Current()
		if faults := faultsIn(readEntries(ex, sheet, f.Texts, units)); len(faults) > 0 {
			return store.Judged{}, &refusal{Status: http.StatusUnprocessableEntity, Sentence: cannotRead(len(faults)), Faults: faults}
		}
		if last != nil && last.Wood == sh.Wood && sameTexts(last.Answers, f.Texts) {
			return store.Judged{}, &refusal{Status: http.StatusUnprocessableEntity,
				Sentence: fmt.Sprintf("These are the numbers of attempt %d already. Nothing was sent, and no attempt is used.", last.No)}
		}
		result := grading.Weigh(ex, grading.Grade(ex, sheet, f.Texts, units), historyOf(b.Slips))
		return store.Judged{
			Sheet: sheet, Units: units, Wood: sh.Wood, Answers: f.Texts, Result: result,
			New: newAnswers(result, last, sh.Wood), KeepAsked: complete(result),
		}, nil
	}
}

// shut says why the numbers cannot be taken any more; "" while they can. Paper
// was filled in before it is typed, so for that the due time and the release
// of the key are no bar; the number of attempts is.
func (f numbersForm) shut(a store.Assignment, attempts int, now time.Time) string {
	if f.Paper {
		a.DueAt, a.ReleasedAt = nil, nil
	}
	return shut(a, attempts, now)
}

func cannotRead(n int) string {
	if n == 1 {
		return "One number could not be read. Nothing was sent, and no attempt is used."
	}
	return upperFirst(inWords(n)) + " numbers could not be read. Nothing was sent, and no attempt is used."
}

func sameTexts(a, b map[string]string) bool {
	for id, text := range b {
		if a[id] != text {
			return false
		}
	}
	return true
}

// newAnswers are the results whose text was not in the last attempt. On
// another wood every answer is new: it answers another question.
func newAnswers(result grading.Result, last *store.Attempt, wood int) []grading.StepResult {
	var fresh []grading.StepResult
	for _, r := range result.Steps {
		switch {
		case last != nil && last.Wood == wood:
			if last.Answers[r.ID] != r.Given {
				fresh = append(fresh, r)
			}
		case r.Verdict != grading.Blank:
			fresh = append(fresh, r)
		}
	}
	return fresh
}

// complete says that every asked number is right or near: the sheet can be
// checked at the bench. Whoever only follows an earlier slip is not there yet.
func complete(r grading.Result) bool {
	for _, st := range r.Steps {
		if st.Verdict != grading.Right && st.Verdict != grading.Near {
			return false
		}
	}
	return len(r.Steps) > 0
}
