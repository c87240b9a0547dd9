package server

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var reportRoutes = []route{
	{http.MethodGet, "/classes/:class/report", forInstructors, (*server).getReport},
	{http.MethodGet, "/classes/:class/report.csv", forInstructors, (*server).getReportCSV},
	{http.MethodGet, "/classes/:class/skills.csv", forInstructors, (*server).getSkillsCSV},
	{http.MethodGet, "/classes/:class/students/:student/report", forInstructors, (*server).getStudentReport},
	{http.MethodGet, "/classes/:class/students/:student/report.csv", forInstructors, (*server).getStudentReportCSV},
}

// reportPage is a report over a class, or over one student.
type reportPage struct {
	Frame
	Heading, Lead string
	First         string // what a line of the first table is
	Lines         []reportLine
	Total         sheetSums
	Works         []reportLine // by assignment, of a class
	Skills        []skillSums
	SkillTotal    skillSums
	CSV, SkillCSV string
	SkillHref     string // how the skills stand
}

// reportLine is one line of sums.
type reportLine struct {
	Name, Href string
	Note       string
	sheetSums
	Cut string // since when leave to cut stands, on one sheet
}

// report is what was loaded for one.
type report struct {
	class store.Class
	rows  []store.ReportRow
	// skillOf gives the skill that a step of an assignment takes.
	skillOf map[int]map[string]string
	steps   map[int]map[string]store.ReportStep // by sheet and step
}

// loadReport loads a class's report, or with a student's number theirs.
func (s *server) loadReport(ctx context.Context, class store.Class, student int) (report, error) {
	r := report{class: class, skillOf: map[int]map[string]string{}, steps: map[int]map[string]store.ReportStep{}}
	var err error
	if r.rows, err = s.store.Report(ctx, class.ID, student, s.now()); err != nil {
		return r, err
	}
	steps, err := s.store.ReportSteps(ctx, class.ID, student)
	if err != nil {
		return r, err
	}
	for _, st := range steps {
		if r.steps[st.SheetNo] == nil {
			r.steps[st.SheetNo] = map[string]store.ReportStep{}
		}
		r.steps[st.SheetNo][st.Step] = st
	}
	for _, row := range r.rows {
		if r.skillOf[row.AssignmentNo] != nil {
			continue
		}
		_, ex, err := s.loadAssignment(ctx, class.ID, row.AssignmentNo)
		if err != nil {
			return r, err
		}
		skills := map[string]string{}
		for _, st := range ex.Steps {
			skills[st.ID] = skillWords(st.Skill)
		}
		r.skillOf[row.AssignmentNo] = skills
	}
	return r, nil
}

// skillWords is a skill's id in words.
func skillWords(id string) string {
	if id == "" {
		return "Other numbers"
	}
	return upperFirst(strings.ReplaceAll(id, "-", " "))
}

// lines sums the rows up, one line for each key that of gives, in the order in
// which they come first.
func (r report) lines(of func(store.ReportRow) (key int, line reportLine)) []reportLine {
	var out []reportLine
	place := map[int]int{}
	for _, row := range r.rows {
		key, line := of(row)
		i, ok := place[key]
		if !ok {
			i = len(out)
			place[key], out = i, append(out, line)
		}
		out[i].add(row)
	}
	return out
}

// sums is all of it together.
func (r report) sums() (t sheetSums) {
	for _, row := range r.rows {
		t.add(row)
	}
	return t
}

// skills sums the asked numbers up by skill, in the order of their names.
func (r report) skills(rows []store.ReportRow) (lines []skillSums, total skillSums) {
	place := map[string]int{}
	for _, row := range rows {
		for _, id := range row.Steps {
			skill := cmp.Or(r.skillOf[row.AssignmentNo][id], skillWords(""))
			i, ok := place[skill]
			if !ok {
				i = len(lines)
				place[skill], lines = i, append(lines, skillSums{Skill: skill})
			}
			st, answered := r.steps[row.SheetNo][id]
			lines[i].add(st, answered)
			total.add(st, answered)
		}
	}
	slices.SortFunc(lines, func(a, b skillSums) int { return strings.Compare(a.Skill, b.Skill) })
	return lines, total
}

func (s *server) getReport(c echo.Context) error {
	class := where(c).Class
	r, err := s.loadReport(c.Request().Context(), class, 0)
	if err != nil {
		return err
	}
	page := s.reportPage(c, r, "Report")
	page.First = "Student"
	page.Lines = r.lines(func(row store.ReportRow) (int, reportLine) {
		return row.StudentNo, reportLine{Name: row.Name, Note: fmt.Sprintf("bench %d", row.Bench), Href: studentHref(class, row.StudentNo) + "/report"}
	})
	page.Works = r.lines(func(row store.ReportRow) (int, reportLine) {
		return row.AssignmentNo, reportLine{Name: row.Title, Note: onDay(row.OpensAt, s.now(), zoneOf(class)), Href: assignmentHref(class, row.AssignmentNo)}
	})
	page.Heading = fmt.Sprintf("%s: %d of %d sheets begun, %d cleared", class.Name, page.Total.Begun, page.Total.Sheets, page.Total.Cleared)
	page.CSV, page.SkillCSV = classHref(class)+"/report.csv", classHref(class)+"/skills.csv"
	page.SkillHref = classHref(class) + "/skills"
	return s.show(c, "report", &page.Frame, &page)
}

func (s *server) getStudentReport(c echo.Context) error {
	class := where(c).Class
	st, err := s.student(c)
	if err != nil {
		return err
	}
	r, err := s.loadReport(c.Request().Context(), class, st.No)
	if err != nil {
		return err
	}
	page := s.reportPage(c, r, "Report: "+st.Name)
	page.First = "Sheet"
	page.Lines = r.lines(func(row store.ReportRow) (int, reportLine) {
		l := reportLine{Name: row.Title, Note: fmt.Sprintf("sheet %d, %s", row.SheetNo, onDay(row.OpensAt, s.now(), zoneOf(class))), Href: benchHref(class, row.SheetNo)}
		if row.ClearedAt != nil {
			l.Cut = when(*row.ClearedAt, zoneOf(class))
		}
		return row.SheetNo, l
	})
	page.Heading = fmt.Sprintf("%s: %d of %d sheets begun, %d cleared", st.Name, page.Total.Begun, page.Total.Sheets, page.Total.Cleared)
	page.CSV, page.SkillHref = studentHref(class, st.No)+"/report.csv", studentHref(class, st.No)+"/skills"
	page.Block = append(page.Block, BlockField{Label: "Student", Text: st.Name, Wide: true}, BlockField{Label: "Bench", Text: strconv.Itoa(st.Bench)})
	return s.show(c, "report", &page.Frame, &page)
}

// reportPage is what both reports have.
func (s *server) reportPage(c echo.Context, r report, title string) reportPage {
	page := reportPage{Frame: s.classFrame(c, title), Total: r.sums()}
	page.Skills, page.SkillTotal = r.skills(r.rows)
	page.Lead = "Assignments that have begun and are not withdrawn. Right counts numbers that follow from a student’s own earlier ones as well."
	page.Block = append(page.Block[:1], BlockField{Label: "Date", Text: when(s.now(), zoneOf(r.class)), Wide: true})
	return page
}

func (s *server) getReportCSV(c echo.Context) error {
	r, err := s.loadReport(c.Request().Context(), where(c).Class, 0)
	if err != nil {
		return err
	}
	return sendCSV(c, r.sheetTable(fmt.Sprintf("report-class-%d", r.class.ID)))
}

func (s *server) getStudentReportCSV(c echo.Context) error {
	st, err := s.student(c)
	if err != nil {
		return err
	}
	r, err := s.loadReport(c.Request().Context(), where(c).Class, st.No)
	if err != nil {
		return err
	}
	return sendCSV(c, r.sheetTable(fmt.Sprintf("report-class-%d-student-%d", r.class.ID, st.No)))
}

// sheetTable has one row a sheet, so that its columns add up to the report.
func (r report) sheetTable(name string) csvTable {
	t := csvTable{Name: name, Head: []string{"bench", "name", "assignment", "sheet", "attempts", "right", "asked", "fit", "last sent (UTC)", "cleared to cut (UTC)"}}
	for _, row := range r.rows {
		line := []string{strconv.Itoa(row.Bench), row.Name, row.Title, strconv.Itoa(row.SheetNo), strconv.Itoa(row.Attempts),
			strconv.Itoa(row.Score), strconv.Itoa(len(row.Steps)), row.Fit, "", ""}
		if row.SentAt != nil {
			line[8] = row.SentAt.UTC().Format("2006-01-02 15:04")
		}
		if row.ClearedAt != nil {
			line[9] = row.ClearedAt.UTC().Format("2006-01-02 15:04")
		}
		t.Rows = append(t.Rows, line)
	}
	return t
}

// getSkillsCSV sends one row for each student and skill.
func (s *server) getSkillsCSV(c echo.Context) error {
	r, err := s.loadReport(c.Request().Context(), where(c).Class, 0)
	if err != nil {
		return err
	}
	t := csvTable{Name: fmt.Sprintf("skills-class-%d", r.class.ID),
		Head: []string{"bench", "name", "skill", "asked", "right", "near", "follows", "wrong", "not answered", "answers"}}
	for len(r.rows) > 0 {
		end := slices.IndexFunc(r.rows, func(row store.ReportRow) bool { return row.StudentNo != r.rows[0].StudentNo })
		if end < 0 {
			end = len(r.rows)
		}
		lines, _ := r.skills(r.rows[:end])
		for _, l := range lines {
			row := []string{strconv.Itoa(r.rows[0].Bench), r.rows[0].Name, l.Skill}
			for _, n := range []int{l.Asked, l.Right, l.Near, l.Follows, l.Wrong, l.Open, l.Answers} {
				row = append(row, strconv.Itoa(n))
			}
			t.Rows = append(t.Rows, row)
		}
		r.rows = r.rows[end:]
	}
	return sendCSV(c, t)
}
