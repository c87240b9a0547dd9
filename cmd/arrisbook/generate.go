package main

import (
	"context"
	"fmt"
	"strconv"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// sheetLine is what generate -json prints for a seed.
type sheetLine struct {
	Exercise   string       `json:"exercise"`
	Seed       uint64       `json:"seed"`
	Parameters joint.Values `json:"parameters"`
	Steps      []stepLine   `json:"steps"`
}

// stepLine is one asked number of a sheet. Key and patterns are printed only
// when the key was asked for.
type stepLine struct {
	ID        string             `json:"id"`
	Unit      joint.Unit         `json:"unit"`
	Tolerance float64            `json:"tolerance"`
	Why       string             `json:"why"`
	Key       *float64           `json:"key,omitempty"`
	Patterns  *[]grading.Pattern `json:"patterns,omitempty"`
}

// generateOptions are the arguments of generate.
type generateOptions struct {
	exercise            string
	seed                optional
	count               int
	key, spread, asJSON bool
	lessons             *string
}

// generate draws the blanks of an exercise, one for each seed.
func generate(_ context.Context, t terminal, args []string) error {
	var o generateOptions
	if err := o.parse(t, args); err != nil {
		return err
	}
	all, err := exercisesIn(*o.lessons)
	if err != nil {
		return err
	}
	ex, err := all.find(o.exercise)
	if err != nil {
		return &usageError{err}
	}
	if o.spread {
		return printSpread(t, ex, grading.DifficultySpread(ex, o.seed.value, o.count, grading.DefaultShop()))
	}
	failed := 0
	for i := range o.count {
		seed := o.seed.value + uint64(i)
		sheet, err := grading.Generate(ex, seed, grading.DefaultShop())
		if err != nil {
			failed++
			err = printLineError(t, o.asJSON, fmt.Errorf("seed %d: %w", seed, err))
		} else {
			err = o.print(t, ex, sheet)
		}
		if err != nil {
			return err
		}
	}
	if failed > 0 {
		return fmt.Errorf("seeds without a blank: %d", failed)
	}
	return nil
}

func (o *generateOptions) parse(t terminal, args []string) error {
	flags := newFlags("generate")
	flags.Var(&o.seed, "seed", "first `number` to draw from; the same one gives the same blank for ever")
	flags.IntVar(&o.count, "count", 1, "how `many` blanks, from one seed to the next")
	flags.BoolVar(&o.key, "key", false, "show the right values and the slips")
	flags.BoolVar(&o.spread, "spread", false, "show how equally hard the blanks are instead of the blanks")
	o.lessons = lessonsFlag(flags)
	flags.BoolVar(&o.asJSON, "json", false, "print one JSON object a line")
	err := parse(t, "generate", flags, args, func(arg string) error {
		if o.exercise != "" {
			return wrongUse("one exercise at a time: %s or %s?", o.exercise, arg)
		}
		o.exercise = arg
		return nil
	})
	switch {
	case err != nil:
		return err
	case o.exercise == "":
		return wrongUse("name an exercise")
	case !o.seed.given:
		return wrongUse("say which seed: -seed 1")
	case o.count < 1:
		return wrongUse("-count: write a number from 1")
	case o.spread && (o.asJSON || o.key):
		return wrongUse("-spread shows no blanks: leave -key and -json out")
	}
	return nil
}

func (o *generateOptions) print(t terminal, ex *grading.Exercise, sheet grading.Sheet) error {
	line := sheetLine{ex.ID, sheet.Seed, sheet.Parameters, []stepLine{}}
	key := grading.Key(ex, sheet.Parameters)
	for _, s := range sheet.Steps {
		step := stepLine{ID: s.ID, Unit: s.Unit, Tolerance: s.Tolerance, Why: s.Why}
		if o.key {
			value := key[s.ID]
			patterns := append([]grading.Pattern{}, grading.Patterns(ex, sheet, s.ID)...)
			step.Key, step.Patterns = &value, &patterns
		}
		line.Steps = append(line.Steps, step)
	}
	if o.asJSON {
		return printJSON(t.stdout, line)
	}
	return printSheet(t, ex, line)
}

func printSheet(t terminal, ex *grading.Exercise, sheet sheetLine) error {
	out := newTable(t.stdout)
	out.line("Seed %d", sheet.Seed)
	out.line("Given")
	for _, g := range ex.Givens {
		out.number(g.ID, sheet.Parameters[g.ID], g.Unit, g.Name)
	}
	out.line("Asked")
	for _, s := range sheet.Steps {
		if s.Key == nil {
			out.line("  %s\t± %s\t%s", s.ID, amount(s.Tolerance, s.Unit), s.Why)
			continue
		}
		out.line("  %s\t%s ± %s\t%s", s.ID, amount(*s.Key, s.Unit), amount(s.Tolerance, s.Unit), s.Why)
		for _, p := range *s.Patterns {
			harmless := ""
			if p.Harmless {
				harmless = "declared harmless"
			}
			out.line("    %s %s\t%s\t%s", p.ID, p.Detail, amount(p.Value, s.Unit), harmless)
		}
	}
	return out.flush()
}

// printSpread tells how far blanks differ in difficulty.
func printSpread(t terminal, ex *grading.Exercise, s grading.Spread) error {
	out := newTable(t.stdout)
	out.line("%s: %d blanks", ex.ID, s.Blanks)
	out.line("  numbers asked\t%s", fromTo(s.Least.Steps, s.Most.Steps))
	out.line("  digits in the givens\t%s", fromTo(s.Least.Digits, s.Most.Digits))
	for d := s.Least.Digits; d <= s.Most.Digits; d++ {
		out.line("    %d digits\t%d blanks", d, s.Digits[d])
	}
	out.line("  special angles given\t%s", fromTo(s.Least.Special, s.Most.Special))
	if err := out.flush(); err != nil {
		return err
	}
	if s.Failed > 0 {
		return fmt.Errorf("seeds without a blank: %d", s.Failed)
	}
	return nil
}

func fromTo(least, most int) string {
	if least == most {
		return strconv.Itoa(least)
	}
	return fmt.Sprintf("%d to %d", least, most)
}
