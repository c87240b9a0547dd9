package lessons

import (
	"fmt"
	"html"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// exerciseEnd closes an exercise; the page's own buttons go before it.
const exerciseEnd = "</div>\n"

// practice writes what an exercise will ask: its givens and its steps, in
// words. Numbers come with a blank, on the exercise's own page.
func (p *page) practice(b *exerciseBlock, line int) string {
	ex := b.exercise
	id := "exercise-" + ex.ID
	p.take(id, "the exercise "+ex.ID, line)
	if p.lastLevel == 0 {
		p.fault(line, "an exercise stands below a heading: begin its section with ##")
	}
	var w strings.Builder
	fmt.Fprintf(&w, "<div class=\"exercise\" id=%q data-exercise=%q>\n", id, ex.ID)
	fmt.Fprintf(&w, "<h3>Practice: %s</h3>\n", prose(ex.Title))
	fmt.Fprintf(&w, "<p>You are given %s. %s</p>\n", prose(givenNames(ex)), askedCount(len(ex.Steps)))
	w.WriteString("<ol class=\"asked\">\n")
	for _, s := range ex.Steps {
		w.WriteString(p.asked(ex, s))
	}
	w.WriteString("</ol>\n" + exerciseEnd)
	return w.String()
}

// asked writes one step: its name, symbol and unit, what it is and where it is
// measured from.
func (p *page) asked(ex *grading.Exercise, s grading.Step) string {
	var lines []string
	if ex.Family != nil {
		if q, ok := ex.Family.Quantity(s.ID); ok {
			lines = append(lines, q.Means)
		}
	}
	lines = append(lines, s.From)
	var w strings.Builder
	fmt.Fprintf(&w, "<li><b>%s</b> %s, %s.", prose(s.Name), p.names.symbolHTML(s.ID), unitWords(s.Unit))
	for _, l := range lines {
		if l != "" {
			w.WriteString("<br>" + prose(sentence(l)))
		}
	}
	w.WriteString("</li>\n")
	return w.String()
}

// prose puts a plain text into HTML, with the apostrophes that Markdown text
// gets.
func prose(s string) string {
	return html.EscapeString(strings.ReplaceAll(s, "'", "’"))
}

// unitWords says in which unit a number is asked.
func unitWords(u joint.Unit) string {
	switch u {
	case joint.MM:
		return "in millimetres or inches"
	case joint.Deg:
		return "in degrees"
	case joint.MM2:
		return "in square millimetres"
	}
	return "a plain number"
}

func askedCount(n int) string {
	if n == 1 {
		return "One number is asked:"
	}
	if n < len(countWords) {
		return countWords[n] + " numbers are asked, in this order:"
	}
	return fmt.Sprintf("%d numbers are asked, in this order:", n)
}

// countWords writes small numbers as a sentence begins with them.
var countWords = [...]string{"No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten",
	"Eleven", "Twelve", "Thirteen"}

// givenNames lists the givens as a sentence does.
func givenNames(ex *grading.Exercise) string {
	var names []string
	for _, g := range ex.Givens {
		names = append(names, "the "+inSentence(g.Name))
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// sentence begins a line with a capital and ends it with a full stop.
func sentence(s string) string {
	s = strings.TrimSuffix(strings.TrimSpace(s), ".")
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
