package joint

import (
	"strings"
	"testing"
)

// Every text a reader meets is there, ends as it should, and ids are unique.
func TestCatalogueIsComplete(t *testing.T) {
	for _, f := range All() {
		seen, symbols := map[string]bool{}, map[string]bool{}
		check := func(id, name, symbol, means string) {
			if seen[id] || symbols[symbol] || name == "" || symbol == "" || !isSentence(means) {
				t.Errorf("%s %s: name %q, symbol %q, means %q", f.ID, id, name, symbol, means)
			}
			seen[id], symbols[symbol] = true, true
		}
		if f.Title == "" || !isSentence(f.Summary) {
			t.Errorf("%s: title %q, summary %q", f.ID, f.Title, f.Summary)
		}
		for _, p := range f.Parameters {
			check(p.ID, p.Name, p.Symbol, p.Means)
			if !(p.Min < p.Max) || f.House[p.ID] < p.Min || f.House[p.ID] > p.Max {
				t.Errorf("%s %s: house size %g, want it in %g to %g", f.ID, p.ID, f.House[p.ID], p.Min, p.Max)
			}
		}
		for _, q := range f.Quantities {
			check(q.ID, q.Name, q.Symbol, q.Means)
			if !isSentence(q.From) {
				t.Errorf("%s %s: from %q", f.ID, q.ID, q.From)
			}
		}
		for _, c := range f.Consequences {
			if seen[c.ID] || c.Name == "" || c.Name != strings.ToLower(c.Name[:1])+c.Name[1:] || !isSentence(c.Means) {
				t.Errorf("%s %s: name %q, means %q", f.ID, c.ID, c.Name, c.Means)
			}
			seen[c.ID] = true
		}
		if got, ok := Lookup(f.ID); !ok || got != f {
			t.Errorf("Lookup(%s) = %v %v", f.ID, got, ok)
		}
	}
	if _, ok := Lookup("no such joint"); ok {
		t.Error("Lookup of a joint that does not exist: ok")
	}
}

func isSentence(s string) bool {
	return strings.HasSuffix(s, ".") && s[:1] == strings.ToUpper(s[:1]) && !strings.Contains(s, "  ")
}

func TestHouseBlanksAreBuildable(t *testing.T) {
	for _, f := range All() {
		l, err := f.Layout(f.House)
		if err != nil || !l.Buildable() || len(l.Quantities) != len(f.Quantities) {
			t.Errorf("house blank of %s: %v %v with %d quantities, want a buildable one with all %d", f.ID, l.Problems, err, len(l.Quantities), len(f.Quantities))
		}
	}
}

// ruleCase is a blank and the beginnings or parts of the sentences that refuse
// it, in order.
type ruleCase struct {
	name  string
	with  Values
	parts []string
}

// checkRule holds a family's buildable rule to its cases. No sentence may hold
// a figure that a student is asked for.
func checkRule(t *testing.T, f *Family, blank Values, cases []ruleCase) {
	t.Helper()
	for _, c := range cases {
		l, err := f.Layout(with(blank, c.with))
		if err != nil {
			t.Fatal(err)
		}
		ok := len(l.Problems) == len(c.parts)
		for i := range c.parts {
			ok = ok && i < len(l.Problems) && strings.Contains(l.Problems[i], c.parts[i]) && isSentence(l.Problems[i])
		}
		if !ok {
			t.Errorf("%s, %s: problems %q, want %q", f.ID, c.name, l.Problems, c.parts)
		}
	}
}
