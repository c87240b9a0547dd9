package discover

import (
	"reflect"
	"testing"

	"arrisbook/grading"
)

// wrong is a wrong answer with the slip that is named, and those that come near.
func wrong(value float64, named string, also ...string) Answer {
	a := Answer{Value: value, Half: 0.05, Key: 20, Verdict: grading.Wrong}
	if named != "" {
		a.Slip = &grading.Slip{ID: named}
	}
	for _, id := range also {
		a.Also = append(a.Also, grading.Slip{ID: id})
	}
	return a
}

func verdict(v grading.Verdict) Answer { return Answer{Value: 20, Half: 0.05, Key: 20, Verdict: v} }

func repeat(a Answer, n int) (out []Answer) {
	for range n {
		out = append(out, a)
	}
	return out
}

func join(lists ...[]Answer) (out []Answer) {
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

func TestSift(t *testing.T) {
	two := wrong(31, "half-forgotten")
	two.Slip.Detail = "v_width with complement"
	for _, c := range []struct {
		name     string
		answers  []Answer
		right    int
		patterns map[string]int
		left     []int
	}{
		{"nothing", nil, 0, map[string]int{}, nil},
		{"right, near, follows, unreadable and blank are set aside",
			[]Answer{verdict(grading.Right), verdict(grading.Near), verdict(grading.Follows), verdict(grading.Unreadable), verdict(grading.Blank)},
			1, map[string]int{}, nil},
		{"a twentieth from the key is set aside, more is not", []Answer{wrong(21, ""), wrong(19, ""), wrong(21.1, ""), wrong(18.9, "")},
			0, map[string]int{}, []int{2, 3}},
		{"a pattern seen twice is looked at again", repeat(wrong(40, "double"), 2), 0, map[string]int{"double": 2}, []int{0, 1}},
		{"seen three times it is not", repeat(wrong(40, "double"), 3), 0, map[string]int{"double": 3}, nil},
		{"two slips together are sought all the same", repeat(two, 3), 0, map[string]int{"half-forgotten": 3}, []int{0, 1, 2}},
		{"what is common decides what is open", join(repeat(wrong(40, "double"), 4), repeat(wrong(40, "", "complement", "double"), 2)),
			0, map[string]int{"double": 6}, nil},
		{"what is named once gives way to what is common", join(repeat(wrong(40, "double"), 4), repeat(wrong(40, "complement", "double"), 1)),
			0, map[string]int{"double": 5}, nil},
		{"what is never sure needs more than chance", repeat(wrong(40, "", "complement", "double"), 4), 0, map[string]int{}, []int{0, 1, 2, 3}},
		{"and has it at five", repeat(wrong(40, "", "complement", "double"), 5), 0, map[string]int{"complement": 5}, nil},
		{"the commonest first", join(repeat(wrong(40, "half"), 3), repeat(wrong(40, "double"), 4)),
			0, map[string]int{"half": 3, "double": 4}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			right, patterns, left := sift(c.answers)
			got := map[string]int{}
			for i, p := range patterns {
				got[p.ID] = len(p.Answers)
				if i > 0 && len(p.Answers) > len(patterns[i-1].Answers) {
					t.Errorf("%s with %d stands after %d", p.ID, len(p.Answers), len(patterns[i-1].Answers))
				}
			}
			if right != c.right || !reflect.DeepEqual(got, c.patterns) || !reflect.DeepEqual(left, c.left) {
				t.Errorf("sift = %d right, %v, left %v, want %d, %v, %v", right, got, left, c.right, c.patterns, c.left)
			}
		})
	}
}

// Of many answers that mean nothing, chance alone puts several on any pattern.
func TestSiftAllowsForChance(t *testing.T) {
	few, many := join(repeat(wrong(40, "", "double"), 8), repeat(wrong(33, ""), 92)), join(repeat(wrong(40, "", "double"), 8), repeat(wrong(33, ""), 992))
	if _, p, _ := sift(few); len(p) != 1 {
		t.Errorf("eight of a hundred make %d patterns, want 1", len(p))
	}
	if _, p, _ := sift(many); len(p) != 0 {
		t.Errorf("eight of a thousand make %d patterns, want 0", len(p))
	}
}
