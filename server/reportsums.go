package server

import (
	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// sheetSums are counts over sheets.
type sheetSums struct {
	Sheets, Begun, Attempts, Right, Asked int
	Tight, Close, Open, Failed            int // by the fit of the last numbers
	Cleared                               int
}

// add counts one sheet.
func (t *sheetSums) add(r store.ReportRow) {
	t.Sheets++
	t.Attempts += r.Attempts
	t.Right += r.Score
	t.Asked += len(r.Steps)
	if r.Attempts > 0 {
		t.Begun++
	}
	if r.ClearedAt != nil {
		t.Cleared++
	}
	w, ok := joint.ParseWord(r.Fit)
	switch {
	case !ok:
	case w == joint.Tight:
		t.Tight++
	case w == joint.Close:
		t.Close++
	case w == joint.Open:
		t.Open++
	default:
		t.Failed++
	}
}

// skillSums are counts over asked numbers that take one skill.
type skillSums struct {
	Skill                                    string
	Asked, Right, Near, Follows, Wrong, Open int // Open: not answered
	Answers                                  int
}

// add counts one asked number; ok is false while it has no answer.
func (t *skillSums) add(st store.ReportStep, ok bool) {
	t.Asked++
	t.Answers += st.Answers
	switch {
	case !ok:
		t.Open++
	case st.Verdict == grading.Right:
		t.Right++
	case st.Verdict == grading.Near:
		t.Near++
	case st.Verdict == grading.Follows:
		t.Follows++
	default:
		t.Wrong++
	}
}
