package server

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/grading/skills"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

var skillsRoutes = []route{
	{http.MethodGet, "/skills", forStudents, (*server).getSkills},
	{http.MethodGet, "/classes/:class/students/:student/skills", forInstructors, (*server).getStudentSkills},
	{http.MethodGet, "/classes/:class/skills", forInstructors, (*server).getClassSkills},
}

// skillsPage says which skills one student has shown, why, and what to take up
// next.
type skillsPage struct {
	Frame
	Heading, Lead string
	Next          *Link
	NextSays      string
	Lines         []skillLine
	Rest          []string // skills without an answer
	Weeks         int      // in which an answer comes to weigh half
}

// skillLine is how one skill stands.
type skillLine struct {
	Name, State string
	Chance      string
	Says        string
	Lesson      Link // that teaches it first
	Next        bool
}

// course is the lessons as the rule of skills reads them. Skills are worked out
// when they are asked for and not stored: they change with every day that
// passes.
type course struct {
	lessons []skills.Lesson
	titles  map[string]string // of lessons, by id
	names   map[string]string // of skills, by id
	ids     []string          // of skills, in teaching order
}

// courseOf gathers what the exercises of a library train.
func courseOf(lib *lessons.Library) course {
	c := course{titles: map[string]string{}, names: map[string]string{}}
	for _, m := range lib.Modules {
		l := skills.Lesson{ID: m.ID, Needs: m.Needs}
		c.titles[m.ID] = m.Title
		for _, sk := range m.Skills {
			if _, had := c.names[sk.ID]; !had {
				c.names[sk.ID] = sk.Name
			}
		}
		for _, ex := range m.Exercises {
			for _, st := range ex.Steps {
				if st.Skill != "" && !slices.Contains(l.Skills, st.Skill) {
					l.Skills = append(l.Skills, st.Skill)
				}
				if st.Skill != "" && !slices.Contains(c.ids, st.Skill) {
					c.ids = append(c.ids, st.Skill)
				}
			}
		}
		c.lessons = append(c.lessons, l)
	}
	return c
}

// name is a skill's name as a lesson gives it.
func (c course) name(id string) string {
	if name := c.names[id]; name != "" {
		return upperFirst(name)
	}
	return skillWords(id)
}

// lesson leads to the lesson that teaches a skill first; the text is "" where
// none does by now.
func (c course) lesson(skill string) Link {
	for _, l := range c.lessons {
		if slices.Contains(l.Skills, skill) {
			return Link{Text: c.titles[l.ID], Href: "/lessons/" + l.ID}
		}
	}
	return Link{}
}

// skillLevels weighs the answers of a class's students, or of one, by student.
func (s *server) skillLevels(ctx context.Context, class store.Class, student int) (map[int]map[string]skills.Level, error) {
	answers, err := s.store.FirstAnswers(ctx, class.ID, student)
	if err != nil {
		return nil, err
	}
	signs, trains, now := map[int][]skills.Sign{}, map[int]map[string]string{}, s.now()
	for _, a := range answers {
		if trains[a.AssignmentNo] == nil {
			if trains[a.AssignmentNo], err = s.trainedBy(ctx, class, a.AssignmentNo); err != nil {
				return nil, err
			}
		}
		skill := trains[a.AssignmentNo][a.Step]
		if score, counts := skills.ScoreOf(a.Verdict); counts && skill != "" {
			signs[a.StudentNo] = append(signs[a.StudentNo], skills.Sign{Skill: skill, Score: score, Days: wholeDays(now.Sub(a.SentAt))})
		}
	}
	levels := map[int]map[string]skills.Level{}
	for no, of := range signs {
		levels[no] = skills.Levels(of)
	}
	return levels, nil
}

// wholeDays counts full days, so that an answer weighs the same all its day.
func wholeDays(d time.Duration) int { return int(d / (24 * time.Hour)) }

// trainedBy gives the skill that each step of an assignment trains.
func (s *server) trainedBy(ctx context.Context, class store.Class, assignment int) (map[string]string, error) {
	_, ex, err := s.loadAssignment(ctx, class.ID, assignment)
	if err != nil {
		return nil, err
	}
	trains := map[string]string{}
	for _, st := range ex.Steps {
		trains[st.ID] = st.Skill
	}
	return trains, nil
}

func (s *server) getSkills(c echo.Context) error {
	st := who(c).Student
	class, err := s.store.ClassByID(c.Request().Context(), st.ClassID)
	if err != nil {
		return err
	}
	page := skillsPage{Frame: s.frame(c, "My skills")}
	page.Block = []BlockField{{Label: "Student", Text: st.Name, Wide: true}, {Label: "Class", Text: class.Name, Wide: true}}
	if err := s.fillSkills(c.Request().Context(), &page, class, st.No, ""); err != nil {
		return err
	}
	return s.show(c, "skills", &page.Frame, &page)
}

func (s *server) getStudentSkills(c echo.Context) error {
	st, err := s.student(c)
	if err != nil {
		return err
	}
	class := where(c).Class
	page := skillsPage{Frame: s.classFrame(c, "Skills: "+st.Name)}
	page.Block = append(page.Block, BlockField{Label: "Student", Text: st.Name, Wide: true})
	page.Rail = append(page.Rail, Link{Text: "Skills of the class", Href: classHref(class) + "/skills"})
	if err := s.fillSkills(c.Request().Context(), &page, class, st.No, st.Name+": "); err != nil {
		return err
	}
	return s.show(c, "skills", &page.Frame, &page)
}

// fillSkills works a student's page out; whose stands before its heading.
func (s *server) fillSkills(ctx context.Context, page *skillsPage, class store.Class, student int, whose string) error {
	lib, err := s.library(ctx)
	if err != nil {
		return err
	}
	all, err := s.skillLevels(ctx, class, student)
	if err != nil {
		return err
	}
	page.fill(courseOf(lib), all[student])
	page.Heading = upperFirst(page.Heading)
	if whose != "" {
		page.Heading = whose + lowerFirst(page.Heading)
	}
	page.Weeks = skills.HalfLife
	return nil
}

// fill puts the levels on the page: first those with answers, in teaching order.
func (p *skillsPage) fill(c course, levels map[string]skills.Level) {
	next, ok := skills.Next(c.lessons, levels)
	shown := 0
	for _, id := range c.withAnswers(levels) {
		l := levels[id]
		if l.State == skills.Shown {
			shown++
		}
		p.Lines = append(p.Lines, skillLine{
			Name: c.name(id), State: string(l.State), Chance: percent(l.Chance), Says: l.Says(), Lesson: c.lesson(id),
			Next: ok && id == next.Skill,
		})
	}
	for _, id := range c.ids {
		if levels[id].Answers == 0 {
			p.Rest = append(p.Rest, c.name(id))
		}
	}
	p.Heading = ofAll(shown, len(c.ids)) + " skills shown"
	if len(p.Lines) == 0 {
		p.Heading = "No skill shown yet"
	}
	if !ok {
		return
	}
	p.Next = &Link{Text: c.titles[next.Lesson], Href: "/lessons/" + next.Lesson}
	p.NextSays = c.why(next)
}

// withAnswers are the skills with answers, in teaching order; those that no
// lesson trains by now come last.
func (c course) withAnswers(levels map[string]skills.Level) []string {
	var ids, others []string
	for _, id := range c.ids {
		if levels[id].Answers > 0 {
			ids = append(ids, id)
		}
	}
	for id := range levels {
		if !slices.Contains(c.ids, id) {
			others = append(others, id)
		}
	}
	slices.Sort(others)
	return append(ids, others...)
}

// why says how the rule came to its suggestion.
func (c course) why(n skills.Suggestion) string {
	name := "“" + c.name(n.Skill) + "”"
	switch n.Reason {
	case skills.Before:
		return name + " is not shown, and “" + c.name(n.For) + "” builds on it."
	case skills.New:
		return name + " is new, and what it builds on is shown."
	}
	return name + " has the smallest share of right first answers so far."
}

// percent writes a chance.
func percent(chance float64) string { return fmt.Sprintf("%.0f %%", math.Round(100*chance)) }

// classSkillsPage is the skills of everybody in a class.
type classSkillsPage struct {
	Frame
	Heading, Lead string
	Skills        []classSkill
	Rows          []classSkillRow
	Report        string
	Weeks         int
}

// classSkill is one column: how many have shown it, of those with answers.
type classSkill struct {
	Name        string
	Shown, With int
}

// classSkillRow is one student's states, in the order of the columns.
type classSkillRow struct {
	Name, Href string
	Bench      int
	Cells      []classSkillCell
}

type classSkillCell struct{ State, Chance, Head string }

func (s *server) getClassSkills(c echo.Context) error {
	ctx, class := c.Request().Context(), where(c).Class
	lib, err := s.library(ctx)
	if err != nil {
		return err
	}
	levels, err := s.skillLevels(ctx, class, 0)
	if err != nil {
		return err
	}
	students, err := s.store.Students(ctx, class.ID)
	if err != nil {
		return err
	}
	page := classSkillsPage{Frame: s.classFrame(c, "Skills"), Report: classHref(class) + "/report", Weeks: skills.HalfLife}
	page.fill(courseOf(lib), class, students, levels)
	return s.show(c, "classskills", &page.Frame, &page)
}

func (p *classSkillsPage) fill(c course, class store.Class, students []store.Student, levels map[int]map[string]skills.Level) {
	any := map[string]skills.Level{}
	for _, of := range levels {
		for id := range of {
			any[id] = skills.Level{Answers: 1}
		}
	}
	ids := c.withAnswers(any)
	for _, id := range ids {
		p.Skills = append(p.Skills, classSkill{Name: c.name(id)})
	}
	for _, st := range students {
		if st.RemovedAt != nil {
			continue
		}
		row := classSkillRow{Name: st.Name, Bench: st.Bench, Href: studentHref(class, st.No) + "/skills"}
		for i, id := range ids {
			cell := classSkillCell{Head: p.Skills[i].Name}
			if l := levels[st.No][id]; l.Answers > 0 {
				cell.State, cell.Chance = string(l.State), percent(l.Chance)
				p.Skills[i].With++
				if l.State == skills.Shown {
					p.Skills[i].Shown++
				}
			}
			row.Cells = append(row.Cells, cell)
		}
		p.Rows = append(p.Rows, row)
	}
	p.say()
}

// say tells the finding: the skill that the smallest share has shown.
func (p *classSkillsPage) say() {
	p.Heading = "No answer yet"
	var least *classSkill
	for i := range p.Skills {
		k := &p.Skills[i]
		if k.With > 0 && (least == nil || k.Shown*least.With < least.Shown*k.With) {
			least = k
		}
	}
	switch {
	case least == nil:
		return
	case least.Shown == least.With:
		p.Heading = "Every skill so far is shown by everybody who has tried it"
		return
	}
	p.Heading = fmt.Sprintf("%s: shown by %d of %d", strings.TrimSuffix(least.Name, "."), least.Shown, least.With)
	p.Lead = "That is the skill of which the smallest share of those with answers has shown it."
}
