package grading_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"arrisbook/grading"
)

// accusations counts random numbers that are wrong, and those of them for which
// a slip is named.
type accusations struct{ wrong, accused int }

func (a *accusations) add(b accusations) { a.wrong, a.accused = a.wrong+b.wrong, a.accused+b.accused }

func (a accusations) share() float64 { return float64(a.accused) / float64(a.wrong) }

// noise writes random numbers on the sheets of an exercise: uniform from
// nothing to twice the right number, which is as far as anybody looks before
// wondering.
func noise(t *testing.T, ex *grading.Exercise, decimals int) accusations {
	t.Helper()
	var count accusations
	chance := rand.New(rand.NewPCG(5, uint64(decimals)))
	for seed := range uint64(8) {
		sheet := drawn(t, ex, 500+seed)
		key := grading.Key(ex, sheet.Parameters)
		for range 25 {
			answers := map[string]string{}
			for _, st := range sheet.Steps {
				answers[st.ID] = written(2*key[st.ID]*chance.Float64(), decimals)
			}
			for _, r := range grading.Grade(ex, sheet, answers, grading.Millimetres).Steps {
				if r.Verdict != grading.Wrong {
					continue
				}
				count.wrong++
				if r.Pattern == nil {
					continue
				}
				count.accused++
				if says := r.Pattern.Says; decimals == 1 && strings.HasPrefix(says, "This is the number") {
					t.Errorf("%s: %q on %s is told for sure: %s", ex.ID, r.Given, r.ID, says)
				}
			}
		}
	}
	return count
}

// A number that means nothing is not accused: at the shipped ranges at most one
// in a hundred written to hundredths, one in twenty written to tenths and then
// in weaker words; on no exercise more than a little above that.
func TestNoiseOverAllExercises(t *testing.T) {
	for _, row := range []struct {
		decimals     int
		all, any     float64
		leastAnswers int
	}{{2, 0.01, 0.013, 10000}, {1, 0.05, 0.055, 10000}} {
		var all accusations
		var lines []string
		for _, ex := range shippedExercises(t) {
			one := noise(t, ex, row.decimals)
			all.add(one)
			lines = append(lines, ex.ID+" "+written(100*one.share(), 2)+" %")
			if one.share() > row.any {
				t.Errorf("%s: of %d random numbers with %d decimals %d are accused, want at most %v", ex.ID, one.wrong, row.decimals, one.accused, row.any)
			}
		}
		slices.Sort(lines)
		t.Logf("%d decimals: %d of %d accused, %.2f %%: %s", row.decimals, all.accused, all.wrong, 100*all.share(), strings.Join(lines, ", "))
		if all.wrong < row.leastAnswers || all.share() > row.all {
			t.Errorf("%d decimals: %d of %d accused, want at most %v", row.decimals, all.accused, all.wrong, row.all)
		}
	}
}
