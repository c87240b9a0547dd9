package skills

import (
	"math"
	"testing"

	"arrisbook/grading"
)

const week = 7 // days

// signs are answers to one skill, all of one age.
func signs(age int, scores ...float64) []Sign {
	var out []Sign
	for _, s := range scores {
		out = append(out, Sign{Skill: "a", Score: s, Days: age})
	}
	return out
}

// Worked out by hand from the rule in the package's description.
func TestLevels(t *testing.T) {
	for _, c := range []struct {
		name   string
		signs  []Sign
		chance float64
		state  State
		says   string
	}{
		{"one right", signs(0, 1), 2.0 / 3, InWork, "1 right of 1 first answer."},
		{"two right", signs(0, 1, 1), 3.0 / 4, Shown, "2 right of 2 first answers."},
		{"one wrong", signs(0, 0), 1.0 / 3, InWork, "0 right of 1 first answer."},
		{"three right, one wrong", signs(0, 1, 0, 1, 1), 4.0 / 6, InWork, "3 right of 4 first answers."},
		{"five right, one wrong", signs(0, 1, 0, 1, 1, 1, 1), 6.0 / 8, Shown, "5 right of 6 first answers."},
		{"near counts half", signs(0, 1, 0.5, 1), 3.5 / 5, InWork, "2.5 right of 3 first answers."},
		// Each weighs 1/2: (1+1)/(1+2).
		{"two right, six weeks ago", signs(6*week, 1, 1), 2.0 / 3, Faded, "2 right of 2 first answers. Older ones weigh less: 1 of 1."},
		// Each weighs 1/4: (1+1)/(1+2).
		{"four right, twelve weeks ago", signs(12*week, 1, 1, 1, 1), 2.0 / 3, Faded, "4 right of 4 first answers. Older ones weigh less: 1 of 1."},
		// Each weighs 1/2: (4+1)/(4+2).
		{"eight right, six weeks ago", signs(6*week, 1, 1, 1, 1, 1, 1, 1, 1), 5.0 / 6, Shown, "8 right of 8 first answers. Older ones weigh less: 4 of 4."},
		// r = 2, n = 2 + 1/2·2 = 3: (2+1)/(3+2); fresh it would be (2+1)/(4+2).
		{"wrong before, right now", append(signs(6*week, 0, 0), signs(0, 1, 1)...), 3.0 / 5, InWork, "2 right of 4 first answers. Older ones weigh less: 2 of 3."},
		{"a clock that ran ahead", signs(-week, 1, 1), 3.0 / 4, Shown, "2 right of 2 first answers."},
	} {
		got := Levels(c.signs)["a"]
		if math.Abs(got.Chance-c.chance) > 1e-12 || got.State != c.state || got.Says() != c.says {
			t.Errorf("%s: Levels = %v, %q, %q, want %v, %q, %q", c.name, got.Chance, got.State, got.Says(), c.chance, c.state, c.says)
		}
	}
	if got := Levels(nil); len(got) != 0 || got["a"].Says() != "No answer yet." {
		t.Errorf("Levels(nil) = %v, want none", got)
	}
}

func TestScoreOf(t *testing.T) {
	for v, want := range map[grading.Verdict]struct {
		score float64
		ok    bool
	}{
		grading.Right: {1, true}, grading.Follows: {1, true}, grading.Near: {0.5, true}, grading.Wrong: {0, true},
		grading.Blank: {0, false}, grading.Unreadable: {0, false},
	} {
		if score, ok := ScoreOf(v); score != want.score || ok != want.ok {
			t.Errorf("ScoreOf(%s) = %v, %v, want %v, %v", v, score, ok, want.score, want.ok)
		}
	}
}

// A course of four lessons: the second needs the first, the fourth needs the
// second and the third.
var course = []Lesson{
	{ID: "one", Skills: []string{"a"}},
	{ID: "two", Needs: []string{"one"}, Skills: []string{"b", "a"}},
	{ID: "three", Skills: []string{"c"}},
	{ID: "four", Needs: []string{"two", "three"}, Skills: []string{"d", "b"}},
}

func TestNext(t *testing.T) {
	shown, low, lower := Level{Answers: 4, Chance: 0.8, State: Shown}, Level{Answers: 2, Chance: 0.5, State: InWork}, Level{Answers: 2, Chance: 0.25, State: InWork}
	faded := Level{Answers: 3, Chance: 0.6, State: Faded}
	for _, c := range []struct {
		name   string
		levels map[string]Level
		want   Suggestion
		ok     bool
	}{
		{"nothing yet: the first lesson", nil, Suggestion{Skill: "a", Lesson: "one", Reason: New}, true},
		{"the next new one", map[string]Level{"a": shown}, Suggestion{Skill: "b", Lesson: "two", Reason: New}, true},
		{"not before what it needs", map[string]Level{"a": shown, "b": shown}, Suggestion{Skill: "c", Lesson: "three", Reason: New}, true},
		{"the last", map[string]Level{"a": shown, "b": shown, "c": shown}, Suggestion{Skill: "d", Lesson: "four", Reason: New}, true},
		{"all shown", map[string]Level{"a": shown, "b": shown, "c": shown, "d": shown}, Suggestion{}, false},
		{"what is in work before what is new", map[string]Level{"c": low}, Suggestion{Skill: "c", Lesson: "three", Reason: Weakest}, true},
		{"faded counts as well", map[string]Level{"a": shown, "b": faded}, Suggestion{Skill: "b", Lesson: "two", Reason: Weakest}, true},
		{"the weakest of two", map[string]Level{"a": low, "c": lower}, Suggestion{Skill: "c", Lesson: "three", Reason: Weakest}, true},
		{"the first of equal ones", map[string]Level{"c": low, "a": low}, Suggestion{Skill: "a", Lesson: "one", Reason: Weakest}, true},
		{"first what it needs, far down", map[string]Level{"d": lower, "a": low}, Suggestion{Skill: "a", Lesson: "one", Reason: Before, For: "d"}, true},
		{"the weaker of what it needs", map[string]Level{"d": lower, "c": faded, "b": low}, Suggestion{Skill: "b", Lesson: "two", Reason: Before, For: "d"}, true},
		{"down twice", map[string]Level{"d": lower, "b": low, "a": faded}, Suggestion{Skill: "a", Lesson: "one", Reason: Before, For: "d"}, true},
		{"a skill that no lesson teaches any more", map[string]Level{"gone": lower, "a": shown}, Suggestion{Skill: "b", Lesson: "two", Reason: New}, true},
	} {
		if got, ok := Next(course, c.levels); got != c.want || ok != c.ok {
			t.Errorf("%s: Next = %+v, %v, want %+v, %v", c.name, got, ok, c.want, c.ok)
		}
	}
}

// Lessons that need each other come to an end as well.
func TestNextInACircle(t *testing.T) {
	low := Level{Answers: 1, Chance: 0.3, State: InWork}
	circle := []Lesson{{ID: "x", Needs: []string{"y"}, Skills: []string{"a"}}, {ID: "y", Needs: []string{"x"}, Skills: []string{"b"}}}
	if got, ok := Next(circle, map[string]Level{"a": low, "b": low}); !ok || got.Lesson != "y" {
		t.Errorf("Next = %+v, %v, want the lesson y", got, ok)
	}
	if got, ok := Next(circle, nil); ok {
		t.Errorf("Next = %+v, want none: no lesson can be begun", got)
	}
}
