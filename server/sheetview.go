package server

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// sheetPart is one view of the drawing beside the numbers that it shows.
type sheetPart struct {
	Picture         template.HTML
	Letter, Caption string
	Fields          []numberField
}

// first is the smallest number that a part asks. Parts stand in the order in
// which numbers are worked out; one that only shows givens comes first.
func (p sheetPart) first() int {
	if len(p.Fields) == 0 {
		return 0
	}
	return p.Fields[0].Number
}

// numberField is one asked number with its field and what became of it.
type numberField struct {
	Number       int
	ID, Field    string
	Label        string // "Tip depth, mm"
	From         string
	Text         string // as typed
	Sent         string // as it was last sent on this wood
	Verdict      string // a verdict, or "not sent"
	Reading      string // "Read as 18.9 mm."
	Tolerance    string // how near counts as right, and why
	Hints        []string
	Fault        string
	Key          string // the right number, after the release
	Undiagnosed  bool
	Next, Frozen bool
	Focus        bool
	Drawn        bool // a view shows it
}

// DescribedBy lists the ids of what is said about the field.
func (f numberField) DescribedBy() string {
	ids := []string{fmt.Sprintf("r%d", f.Number)}
	if len(f.Hints) > 0 {
		ids = append(ids, fmt.Sprintf("h%d", f.Number))
	}
	if f.Fault != "" {
		ids = append(ids, fmt.Sprintf("f%d", f.Number))
	}
	return strings.Join(ids, " ")
}

// parts puts each number beside the view that shows it. Numbers that no view
// shows come last, without one.
func (d desk) parts(fields []numberField) ([]sheetPart, error) {
	if !hasDrawing(d.exercise) {
		return []sheetPart{{Fields: fields}}, nil
	}
	views, err := drawing.SheetViews(d.exercise.Family, d.drawn(fields))
	if err != nil {
		return nil, fmt.Errorf("draw sheet %d: %w", d.sheet.No, err)
	}
	parts := make([]sheetPart, len(views))
	where := map[int]int{} // number → its view, counted from 1
	for i, v := range views {
		// The writer of drawings escapes every text it is given.
		parts[i] = sheetPart{Picture: template.HTML(v.SVG()), Letter: v.Letter, Caption: v.Caption}
		for _, n := range v.Numbers() {
			where[n] = i + 1
		}
	}
	var rest []numberField
	for _, f := range fields {
		view, ok := where[f.Number]
		if !ok {
			rest = append(rest, f)
			continue
		}
		f.Drawn = true
		p := &parts[view-1]
		p.Fields = append(p.Fields, f)
	}
	slices.SortStableFunc(parts, func(a, b sheetPart) int { return a.first() - b.first() })
	if len(rest) > 0 {
		parts = append(parts, sheetPart{Fields: rest})
	}
	return parts, nil
}

// hasDrawing says whether an exercise's joint can be drawn.
func hasDrawing(ex *grading.Exercise) bool {
	return ex.Family != nil && len(drawing.FigureNames(ex.Family)) > 0
}

// drawn says what the views show. Before the release that is the family's
// house blank with the student's givens written on it: a true shape could be
// measured.
func (d desk) drawn(fields []numberField) drawing.Sheet {
	sheet := drawing.Sheet{
		Blank: d.exercise.Family.House, Given: givenTexts(d.exercise, d.sheet.Current(), d.units()),
		Method: drawing.Angle(d.class.Projection),
	}
	if key := d.key(d.sheet.Current().Parameters); key != nil {
		sheet.Blank, sheet.Answers = d.sheet.Current().Parameters, map[string]string{}
		for id, text := range key {
			sheet.Answers[id] = bare(text)
		}
	}
	for _, f := range fields {
		name, _, _ := strings.Cut(f.Label, ",")
		sheet.Asked = append(sheet.Asked, drawing.Balloon{Number: f.Number, Quantity: f.ID, Name: name, Next: f.Next})
	}
	return sheet
}

// givenTexts are the sizes of a blank as drawings write them.
func givenTexts(ex *grading.Exercise, sheet grading.Sheet, units grading.Units) map[string]string {
	texts := map[string]string{}
	for _, g := range ex.Givens {
		if v, ok := sheet.Parameters[g.ID]; ok {
			texts[g.ID] = bare(grading.Print(v, g.Unit, units))
		}
	}
	return texts
}

// fields builds the fields. texts are what stands in them; entries, where
// given, are how they were just read.
func (d desk) fields(texts map[string]string, entries map[string]entry, next int) []numberField {
	current := d.sheet.Current()
	marks, key := d.marks(), d.key(current.Parameters)
	said := d.said()
	shut := d.shut() != ""
	fields := make([]numberField, len(current.Steps))
	for i, st := range current.Steps {
		step, _ := stepOf(d.exercise, st.ID)
		f := numberField{
			Number: i + 1, ID: st.ID, Field: fieldOf(st.ID), From: step.From, Text: texts[st.ID], Key: key[st.ID],
			Label:     step.Name + ", " + unitWord(step.Unit, d.units()),
			Tolerance: lowerFirst(st.Why), Undiagnosed: st.Undiagnosed, Next: i == next, Frozen: shut,
		}
		if !d.stale() {
			f.Sent = d.lastTexts()[st.ID]
		}
		f.judged(marks[i], said[st.ID], st, d.stale(), d.units())
		if e, ok := entries[st.ID]; ok && (marks[i].Given != f.Text || d.stale()) {
			f.justRead(e)
		}
		fields[i] = f
	}
	return fields
}

// judged says what became of the text in the last attempt, if it is still the
// same text.
func (f *numberField) judged(m grading.StepResult, says string, st grading.SheetStep, stale bool, units grading.Units) {
	if strings.TrimSpace(f.Text) == "" {
		f.Verdict = string(grading.Blank)
		f.Reading = "A point, a comma or a fraction will do."
		return
	}
	if stale || m.Given != f.Text {
		f.Verdict, f.Reading = "not sent", ""
		return
	}
	f.Verdict, f.Reading = string(m.Verdict), readAs(says)
	switch m.Verdict {
	case grading.Right:
		f.Reading += " " + withinText(st, units)
	case grading.Near:
		f.Reading += " Outside the tolerance, inside twice that."
	case grading.Follows:
		f.Reading += " " + m.Reason
	case grading.Wrong:
		f.Hints = hintsOf(m)
	}
	f.Reading = strings.TrimSpace(f.Reading)
}

// justRead puts a fresh reading in place of what was said about the last text.
func (f *numberField) justRead(e entry) {
	f.Reading, f.Fault = readAs(e.Says), e.Fault
	if e.Fault != "" {
		f.Verdict = string(grading.Unreadable)
	}
}

func readAs(says string) string {
	if says == "" {
		return ""
	}
	return "Read as " + says + "."
}

// withinText says how near counts as right.
func withinText(st grading.SheetStep, units grading.Units) string {
	t, unit := st.Tolerance, ""
	switch {
	case st.Unit == joint.Deg:
		unit = "°"
	case st.Unit == joint.MM && units == grading.Inches:
		return "Within " + strconv.FormatFloat(t/25.4, 'f', 3, 64) + " in."
	case st.Unit == joint.MM:
		unit = " mm"
	case st.Unit == joint.MM2:
		unit = " mm²"
	}
	return "Within " + strconv.FormatFloat(t, 'f', -1, 64) + unit + "."
}

// hintsOf are the sentences for a wrong number: the slip that gives it and whose
// number it was made with, or why none is named, or that none is known.
func hintsOf(m grading.StepResult) []string {
	switch {
	case m.Pattern != nil && m.Reason != "":
		return []string{m.Pattern.Says, m.Reason}
	case m.Pattern != nil:
		return []string{m.Pattern.Says}
	case m.Reason != "":
		return []string{m.Reason}
	}
	return []string{grading.Unexplained}
}

// said are the readings of the last attempt in words, by step. Results keep
// the number that was understood; its words are made again from the text.
func (d desk) said() map[string]string {
	if d.last == nil {
		return nil
	}
	return saidIn(d.exercise, *d.last, d.units())
}
