package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/discover"
)

// classLine is one line that review reads: what a class answered to one step.
type classLine struct {
	Exercise string        `json:"exercise"`
	Step     string        `json:"step"`
	Answers  []classAnswer `json:"answers"`
}

// classAnswer is one answer. Its value keeps the text of the JSON number: how
// many decimals were written says how far a formula may be off.
type classAnswer struct {
	Parameters joint.Values `json:"parameters"`
	Value      json.Number  `json:"value"`
}

// review looks for what the wrong answers of a class have in common, one class
// on each line of standard input. A line that cannot be reviewed is told in its
// place, and the rest go on.
func review(ctx context.Context, t terminal, args []string) error {
	flags := newFlags("review")
	asJSON, folder := flags.Bool("json", false, "print one JSON object a line"), lessonsFlag(flags)
	if err := parse(t, "review", flags, args, noArgs); err != nil {
		return err
	}
	all, err := exercisesIn(*folder)
	if err != nil {
		return err
	}
	var banks discover.Banks
	failed := 0
	err = eachLine(t.stdin, func(n int, line []byte) error {
		result, err := reviewed(ctx, &banks, all, line)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			failed++
			return printLineError(t, *asJSON, fmt.Errorf("line %d: %w", n, err))
		case *asJSON:
			return printJSON(t.stdout, result)
		}
		return printReview(t, n, result)
	})
	if err == nil && failed > 0 {
		err = fmt.Errorf("lines not reviewed: %d", failed)
	}
	return err
}

// reviewed reviews one line.
func reviewed(ctx context.Context, banks *discover.Banks, all exercises, line []byte) (reviewLine, error) {
	var c classLine
	if err := json.Unmarshal(line, &c); err != nil {
		return reviewLine{}, notClass(err)
	}
	ex, err := all.find(c.Exercise)
	if err != nil {
		return reviewLine{}, err
	}
	if _, ok := ex.Measure(c.Step); !ok {
		return reviewLine{}, fmt.Errorf("%q is not a number of %s%s", c.Step, ex.ID, meant(c.Step, askable(ex)))
	}
	if c.Answers == nil {
		return reviewLine{}, errors.New(`"answers" is missing`)
	}
	problem := discover.Problem{Exercise: ex, Step: c.Step}
	for i, a := range c.Answers {
		answer, err := a.judge(ex, c.Step)
		if err != nil {
			return reviewLine{}, fmt.Errorf("answer %d: %w", i+1, err)
		}
		problem.Answers = append(problem.Answers, answer)
	}
	report, err := banks.Search(ctx, problem, nil)
	return newReviewLine(report), err
}

// notClass says in plain words why a line is none.
func notClass(err error) error {
	wrong, ok := errors.AsType[*json.UnmarshalTypeError](err)
	switch {
	case !ok:
		return fmt.Errorf("not a class in JSON: %w", err)
	case wrong.Field == "":
		return errors.New(`a class is an object: {"exercise": …, "step": …, "answers": […]}`)
	}
	return fmt.Errorf("%q cannot be a JSON %s", wrong.Field, wrong.Value)
}

// judge judges one answer. What is out of any range on paper is still a wrong
// number here.
func (a classAnswer) judge(ex *grading.Exercise, step string) (discover.Answer, error) {
	if a.Value == "" {
		return discover.Answer{}, errors.New(`"value" is missing`)
	}
	v, err := a.Value.Float64()
	if err != nil {
		return discover.Answer{}, fmt.Errorf("the value %s is too large", a.Value)
	}
	text, half := written(string(a.Value), v)
	answer, err := discover.Judge(ex, step, a.Parameters, text, grading.Millimetres)
	if err == nil && answer.Verdict == grading.Unreadable && !math.IsNaN(answer.Key) {
		answer.Verdict, answer.Value, answer.Half = grading.Wrong, v, half
	}
	return answer, err
}

// written is a JSON number as people write it, and half its last digit: 3.05e1
// is 30.5.
func written(number string, v float64) (text string, half float64) {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(number), "e")
	_, fraction, _ := strings.Cut(mantissa, ".")
	shift, _ := strconv.Atoi(exponent)
	decimals := min(max(len(fraction)-shift, 0), 12)
	return strconv.FormatFloat(v, 'f', decimals, 64), math.Pow10(-decimals) / 2
}

// reviewLine is what is printed of one class.
type reviewLine struct {
	N        int             `json:"n"`
	Right    int             `json:"right"`
	Patterns []reviewPattern `json:"patterns"`
	Findings []reviewFinding `json:"findings"`
}

type reviewPattern struct {
	ID     string `json:"id"`
	Detail string `json:"detail"`
	Count  int    `json:"count"`
}

type reviewFinding struct {
	Formula  string `json:"formula"`
	Explains int    `json:"explains"`
	Of       int    `json:"of"`
	Decoy    int    `json:"decoy"`
	Says     string `json:"says"`
}

func newReviewLine(r discover.Report) reviewLine {
	out := reviewLine{N: r.N, Right: r.Right, Patterns: []reviewPattern{}, Findings: []reviewFinding{}}
	for _, p := range r.Patterns {
		out.Patterns = append(out.Patterns, reviewPattern{p.ID, p.Detail, len(p.Answers)})
	}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, reviewFinding{f.Formula.Plain(), len(f.Answers), f.Of, f.Decoy, f.Says})
	}
	return out
}

func printReview(t terminal, n int, r reviewLine) error {
	out := newTable(t.stdout)
	out.line("Line %d: %d of %d right", n, r.Right, r.N)
	for _, p := range r.Patterns {
		out.line("  %d\t%s", p.Count, strings.TrimSpace(p.ID+" "+p.Detail))
	}
	for _, f := range r.Findings {
		out.line("  %d\t%s\tof %d that no known slip explains; by chance %d at most", f.Explains, f.Formula, f.Of, f.Decoy)
		out.line("  \t%s", f.Says)
	}
	return out.flush()
}
