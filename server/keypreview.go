package server

import (
	"fmt"
	"net/http"
	"net/url"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
)

// keyPreviewPage says what a key would do; nothing is done yet.
type keyPreviewPage struct {
	Frame
	Heading, Lead string
	Href          string
	Changed       bool // something came in between
	Changes       []string
	Why           string
	Means         []string // what the tolerances would mean at the bench
	Effect        keyEffect
	Queue         int // sheets that would leave it
	Losing        []string
	LeaveFault    string
	Hidden        []hiddenField
	Print         string
}

type hiddenField struct{ Name, Value string }

func (s *server) previewKey(c echo.Context, b keyBasis, plan keyPlan, values url.Values, status int) error {
	_, effect, err := plan.decide(b.work)
	if err != nil {
		return err
	}
	a := b.work.Assignment
	page := keyPreviewPage{
		Frame: s.frame(c, "Look before changing"), Href: keyHref(b.class, a.No), Changed: status == http.StatusConflict,
		Heading: effect.heading(), Lead: effect.lead(), Why: plan.key.Why, Effect: effect, Means: b.means(plan), Print: plan.print(effect),
	}
	for _, ch := range plan.key.Changes {
		page.Changes = append(page.Changes, ch.Says)
	}
	for _, sh := range effect.Sheets {
		if sh.Waits {
			page.Queue++
		}
		if sh.Cleared {
			page.Losing = append(page.Losing, fmt.Sprintf("bench %d, %s", sh.Bench, sh.Name))
		}
	}
	if status == http.StatusUnprocessableEntity {
		page.LeaveFault = "Choose what becomes of their leave to cut."
	}
	for name, all := range values {
		if name == "leave" || name == "print" || name == "change" {
			continue
		}
		for _, v := range all {
			page.Hidden = append(page.Hidden, hiddenField{name, v})
		}
	}
	page.Rail = roomRail(b.class, a, "key")
	page.Block = []BlockField{{Label: "Class", Text: b.class.Name, Wide: true}, {Label: "Exercise", Text: fmt.Sprintf("%s, edition %d", a.Title, a.Version), Wide: true}}
	return s.render(c, status, "keypreview", &page)
}

// print names what would be done, the change and its effect, so that what is
// confirmed is what was seen.
func (p keyPlan) print(e keyEffect) string { return hashOf(p.from.no, p.key, e) }

// heading says what a key would change.
func (e keyEffect) heading() string {
	switch {
	case e.Verdicts > 0:
		return fmt.Sprintf("%s would change on %s", upperFirst(counted(e.Verdicts, "result", "results")), counted(len(e.Sheets), "sheet", "sheets"))
	case e.Attempts == 0:
		return "Nothing was sent yet: no result would change"
	}
	return "No result would change"
}

func (e keyEffect) lead() string {
	said := "Nothing is changed yet."
	if e.Attempts > 0 {
		said += fmt.Sprintf(" %s would be judged again; what was said before stays with each of them.", upperFirst(counted(e.Attempts, "attempt", "attempts")))
	}
	if e.Hints > 0 {
		said += fmt.Sprintf(" %s would be explained in another way.", upperFirst(counted(e.Hints, "wrong answer", "wrong answers")))
	}
	return said
}

// means says what each new tolerance would mean at the bench, on the blank
// where it means most.
func (b keyBasis) means(plan keyPlan) []string {
	var out []string
	for _, st := range plan.rules.exercise.Steps {
		t, set := plan.rules.tolerances[st.ID]
		if was, had := b.rules.tolerances[st.ID]; !set || had && was == t {
			continue
		}
		var worst grading.Meaning
		bench := 0
		for _, sh := range b.work.Sheets {
			m, err := grading.Means(plan.rules.exercise, sh.Sheet.Plain(), st.ID, t, shopOf(b.class))
			if err == nil && (bench == 0 || worseMeaning(m, worst)) {
				worst, bench = m, sh.Sheet.Bench
			}
		}
		if bench > 0 {
			out = append(out, fmt.Sprintf("%s, on the blank of bench %d: %s", st.Name, bench, worst.Says))
		}
	}
	return out
}

func worseMeaning(m, than grading.Meaning) bool {
	if m.Word != than.Word {
		return m.Word > than.Word
	}
	if m.Size != than.Size {
		return m.Size > than.Size
	}
	return len(m.Hides) > len(than.Hides)
}
