package discover_test

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/discover"
	"arrisbook/grading/formula"
)

func search(t *testing.T, p discover.Problem) discover.Report {
	t.Helper()
	r, err := banks.Search(context.Background(), p, nil)
	if err != nil {
		t.Fatalf("Search = %v, want none", err)
	}
	return r
}

// Two groups with different wrong formulas are both found, each with its own
// students; nobody is counted twice, and what is left is told.
func TestTwoFormulasAreFound(t *testing.T) {
	const id, step = "head-v-joint", "cheek_length"
	one, other := formula.MustParse("hypot(v_length, v_width + head_thickness)"), formula.MustParse("thickness + v_length*cos(head_angle)")
	b, rnd := blanksOf(t, id), rand.New(rand.NewPCG(8, 8))
	p := discover.Problem{Exercise: b.ex, Step: step}
	for i := range 60 {
		blank := b.sheets[i]
		v := noise(grading.Key(b.ex, blank)[step], rnd)
		switch {
		case i < 20:
			v = value(one, blank)
		case i < 35:
			v = value(other, blank)
		}
		p.Answers = append(p.Answers, judged(t, b.ex, step, blank, v, 1))
	}
	r := search(t, p)
	if len(r.Findings) != 2 || !same(one, r.Findings[0].Formula, p) || !same(other, r.Findings[1].Formula, p) {
		t.Fatalf("findings %v, want %s and %s", r.Findings, one, other)
	}
	seen := map[int]bool{}
	for _, f := range r.Findings {
		for _, i := range f.Answers {
			if seen[i] {
				t.Errorf("answer %d is explained twice", i)
			}
			seen[i] = true
			a := p.Answers[i]
			if off := math.Abs(value(f.Formula, a.Parameters) - a.Value); off > a.Half+1e-6 {
				t.Errorf("%s misses answer %d by %v, want at most %v", f.Formula, i, off, a.Half)
			}
		}
	}
	for _, i := range r.Left {
		if seen[i] {
			t.Errorf("answer %d is explained and left", i)
		}
	}
	if got := len(seen) + len(r.Left); got != r.Of || r.N != 60 {
		t.Errorf("%d explained or left of %d and of %d answers, want all of those, and 60", got, r.Of, r.N)
	}
}

// The same problem has the same report, with banks that are new and with banks
// that were used.
func TestSearchIsRepeatable(t *testing.T) {
	p := classOf(t, "unequal-mitre", "mitre_b", formula.MustParse("(corner_angle + atan(width_b/width_a))/2"),
		room{n: 250, follow: 40, right: 50}, rand.New(rand.NewPCG(2, 2)))
	first := search(t, p)
	var fresh discover.Banks
	again, err := fresh.Search(context.Background(), p, nil)
	if err != nil {
		t.Fatalf("Search = %v, want none", err)
	}
	if !reflect.DeepEqual(first, again) || !reflect.DeepEqual(first, search(t, p)) {
		t.Errorf("the reports of one problem differ: %v, %v", first, again)
	}
	if len(first.Findings) != 1 || !strings.HasPrefix(first.Findings[0].Says, "This is the number you get from ") {
		t.Errorf("findings %v, want one that is told", first.Findings)
	}
}

// A finding is over the givens' ids alone, whatever quantities the right
// formula is taught with, and its text reads back.
func TestFindingsAreOverGivens(t *testing.T) {
	p := classOf(t, "head-v-joint", "shoulder_from_end", formula.MustParse("v_length/sin(head_angle)/4 + allowance"),
		room{n: 60, follow: 25}, rand.New(rand.NewPCG(3, 1)))
	r := search(t, p)
	if len(r.Findings) == 0 {
		t.Fatal("no findings, want one")
	}
	for _, f := range r.Findings {
		back, err := formula.Parse(f.Formula.Plain())
		if err != nil || !same(back, f.Formula, p) {
			t.Errorf("%s reads back as %s, %v", f.Formula, back, err)
		}
		for _, id := range f.Formula.Names() {
			if _, ok := p.Exercise.Family.Parameter(id); !ok {
				t.Errorf("%s uses %s, which is no given", f.Formula, id)
			}
		}
	}
}

// On one and the same blank nothing can be told from chance, and nothing is.
func TestOneBlankTellsNothing(t *testing.T) {
	b := blanksOf(t, "head-v-joint")
	p := discover.Problem{Exercise: b.ex, Step: "cheek_length"}
	for range 30 {
		p.Answers = append(p.Answers, judged(t, b.ex, p.Step, b.sheets[0], 77.7, 1))
	}
	if r := search(t, p); len(r.Findings) != 0 || r.Of != 30 {
		t.Errorf("findings %v of %d, want none of 30", r.Findings, r.Of)
	}
}

func TestSmallAndStrangeClasses(t *testing.T) {
	b := blanksOf(t, "angled-lap")
	few := discover.Problem{Exercise: b.ex, Step: "depth"}
	for i := range 4 {
		few.Answers = append(few.Answers, judged(t, b.ex, "depth", b.sheets[i], b.sheets[i]["thickness"]+1, 1))
	}
	for _, c := range []struct {
		name string
		p    discover.Problem
	}{
		{"nobody", discover.Problem{Exercise: b.ex, Step: "depth"}},
		{"four", few},
		{"no number", discover.Problem{Exercise: b.ex, Step: "depth", Answers: []discover.Answer{
			{Parameters: joint.Values{}, Value: math.NaN(), Verdict: grading.Wrong},
			{Parameters: joint.Values{}, Value: math.Inf(1), Key: 3, Verdict: grading.Wrong},
			{Parameters: joint.Values{}, Value: 2, Key: math.NaN(), Verdict: grading.Wrong},
		}}},
	} {
		if r := search(t, c.p); len(r.Findings) != 0 || r.N != len(c.p.Answers) {
			t.Errorf("%s: findings %v of %d, want none of %d", c.name, r.Findings, r.N, len(c.p.Answers))
		}
	}
	if _, err := banks.Search(context.Background(), discover.Problem{Exercise: b.ex, Step: "nothing"}, nil); err == nil {
		t.Error("Search for a step that is not there = no error, want one")
	}
}

// Judge keeps how finely an answer was written, and tells a blank that is none.
func TestJudge(t *testing.T) {
	b := blanksOf(t, "angled-lap")
	blank := b.sheets[0]
	for _, c := range []struct {
		text    string
		half    float64
		verdict grading.Verdict
	}{{"9999", 0.5, grading.Wrong}, {"9999.0", 0.05, grading.Wrong}, {"9999.00", 0.005, grading.Wrong}, {"some", 0, grading.Unreadable}} {
		a, err := discover.Judge(b.ex, "depth", blank, c.text, grading.Millimetres)
		if err != nil || a.Half != c.half || a.Verdict != c.verdict || a.Key != blank["thickness"]/2 {
			t.Errorf("Judge(%q) = %+v, %v, want half %v and %s", c.text, a, err, c.half, c.verdict)
		}
	}
	if _, err := discover.Judge(b.ex, "depth", joint.Values{"width_a": 3}, "3", grading.Millimetres); err == nil {
		t.Error("Judge on half a blank = no error, want one")
	}
	if _, err := discover.Judge(b.ex, "nothing", blank, "3", grading.Millimetres); err == nil {
		t.Error("Judge of a step that is not there = no error, want one")
	}
}
