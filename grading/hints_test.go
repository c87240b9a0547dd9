package grading_test

import (
	"strings"
	"testing"
	"unicode"

	"arrisbook/grading"
)

// Every hint of every slip of every shipped exercise names the slip and not the
// number: it holds no figure at all, so none of the right number's either. It
// is a sentence or three, and asks something.
func TestHintsNameNoNumber(t *testing.T) {
	hints := map[string]bool{}
	for _, ex := range shippedExercises(t) {
		sheet := drawn(t, ex, 77)
		for _, step := range sheet.Steps {
			for _, p := range grading.Patterns(ex, sheet, step.ID) {
				r := graded(ex, sheet, step.ID, written(p.Value, 4))
				if r.Pattern == nil {
					continue
				}
				says := r.Pattern.Says
				hints[says] = true
				if strings.ContainsFunc(says, unicode.IsDigit) {
					t.Errorf("%s %s: the hint for %s holds a figure: %q", ex.ID, step.ID, r.Pattern.Key(), says)
				}
				if !strings.HasSuffix(says, "?") && !strings.HasSuffix(says, ".") || len(says) > 260 || strings.Contains(says, "_") {
					t.Errorf("%s %s: the hint for %s is no plain sentence: %q", ex.ID, step.ID, r.Pattern.Key(), says)
				}
				for _, also := range r.Also {
					if also.Says != "" {
						t.Errorf("%s %s: %s beside %s speaks as well", ex.ID, step.ID, also.Key(), r.Pattern.Key())
					}
				}
			}
		}
	}
	if len(hints) < 60 {
		t.Errorf("%d different hints were seen, want those of all slips", len(hints))
	}
}

// Two slips together are told with the hints of both, and no figure either.
func TestHintsOfTwoNameNoNumber(t *testing.T) {
	seen := 0
	for _, a := range doubleSlips(t, 1, 40) {
		r := graded(a.ex, a.sheet, a.step, written(a.value, 4))
		if r.Pattern == nil || !strings.Contains(r.Pattern.Says, "two slips") {
			continue
		}
		seen++
		if says := r.Pattern.Says; strings.ContainsFunc(says, unicode.IsDigit) || strings.Contains(says, "_") || !strings.HasSuffix(says, "?") {
			t.Errorf("%s %s: %q", a.ex.ID, a.step, says)
		}
	}
	if seen < 50 {
		t.Errorf("%d pairs were told, want at least 50", seen)
	}
}
