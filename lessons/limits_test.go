package lessons

import (
	"fmt"
	"strings"
	"testing"
)

// exerciseOf writes an exercise with so many numbers and own slips.
func exerciseOf(id string, steps, patterns int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "```exercise\nid: %s\ntitle: Many\ngiven: {board: {range: 61..91 by 1, unit: mm}}\nsteps:\n", id)
	for i := range steps {
		fmt.Fprintf(&b, "  - {id: s%d, unit: mm, formula: board*%d}\n", i, i+3)
	}
	if patterns > 0 {
		b.WriteString("patterns:\n")
	}
	for i := range patterns {
		fmt.Fprintf(&b, "  - {id: p%d, step: s0, formula: board*3 + %d, says: x}\n", i, i+20)
	}
	return b.String() + "```\n\n"
}

func many(n, steps int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(exerciseOf(fmt.Sprintf("e%d", i), steps, 0))
	}
	return b.String()
}

// A module that would keep the program busy for minutes is refused by what it
// holds, before anything of it is worked out.
func TestTooMuchIsRefused(t *testing.T) {
	cases := []struct{ name, body, want string }{
		{"as many numbers as may be", exerciseOf("e", maxSteps, 0), ""},
		{"too many numbers", exerciseOf("e", maxSteps+1, 0), "there are 41 of them here; an exercise has at most 40"},
		{"as many slips as may be", exerciseOf("e", 1, maxPatterns), ""},
		{"too many slips", exerciseOf("e", 1, maxPatterns+1), "there are 121 of them here; an exercise has at most 120"},
		{"as many exercises as may be", many(maxExercises, 1), ""},
		{"too many exercises", many(maxExercises+1, 1), "a module has at most 24 exercises"},
		{"too many numbers together", many(5, maxSteps), "a module has at most 24 exercises and asks at most 160 numbers"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, found := Draft{File: "m.md", Text: []byte(front + "## Practice\n\n" + c.body)}.Read()
			if c.want == "" && len(found) > 0 || c.want != "" && (len(found) != 1 || !strings.Contains(found[0].Msg, c.want)) {
				t.Errorf("Read(%s) = %v, want %q", c.name, found, c.want)
			}
		})
	}
}

// Drawing in vain takes long, so after a few exercises that cannot be drawn
// the others wait.
func TestTryingEndsAfterAFewFailures(t *testing.T) {
	var b strings.Builder
	for i := range 6 {
		fmt.Fprintf(&b, "```exercise\nid: e%d\ntitle: Fails\ngiven: {a: {range: 10..12 by 1, unit: mm}, b: {range: 10..12 by 1, unit: mm}}\nsteps: [{id: s, unit: mm, formula: a+b}]\nkeep: [a > 30]\n```\n\n", i)
	}
	_, found := Draft{File: "m.md", Text: []byte(front + "## Practice\n\n" + b.String())}.Check(&Library{})
	if got := Faults(found); len(got) != maxFailing || !strings.Contains(got[0].Msg, "no usable blank") {
		t.Errorf("Check of six exercises that cannot be drawn = %v, want %d faults", got, maxFailing)
	}
}
