package server

import (
	"cmp"
	"fmt"
	"math"
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/server/store"
)

var alikeRoutes = []route{
	{http.MethodGet, "/classes/:class/assignments/:assignment/alike", forInstructors, (*server).getAlike},
}

// alikePage lists the same numbers from different wood. It is for the
// instructor alone, and says what it does not prove.
type alikePage struct {
	Frame
	Heading, Lead string
	Pairs         []alikePair // with more than one number in common
	Single        []alikePair // with one
}

// alikePair is two students who wrote the same numbers, wrong for one of them
// at least, on blanks that give different ones.
type alikePair struct {
	A, B    alikeSide
	Numbers []alikeNumber
}

type alikeSide struct {
	Bench      int
	Name, Href string
}

// alikeNumber is one number that two have in common.
type alikeNumber struct {
	Step, A, B string // what it is called, and as each wrote it
	RightFor   string // the bench for whose blank it is right; "" for neither
}

func (s *server) getAlike(c echo.Context) error {
	a, ex, err := s.assignmentOf(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	work, err := s.store.Work(c.Request().Context(), class.ID, a.No)
	if err != nil {
		return err
	}
	page := alikePage{Frame: s.frame(c, "Same numbers: "+a.Title), Heading: "No two benches share a wrong number"}
	page.Lead = "Everybody has wood of another size. A wrong number that two have in common may have been talked over, copied, or met by chance."
	for _, p := range alike(ex, work) {
		p.A.Href, p.B.Href = benchHref(class, work.Sheets[p.a].Sheet.No), benchHref(class, work.Sheets[p.b].Sheet.No)
		if len(p.Numbers) > 1 {
			page.Pairs = append(page.Pairs, p.alikePair)
		} else {
			page.Single = append(page.Single, p.alikePair)
		}
	}
	switch n := len(page.Pairs); {
	case n > 0:
		page.Heading = upperFirst(counted(n, "pair of benches has", "pairs of benches have")) + " the same numbers from different wood"
	case len(page.Single) > 0:
		page.Heading = "Single numbers in common, no more than chance may bring"
	}
	page.Rail = roomRail(class, a, "alike")
	page.Block = []BlockField{{Label: "Class", Text: class.Name, Wide: true}, {Label: "Exercise", Text: a.Title, Wide: true}}
	return s.show(c, "alike", &page.Frame, &page)
}

// foundPair is a pair with the places of its sheets in the work.
type foundPair struct {
	alikePair
	a, b int
}

// sentNumber is one number that stood on a sheet.
type sentNumber struct {
	text    string
	value   float64
	verdict grading.Verdict
	slip    bool // some slip on the sheet's own blank gives it
}

// alike finds the pairs, most numbers in common first.
func alike(ex *grading.Exercise, work store.Work) []foundPair {
	type bench struct {
		numbers map[string][]sentNumber
		key     map[string]float64
		within  map[string]float64
	}
	benches := make([]bench, len(work.Sheets))
	for i, sh := range work.Sheets {
		current := sh.Sheet.Current()
		benches[i] = bench{numbers: numbersOn(sh), key: grading.Key(ex, current.Parameters), within: map[string]float64{}}
		for _, st := range current.Steps {
			benches[i].within[st.ID] = st.Tolerance
		}
	}
	var pairs []foundPair
	for i := range benches {
		for k := i + 1; k < len(benches); k++ {
			p := foundPair{a: i, b: k, alikePair: alikePair{A: sideOf(work.Sheets[i]), B: sideOf(work.Sheets[k])}}
			for _, st := range ex.Steps {
				apart := math.Abs(benches[i].key[st.ID] - benches[k].key[st.ID])
				if !(apart > 2*(benches[i].within[st.ID]+benches[k].within[st.ID])) {
					continue // the same number may be right for both, or nearly
				}
				if n, ok := inCommon(benches[i].numbers[st.ID], benches[k].numbers[st.ID]); ok {
					n.Step = st.Name
					p.add(n)
				}
			}
			if len(p.Numbers) > 0 && !work.Sheets[i].Removed && !work.Sheets[k].Removed {
				pairs = append(pairs, p)
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b foundPair) int { return cmp.Compare(len(b.Numbers), len(a.Numbers)) })
	return pairs
}

func sideOf(sh store.SheetOf) alikeSide {
	return alikeSide{Bench: sh.Sheet.Bench, Name: sh.Sheet.StudentName}
}

// add names the bench for which a number is right.
func (p *foundPair) add(n alikeNumber) {
	switch n.RightFor {
	case "a":
		n.RightFor = fmt.Sprintf("right for bench %d", p.A.Bench)
	case "b":
		n.RightFor = fmt.Sprintf("right for bench %d", p.B.Bench)
	}
	p.Numbers = append(p.Numbers, n)
}

// numbersOn lists what stood on a sheet, each number once.
func numbersOn(sh store.SheetOf) map[string][]sentNumber {
	out := map[string][]sentNumber{}
	for _, a := range sh.Attempts {
		for _, r := range a.Result.Steps {
			if r.Reading == nil {
				continue
			}
			w := sentNumber{text: r.Given, value: r.Reading.Value, verdict: r.Verdict, slip: r.Pattern != nil}
			if !slices.ContainsFunc(out[r.ID], func(o sentNumber) bool { return sameNumber(o.value, w.value) }) {
				out[r.ID] = append(out[r.ID], w)
			}
		}
	}
	return out
}

func sameNumber(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(a)) }

// inCommon finds a number that both wrote and that is wrong for one at least.
// Two who made each a known slip on their own wood came to it by themselves.
func inCommon(a, b []sentNumber) (alikeNumber, bool) {
	for _, x := range a {
		for _, y := range b {
			wrongA, wrongB := x.verdict == grading.Wrong, y.verdict == grading.Wrong
			if !sameNumber(x.value, y.value) || !wrongA && !wrongB || x.slip && y.slip {
				continue
			}
			n := alikeNumber{A: x.text, B: y.text}
			switch grading.Right {
			case x.verdict:
				n.RightFor = "a"
			case y.verdict:
				n.RightFor = "b"
			}
			return n, true
		}
	}
	return alikeNumber{}, false
}
