package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"unicode"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// attemptLine is one line that grade reads: answers to an exercise on the
// blank of a seed, or on a given one, which wins.
type attemptLine struct {
	Exercise   string                `json:"exercise"`
	Seed       *uint64               `json:"seed"`
	Parameters joint.Values          `json:"parameters"`
	Answers    map[string]answerText `json:"answers"`
}

// answerText is an answer as written. A JSON number stands for its text.
type answerText string

// UnmarshalJSON takes a text or a number.
func (a *answerText) UnmarshalJSON(data []byte) error {
	var number json.Number
	if json.Unmarshal(data, &number) == nil && data[0] != '"' {
		*a = answerText(number)
		return nil
	}
	var text string
	if err := json.Unmarshal(data, &text); err != nil {
		return errors.New("an answer is a text")
	}
	*a = answerText(text)
	return nil
}

// grade judges answers read from standard input, one JSON object a line. A
// line that cannot be judged is told in its place, and the rest go on.
func grade(_ context.Context, t terminal, args []string) error {
	flags := newFlags("grade")
	asJSON, folder := flags.Bool("json", false, "print one JSON object a line"), lessonsFlag(flags)
	if err := parse(t, "grade", flags, args, noArgs); err != nil {
		return err
	}
	all, err := exercisesIn(*folder)
	if err != nil {
		return err
	}
	failed := 0
	err = eachLine(t.stdin, func(n int, line []byte) error {
		result, err := judge(all, line)
		switch {
		case err != nil:
			failed++
			return printLineError(t, *asJSON, fmt.Errorf("line %d: %w", n, err))
		case *asJSON:
			return printJSON(t.stdout, result)
		}
		return printResult(t, n, result)
	})
	if err == nil && failed > 0 {
		err = fmt.Errorf("lines not judged: %d", failed)
	}
	return err
}

// eachLine gives each line that is not empty, with its number from 1. Input that
// is one JSON object over several lines counts as one, on its first line.
func eachLine(r io.Reader, do func(n int, line []byte) error) error {
	all, err := io.ReadAll(r)
	if err != nil {
		return fmt.Errorf("standard input: %w", err)
	}
	if start := bytes.IndexFunc(all, notSpace); start >= 0 && all[start] == '{' && json.Valid(all) {
		return do(1+bytes.Count(all[:start], []byte("\n")), bytes.TrimSpace(all))
	}
	for n, line := range bytes.Split(all, []byte("\n")) {
		if line = bytes.TrimSpace(line); len(line) > 0 {
			if err := do(n+1, line); err != nil {
				return err
			}
		}
	}
	return nil
}

func notSpace(r rune) bool { return !unicode.IsSpace(r) }

// judge judges one line. The result has a step for each answer given, and
// counts those.
func judge(all exercises, line []byte) (grading.Result, error) {
	var a attemptLine
	if err := json.Unmarshal(line, &a); err != nil {
		return grading.Result{}, notAttempt(err)
	}
	ex, err := all.find(a.Exercise)
	if err != nil {
		return grading.Result{}, err
	}
	sheet, err := a.sheet(ex)
	if err != nil {
		return grading.Result{}, err
	}
	answers := map[string]string{}
	for id, text := range a.Answers {
		answers[id] = string(text)
	}
	if unknown := grading.Unknown(ex, answers); len(unknown) > 0 {
		return grading.Result{}, fmt.Errorf("%s is not a number of %s%s", unknown[0], ex.ID, meant(unknown[0], askable(ex)))
	}
	return onlyGiven(grading.Grade(ex, sheet, answers, grading.Millimetres), answers), nil
}

// notAttempt says in plain words why a line is none.
func notAttempt(err error) error {
	wrong, ok := errors.AsType[*json.UnmarshalTypeError](err)
	switch {
	case !ok:
		return fmt.Errorf("not an attempt in JSON: %w", err)
	case wrong.Field == "":
		return errors.New(`an attempt is an object: {"exercise": …, "seed": …, "answers": {…}}`)
	}
	return fmt.Errorf("%q cannot be a JSON %s", wrong.Field, wrong.Value)
}

// sheet is the blank that the answers are about.
func (a attemptLine) sheet(ex *grading.Exercise) (grading.Sheet, error) {
	switch {
	case a.Answers == nil:
		return grading.Sheet{}, errors.New(`"answers" is missing`)
	case a.Parameters != nil:
		return grading.OnBlank(ex, a.Parameters, grading.DefaultShop())
	case a.Seed != nil:
		return grading.Generate(ex, *a.Seed, grading.DefaultShop())
	}
	return grading.Sheet{}, errors.New(`"seed" or "parameters" is missing`)
}

// askable lists the numbers an answer may be given for.
func askable(ex *grading.Exercise) []string {
	ids := []string{}
	for _, s := range ex.Steps {
		ids = append(ids, s.ID)
	}
	if ex.Family != nil {
		for _, q := range ex.Family.Quantities {
			ids = append(ids, q.ID)
		}
	}
	return ids
}

// onlyGiven leaves out the steps that the line says nothing about.
func onlyGiven(r grading.Result, answers map[string]string) grading.Result {
	given := grading.Result{Steps: []grading.StepResult{}, Fit: r.Fit}
	for _, s := range r.Steps {
		if _, ok := answers[s.ID]; !ok {
			continue
		}
		given.Steps = append(given.Steps, s)
		given.OutOf++
		if s.Verdict == grading.Right || s.Verdict == grading.Follows {
			given.Score++
		}
	}
	return given
}

func printResult(t terminal, n int, r grading.Result) error {
	out := newTable(t.stdout)
	out.line("Line %d: %d of %d", n, r.Score, r.OutOf)
	for _, s := range r.Steps {
		says := s.Reason
		if s.Pattern != nil {
			says = s.Pattern.ID + " " + s.Pattern.Detail
		}
		reading := ""
		if s.Reading != nil {
			reading = amount(s.Reading.Value, s.Reading.Unit)
		}
		out.line("  %s\t%q\t%s\t%s\t%s", s.ID, s.Given, reading, s.Verdict, says)
	}
	if r.Fit != nil {
		out.line("  Fit: %s", r.Fit.Word)
	}
	return out.flush()
}
