package drawing

import "arrisbook/geom/joint"

// The fit rule: where it starts, how long a millimetre of gap is on it, and
// the gap it ends at.
const (
	ruleFrom = 18.0
	ruleMM   = 526.0
	ruleMost = 0.61
	ruleLine = 42.0
)

// FitRule draws a gap against the fit words: a rule with a bracket over the
// word's whole band. Where a figure may be told, exact is the worst gap in
// millimetres, and a foot under the rule points at it; nil leaves it out.
func FitRule(word joint.Word, exact *float64) View {
	c := &canvas{}
	figures := ruleLine + 17
	if exact != nil {
		figures += 16 // clear of the foot
	}
	at := func(mm float64) float64 { return ruleFrom + min(mm, ruleMost)*ruleMM }
	ends := [...]float64{0, joint.Tight.Limit(), joint.Close.Limit(), joint.Open.Limit(), ruleMost}
	c.line(visible, pt{at(0), ruleLine}, pt{at(ruleMost), ruleLine})
	for w := joint.Tight; w <= joint.Failed; w++ {
		from, to := at(ends[w]), at(ends[w+1])
		t := text{at: pt{(from + to) / 2, 13}, size: sizeText, words: w.String()}
		if w == word {
			t.face = strong
			c.line(visible, pt{from + 3, 29}, pt{from + 3, 21}, pt{to - 3, 21}, pt{to - 3, 29})
		}
		c.put(t)
		c.line(visible, pt{from, ruleLine}, pt{from, ruleLine - 9})
		c.note(pt{from, figures}, middle, [...]string{"0", "0.10", "0.25", "0.50"}[w])
	}
	for mm := 0.05; mm < ruleMost; mm += 0.05 {
		c.line(narrow, pt{at(mm), ruleLine}, pt{at(mm), ruleLine - 5})
	}
	c.note(pt{at(ruleMost), figures}, end, "mm")
	title := "On the rule of fit words: " + word.String()
	if exact != nil {
		x := at(max(*exact, 0))
		c.put(solid{[]pt{{x, ruleLine + 2}, {x + 6, ruleLine + 19}, {x + 1.6, ruleLine + 19}, {x, ruleLine + 11}, {x - 1.6, ruleLine + 19}, {x - 6, ruleLine + 19}}})
		title += ", " + num2(*exact) + " mm"
	}
	return View{Title: title, W: Width, H: figures + 6, items: c.byLayer(pt{})}
}
