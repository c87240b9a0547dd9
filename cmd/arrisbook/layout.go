package main

import (
	"context"

	"arrisbook/geom/joint"
)

// layoutLine is what layout -json prints.
type layoutLine struct {
	Family     string       `json:"family"`
	Parameters joint.Values `json:"parameters"`
	Buildable  bool         `json:"buildable"`
	Problems   []string     `json:"problems"`
	Quantities joint.Values `json:"quantities"`
}

// layout lays a joint out on one blank.
func layout(_ context.Context, t terminal, args []string) error {
	flags := newFlags("layout")
	asJSON := flags.Bool("json", false, "print one JSON object")
	var words words
	if err := parse(t, "layout", flags, args, words.add); err != nil {
		return err
	}
	f, err := words.family()
	if err != nil {
		return err
	}
	parameters, err := readBlank(words.values, f)
	if err != nil {
		return err
	}
	l, err := f.Layout(parameters)
	if err != nil {
		return usage(err)
	}
	if *asJSON {
		return printJSON(t.stdout, layoutLine{f.ID, l.Parameters, l.Buildable(), append([]string{}, l.Problems...), l.Quantities})
	}
	return printLayout(t, f, l)
}

func printLayout(t terminal, f *joint.Family, l joint.Layout) error {
	out := newTable(t.stdout)
	out.line("%s", f.Title)
	out.line("Given")
	for _, p := range f.Parameters {
		out.number(p.ID, l.Parameters[p.ID], p.Unit, p.Name)
	}
	if l.Buildable() {
		out.line("Set and mark")
	} else {
		out.line("This blank cannot be built:")
		for _, problem := range l.Problems {
			out.line("  %s", problem)
		}
		out.line("Its numbers, where they have a value")
	}
	for _, q := range f.Quantities {
		if v, ok := l.Quantities[q.ID]; ok {
			out.number(q.ID, v, q.Unit, withSlack(f, l, q))
		}
	}
	return out.flush()
}

// withSlack is a quantity's name and, where a gap depends on it, how far it may
// be off in a tight joint.
func withSlack(f *joint.Family, l joint.Layout, q joint.Quantity) string {
	if !l.Buildable() {
		return q.Name
	}
	slack, ok, err := f.Slack(l.Parameters, q.ID, joint.Tight)
	if err != nil || !ok {
		return q.Name + "\t" // the column goes on below
	}
	return q.Name + "\t" + slack.Says(f, joint.Tight)
}

// words are the arguments of a command about one family: its id and values.
type words struct {
	id     string
	values []assignment
}

// add takes the next argument.
func (w *words) add(arg string) error {
	if w.id == "" {
		w.id = arg
		return nil
	}
	a, err := splitAssignment(arg)
	w.values = append(w.values, a)
	return err
}

func (w *words) family() (*joint.Family, error) {
	if w.id == "" {
		return nil, wrongUse("name a joint family")
	}
	return family(w.id)
}
