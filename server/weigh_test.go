package server

import (
	"fmt"
	"testing"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// What was named before weighs: it is kept with the result as its evidence, and
// the student reads how often it has come up, with the section that explains it.
func TestSlipsAreWeighed(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	k.send(1, map[string]string{"half_angle": k.doubled(1, "half_angle")})
	first := slipOn(k.attempt(1, 1), "half_angle")
	if first == nil {
		t.Fatal("twice the half angle is not explained")
	}
	k.studentPage(1, "/attempts/1").want(t, 200, "Read on: ").lacks(t, "It has come up")
	k.given = k.give(k.class, k.rosa, "head-v-joint-first", k.students, 500, nil)
	k.send(4, map[string]string{"half_angle": k.doubled(4, "half_angle")})
	p := k.studentPage(4, "/attempts/1").want(t, 200, "It has come up once in your numbers before.")
	if p.link("Read on: ") == "" {
		t.Error("the result leads to no lesson")
	} else if got := k.get(p.link("Read on: ")); got.Status != 200 {
		t.Errorf("GET %s = %d, want the lesson", p.link("Read on: "), got.Status)
	}
	k.send(5, map[string]string{"half_angle": k.doubled(5, "half_angle")})
	k.studentPage(5, "/attempts/1").want(t, 200).lacks(t, "It has come up") // somebody else's habit
	var own, class []int
	for _, sheet := range []int{1, 4, 5} {
		for _, r := range k.attempt(sheet, 1).Result.Steps {
			for _, e := range r.Evidence {
				if r.ID == "half_angle" && e.ID == first.ID && e.Detail == first.Detail {
					own, class = append(own, e.Own), append(class, e.Class)
				}
			}
		}
	}
	if fmt.Sprint(own, class) != "[0 1 0] [0 0 1]" {
		t.Errorf("evidence: own %v, class %v, want [0 1 0] and [0 0 1]: the class counts on one assignment", own, class)
	}
}

func TestHistoryOf(t *testing.T) {
	t.Parallel()
	h := historyOf(store.Slips{
		Own: []store.SlipCount{{Pattern: "double", Count: 2}},
		Class: []store.SlipCount{
			{Step: "a", Pattern: "wrong-measure", Detail: "b for c", Count: 3}, {Step: "a", Count: 4}, {Step: "b", Pattern: "double", Count: 1},
		},
	})
	learn(h, []grading.StepResult{
		{ID: "a", Verdict: grading.Wrong, Pattern: &grading.Slip{ID: "double"}}, {ID: "a", Verdict: grading.Wrong},
		{ID: "a", Verdict: grading.Near, Pattern: &grading.Slip{ID: "double"}},
	})
	if got, want := fmt.Sprint(h.Own, h.Class), "map[double:3] map[a:map[:5 double:1 wrong-measure b for c:3] b:map[double:1]]"; got != want {
		t.Errorf("historyOf and learn = %s, want %s", got, want)
	}
}
