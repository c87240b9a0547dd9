package server

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"arrisbook/server/store"
)

// Limits of a roster.
const (
	studentsMost    = 200
	studentNameMost = 60
	benchMost       = 999
)

// rosterRow is one line of a pasted list as it was understood, before it is
// held against the roster.
type rosterRow struct {
	Line  int
	Text  string // as pasted
	Name  string
	Bench int    // 0: none given
	Fault string // why the line cannot be used; empty: it can
	Note  string // what was left out of it
}

// rosterList is a pasted list as it was understood.
type rosterList struct {
	Rows    []rosterRow
	Heading int // the line taken for a heading; 0: none
}

// columns says which field of a line holds what; -1: none.
type columns struct{ name, first, last, bench int }

var plainColumns = columns{name: 0, first: -1, last: -1, bench: 1}

// headings are the words that a heading line is made of, in the languages of
// spreadsheets that a shop may meet. From memory.
var headings = map[string]string{
	"name": "name", "names": "name", "student": "name", "students": "name", "full name": "name", "learner": "name",
	"nom": "name", "nombre": "name", "nome": "name", "schüler": "name",
	"first name": "first", "first": "first", "given name": "first", "forename": "first", "vorname": "first", "prénom": "first",
	"last name": "last", "last": "last", "surname": "last", "family name": "last", "nachname": "last",
	"bench": "bench", "bench no": "bench", "bench number": "bench", "place": "bench", "seat": "bench", "station": "bench",
	"no": "bench", "nr": "bench", "number": "bench", "platz": "bench", "place no": "bench",
}

// readRosterList reads a pasted list: one student a line, name and bench apart
// by a tab, a semicolon or a comma. It never guesses: what it cannot place is
// a fault with a reason.
func readRosterList(text string) rosterList {
	text = strings.TrimPrefix(strings.ToValidUTF8(text, "\uFFFD"), "\uFEFF")
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	list, at, begun := rosterList{}, plainColumns, false
	for i, line := range strings.Split(text, "\n") {
		if strings.Trim(line, " \t,;\"\u00a0") == "" {
			continue
		}
		fields := splitLine(line)
		if !begun {
			begun = true
			if found, ok := headingColumns(fields); ok {
				at, list.Heading = found, i+1
				continue
			}
		}
		row := at.read(fields)
		row.Line, row.Text = i+1, strings.TrimSpace(line)
		list.Rows = append(list.Rows, row)
	}
	return list
}

// splitLine takes a line apart at its tabs, or else semicolons, or else
// commas. A field in double quotes may hold the separator.
func splitLine(line string) []string {
	sep := byte(',')
	switch {
	case strings.Contains(line, "\t"):
		sep = '\t'
	case strings.Contains(line, ";"):
		sep = ';'
	}
	var fields []string
	for {
		field, rest, more := cutField(line, sep)
		fields = append(fields, tidyName(field))
		if !more {
			break
		}
		line = rest
	}
	for len(fields) > 1 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	return fields
}

// cutField takes the first field off a line. A quote that is never closed is
// an ordinary sign.
func cutField(line string, sep byte) (field, rest string, more bool) {
	quoted := strings.TrimLeft(line, " ")
	if strings.HasPrefix(quoted, `"`) {
		var b strings.Builder
		for at := 1; at < len(quoted); at++ {
			if quoted[at] != '"' {
				b.WriteByte(quoted[at])
				continue
			}
			if strings.HasPrefix(quoted[at+1:], `"`) {
				b.WriteByte('"')
				at++
				continue
			}
			after := strings.TrimLeft(quoted[at+1:], " ")
			if after == "" {
				return b.String(), "", false
			}
			if after[0] == sep {
				return b.String(), after[1:], true
			}
			break
		}
	}
	field, rest, more = strings.Cut(line, string(sep))
	return field, rest, more
}

// headingColumns says which columns a heading line names. A line is a heading
// when it is made of such words and of nothing else; further columns may be
// called anything once a name column is there.
func headingColumns(fields []string) (columns, bool) {
	at := columns{-1, -1, -1, -1}
	for i, f := range fields {
		word := strings.Trim(strings.ToLower(f), " .:#*")
		switch headings[word] {
		case "name":
			at.name = i
		case "first":
			at.first = i
		case "last":
			at.last = i
		case "bench":
			at.bench = i
		}
	}
	if at.name < 0 && (at.first < 0 || at.last < 0) {
		return columns{}, false
	}
	if at.name >= 0 && len(fields) > 1 && at.bench < 0 && readsAsBench(fields) {
		return columns{}, false
	}
	return at, true
}

// readsAsBench says whether one of the fields is a number: then the line is
// about somebody who is called, say, Student.
func readsAsBench(fields []string) bool {
	for _, f := range fields {
		if _, err := strconv.Atoi(f); err == nil {
			return true
		}
	}
	return false
}

// read understands one line.
func (at columns) read(fields []string) rosterRow {
	field := func(i int) string {
		if i < 0 || i >= len(fields) {
			return ""
		}
		return fields[i]
	}
	row := rosterRow{Name: field(at.name)}
	if at.name < 0 {
		row.Name = strings.TrimSpace(field(at.first) + " " + field(at.last))
	}
	if at == plainColumns && len(fields) > 2 {
		row.Note = fmt.Sprintf("“%s” is left out", strings.Join(fields[2:], ", "))
	}
	row.Fault = nameFault(row.Name)
	bench := field(at.bench)
	if bench == "" || row.Fault != "" {
		return row
	}
	row.Bench, row.Fault = readBench(bench)
	if row.Fault != "" && at == plainColumns && hasLetter(bench) {
		row.Fault = fmt.Sprintf("“%s” is no bench number. If it belongs to the name, put the whole name in quotes or write the first name first without a comma.", bench)
	}
	return row
}

func hasLetter(text string) bool { return strings.ContainsFunc(text, unicode.IsLetter) }

// nameFault says why a name cannot be used; "": it can.
func nameFault(name string) string {
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return "There is no name."
	case n > studentNameMost:
		return "This name is too long: 60 characters at most."
	case strings.ContainsRune(name, utf8.RuneError):
		return "A letter of this name was lost on the way here. Copy it once more."
	case !hasLetter(name):
		return "A name has letters; this has none."
	}
	return ""
}

// readBench reads the number of a bench.
func readBench(text string) (int, string) {
	text = strings.TrimSpace(strings.TrimLeft(text, "#"))
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > benchMost {
		return 0, "A bench is a whole number from 1 to 999."
	}
	return n, ""
}

// rosterPlan says what would become of a list: whom it adds and what it leaves
// out.
type rosterPlan struct {
	Add     []plannedStudent
	Ignored []rosterRow // Fault says why
	Heading int
}

// plannedStudent is somebody to be added.
type plannedStudent struct {
	Line, Bench int
	Name        string
	Note        string // what a careful reader wants to know
}

// planRoster holds a list against the roster as it is.
func planRoster(list rosterList, roster []store.Student) rosterPlan {
	plan := rosterPlan{Heading: list.Heading}
	names, benches := map[string]string{}, map[int][]string{}
	for _, st := range roster {
		names[sameName(st.Name)] = fmt.Sprintf("on the roster already, at bench %d", st.Bench)
		benches[st.Bench] = append(benches[st.Bench], st.Name)
	}
	taken := map[int]bool{}
	for b := range benches {
		taken[b] = true
	}
	for _, row := range list.Rows {
		taken[row.Bench] = true
	}
	for _, row := range list.Rows {
		key := sameName(row.Name)
		switch {
		case row.Fault != "":
		case names[key] != "":
			row.Fault = fmt.Sprintf("%s is %s. If these are two people, write something that tells them apart.", row.Name, names[key])
		case len(roster)+len(plan.Add) >= studentsMost:
			row.Fault = fmt.Sprintf("A class has room for %d students.", studentsMost)
		}
		if row.Fault != "" {
			plan.Ignored = append(plan.Ignored, row)
			continue
		}
		names[key] = fmt.Sprintf("in line %d", row.Line)
		plan.Add = append(plan.Add, planned(row, benches, taken))
	}
	return plan
}

// planned finds the bench for one row and notes what is unusual about it.
func planned(row rosterRow, benches map[int][]string, taken map[int]bool) plannedStudent {
	st := plannedStudent{Line: row.Line, Bench: row.Bench, Name: row.Name}
	var notes []string
	if row.Note != "" {
		notes = append(notes, row.Note)
	}
	if st.Bench == 0 {
		st.Bench = nextFree(taken)
		taken[st.Bench] = true
		notes = append(notes, "next free bench")
	}
	if others := benches[st.Bench]; len(others) > 0 {
		notes = append(notes, "shares the bench with "+list(others))
	}
	if row.Bench == 0 && strings.ContainsAny(row.Name, "0123456789") {
		notes = append(notes, "there is a number in the name; a comma before it makes it the bench")
	}
	benches[st.Bench] = append(benches[st.Bench], st.Name)
	st.Note = upperFirst(strings.Join(notes, "; "))
	return st
}

// nextFree is the lowest bench that nobody has.
func nextFree(taken map[int]bool) int {
	for n := 1; n < benchMost; n++ {
		if !taken[n] {
			return n
		}
	}
	return benchMost
}
