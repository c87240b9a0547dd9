package main

import (
	"context"
	"flag"
	"fmt"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// fitLine is what fit -json prints.
type fitLine struct {
	Family     string       `json:"family"`
	Parameters joint.Values `json:"parameters"`
	Submitted  joint.Values `json:"submitted"`
	grading.FitResult
}

// fit says how submitted numbers would close at the bench.
func fit(_ context.Context, t terminal, args []string) error {
	flags := newFlags("fit")
	asJSON := flags.Bool("json", false, "print one JSON object")
	var blank words
	submitted := afterAs(flags)
	err := parse(t, "fit", flags, args, func(arg string) error {
		if submitted.begun && blank.id != "" {
			return submitted.add(arg)
		}
		return blank.add(arg)
	})
	if err != nil {
		return err
	}
	f, err := blank.family()
	if err != nil {
		return err
	}
	parameters, err := readBlank(blank.values, f)
	if err != nil {
		return err
	}
	values, err := read(submitted.values, quantityUnits(f))
	if err != nil {
		return err
	}
	result, err := f.Fit(parameters, values)
	if err != nil {
		return usage(err)
	}
	if *asJSON {
		return printJSON(t.stdout, fitLine{f.ID, result.Parameters, values, *grading.NewFitResult(result)})
	}
	return printFit(t, f, result, values)
}

// submission collects what stands after -as: everything, and -as may be said
// again before each value.
type submission struct {
	begun  bool
	values []assignment
}

func afterAs(flags *flag.FlagSet) *submission {
	s := &submission{}
	flags.BoolFunc("as", "what follows are the submitted numbers", func(value string) error {
		s.begun = true
		if value == "true" { // -as alone
			return nil
		}
		return s.add(value) // -as=id=value
	})
	return s
}

func (s *submission) add(arg string) error {
	a, err := splitAssignment(arg)
	s.values = append(s.values, a)
	return err
}

func printFit(t terminal, f *joint.Family, r joint.Fit, submitted joint.Values) error {
	out := newTable(t.stdout)
	out.line("%s", f.Title)
	out.line("Submitted (the rest taken as right)")
	for _, q := range f.Quantities {
		if v, ok := submitted[q.ID]; ok {
			out.number(q.ID, v, q.Unit, q.Name)
		}
	}
	out.line("At the bench")
	for _, o := range r.Outcomes {
		value := amount(o.Value.Min, o.Unit)
		if o.Spread {
			value = fmt.Sprintf("%s to %s", value, amount(o.Value.Max, o.Unit))
		}
		out.line("  %s\t%s\t%s", o.ID, value, o.Name)
	}
	out.line("Fit: %s", r.Word)
	return out.flush()
}
