package lessons

import (
	"bytes"
	"fmt"

	"arrisbook/grading"
)

// The reader of Markdown takes time that grows with the square of some texts:
// of links that are never finished, of quotations in quotations, of tables with
// many columns and short rows. These limits lie far above any lesson and keep
// the worst text to about a second.
const (
	maxSize    = 128 << 10 // bytes in a file
	maxLines   = 4000      // lines in a file
	maxLine    = 4000      // bytes in a line
	maxColumns = 24        // in a table
	maxNested  = 12        // quotation marks that begin one line
)

// The slips of an exercise grow with the square of its numbers, and every
// exercise is tried on blanks. These keep the worst module to a few seconds;
// the longest exercise that ships has thirteen numbers.
const (
	maxExercises = 24  // in a module
	maxNumbers   = 160 // asked in a module
	maxGivens    = 40  // in an exercise
	maxSteps     = 40  // likewise
	maxPatterns  = 120 // likewise
	maxFailing   = 3   // exercises that cannot be drawn, before trying ends
)

// tooMuch says which part of an exercise goes over a limit; "": none.
func tooMuch(s grading.Spec) (path, reason string) {
	for _, part := range []struct {
		path       string
		have, most int
	}{
		{"givens", len(s.Givens), maxGivens}, {"inch_givens", len(s.InchGivens), maxGivens},
		{"steps", len(s.Steps), maxSteps}, {"patterns[0]", len(s.Patterns), maxPatterns},
	} {
		if part.have > part.most {
			return part.path, fmt.Sprintf("there are %d of them here; an exercise has at most %d: make two of it", part.have, part.most)
		}
	}
	return "", ""
}

// unreasonable finds the first line that goes over a limit, and says which.
func unreasonable(src source) (line int, reason string) {
	lines := bytes.Split(src.text, []byte("\n"))
	if len(lines) > maxLines {
		return src.first, fmt.Sprintf("the text has %d lines; a module has at most %d: make two of it", len(lines), maxLines)
	}
	for i, l := range lines {
		switch {
		case len(l) > maxLine:
			reason = fmt.Sprintf("this line has %d bytes; a line has at most %d: begin new ones", len(l), maxLine)
		case bytes.Count(l, []byte("|")) > maxColumns:
			reason = fmt.Sprintf("this table has more than %d columns", maxColumns)
		case quotationMarks(l) > maxNested:
			reason = "quotations are nested too deep here"
		default:
			continue
		}
		return src.first + i, reason
	}
	return 0, ""
}

// quotationMarks counts the marks of quotations and lists that a line begins
// with.
func quotationMarks(l []byte) int {
	n := 0
	for _, c := range l {
		if bytes.IndexByte([]byte(">-+* \t"), c) < 0 {
			break
		}
		if c == '>' || c == '+' {
			n++
		}
	}
	return n
}
