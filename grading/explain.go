package grading

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// anySlip stands for every slip that has no section of its own.
const anySlip = "*"

// ExplainedIn gives the section of the exercise's module that explains a slip
// on a step, as the id of its heading; "" where the exercise names none. What
// the step says of the slip's detail comes first, then of the slip, then what
// the exercise says of it, then what either says of every slip.
func (ex *Exercise) ExplainedIn(step string, s Slip) string {
	st, _ := ex.step(step)
	id, _, _ := strings.Cut(s.Detail, " with ") // of two slips that come together, the first
	for _, section := range []string{
		st.Explain[s.ID+" "+s.Detail], st.Explain[s.ID+" "+id], st.Explain[s.ID], ex.Explain[s.ID],
		st.Explain[anySlip], ex.Explain[anySlip],
	} {
		if section != "" {
			return section
		}
	}
	return ""
}

// explain makes sure that every key is a slip and every section has a name.
func (b *builder) explain() {
	b.explains("explain", b.spec.Explain)
	for i, s := range b.spec.Steps {
		b.explains(fmt.Sprintf("steps[%d].explain", i), s.Explain)
	}
}

func (b *builder) explains(path string, sections map[string]string) {
	for _, key := range slices.Sorted(maps.Keys(sections)) {
		id, _, _ := strings.Cut(key, " ")
		own := slices.ContainsFunc(b.spec.Patterns, func(p PatternSpec) bool { return p.ID == id })
		switch {
		case id != anySlip && !own && !isPatternID(id):
			b.fault(path, 0, "%s is not a pattern.", id)
		case strings.TrimSpace(sections[key]) == "":
			b.fault(path, 0, "%s needs the section that explains it.", key)
		}
	}
}
