package server

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// plannedCourse is a class that a file makes, held against what is here.
type plannedCourse struct {
	settings store.ClassSettings
	plan     []plannedAssignment
}

// plannedAssignment is one assignment of a plan with the exercise for it.
type plannedAssignment struct {
	pack.Planned
	exercise *grading.Exercise
	version  int
	// from is the module of the file that brings the exercise; -1: it is here.
	from int
	note string
}

// planCourse holds settings and plan of a course against what is here and
// what the file brings.
func (s *server) planCourse(ctx context.Context, p *importPlan, file pack.File, lib *lessons.Library) error {
	course := &plannedCourse{settings: settingsIn(file.Course.Settings)}
	p.course = course
	if why := wrongSettings(course.settings); why != "" {
		p.fault(pack.CourseName, 1, "the settings: %s", why)
	}
	for i, planned := range file.Course.Plan {
		planned.Title = tidyName(planned.Title)
		a := plannedAssignment{Planned: planned, from: -1}
		if why := wrongPlanned(planned); why != "" {
			p.fault(pack.CourseName, file.Lines[i], "%s", why)
			continue
		}
		found, err := s.resolve(ctx, p, &a, lib)
		if err != nil {
			return err
		}
		if !found {
			p.fault(pack.CourseName, file.Lines[i], "there is no exercise %.80q here, and the file brings none", planned.Exercise)
			continue
		}
		course.plan = append(course.plan, a)
	}
	return nil
}

func settingsIn(set pack.Settings) store.ClassSettings {
	return store.ClassSettings{Zone: set.Zone, Units: set.Units, Projection: set.Projection, FitWord: set.FitWord,
		LengthStep: set.LengthStep, AngleStep: set.AngleStep, Paper: cmp.Or(set.Paper, defaultSettings.Paper)}
}

// wrongSettings says which setting a class cannot have; "": none.
func wrongSettings(set store.ClassSettings) string {
	form := formOf(set)
	if zone, ok := readZone(set.Zone); !ok || zone != set.Zone {
		return "no time zone is called " + strconv.Quote(beginning(set.Zone))
	}
	for _, choice := range []*Choice{&form.Units, &form.Projection, &form.FitWord, &form.LengthStep, &form.AngleStep, &form.Paper} {
		if !choice.taken() {
			return choice.Name + " is none that a class can have"
		}
	}
	return ""
}

// daysMost is how many days after its beginning a course may still plan.
const daysMost = 3000

// wrongPlanned says what is wrong with one assignment of a plan; "": nothing.
func wrongPlanned(a pack.Planned) string {
	switch {
	case a.Title == "" || utf8.RuneCountInString(a.Title) > titleMost:
		return fmt.Sprintf("the title has from 1 to %d letters", titleMost)
	case a.Attempts < 0 || a.Attempts > attemptsMost:
		return fmt.Sprintf("attempts go from 0 to %d", attemptsMost)
	case !soundMoment(a.Begins) || a.Due != nil && !soundMoment(*a.Due):
		return fmt.Sprintf("a time has a day from 0 to %d and a clock like 18:30", daysMost)
	case a.Due != nil && !later(*a.Due, a.Begins):
		return "the due time comes after the beginning"
	case a.Release == store.ReleaseDue && a.Due == nil:
		return "the key comes out at the due time, and there is none"
	case a.Release != store.ReleaseByHand && a.Release != store.ReleaseCleared && a.Release != store.ReleaseDue:
		return fmt.Sprintf("the key comes out by %.20q, which is none of hand, cleared, due", a.Release)
	}
	return ""
}

const clockLayout = "15:04"

func soundMoment(m pack.Moment) bool {
	_, err := time.Parse(clockLayout, m.At)
	return err == nil && len(m.At) == len(clockLayout) && m.Day >= 0 && m.Day <= daysMost
}

func later(a, b pack.Moment) bool {
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.At, b.At)) > 0
}

// resolve finds the exercise of a planned assignment: one that the file
// brings, else one that is here. An older edition is given out where it is
// still written down here; else the newest, and the plan says so.
func (s *server) resolve(ctx context.Context, p *importPlan, a *plannedAssignment, lib *lessons.Library) (bool, error) {
	brought := false
	for i, m := range p.modules {
		for _, ex := range m.check.Module.Exercises {
			if ex.ID == a.Exercise {
				a.exercise, brought = ex, m.adds()
				if brought {
					a.from = i
				}
			}
		}
	}
	if a.exercise == nil {
		a.exercise, _ = lib.Exercise(a.Exercise)
	}
	if a.exercise == nil {
		return false, nil
	}
	if a.version = a.exercise.Version; a.version == a.Edition {
		return true, nil
	}
	older := false
	if !brought && a.Edition > 0 {
		var err error
		if older, err = s.keptEdition(ctx, a.exercise, a.Edition); err != nil {
			return false, err
		}
	}
	if older {
		a.version = a.Edition
	} else {
		a.note = fmt.Sprintf("edition %d instead of %d", a.version, a.Edition)
	}
	return true, nil
}

// keptEdition says whether an edition of an exercise is written down here, as
// one of the same module.
func (s *server) keptEdition(ctx context.Context, ex *grading.Exercise, edition int) (bool, error) {
	text, err := s.store.ExerciseSpec(ctx, ex.ID, edition)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	var spec grading.Spec
	if err := json.Unmarshal(text, &spec); err != nil {
		return false, fmt.Errorf("read exercise %s, version %d: %w", ex.ID, edition, err)
	}
	return spec.Module == ex.Module, nil
}

// page shows the course before it is made.
func (p *plannedCourse) page() *importCourse {
	form := formOf(p.settings)
	c := &importCourse{
		Name: Field{Name: "name", Label: "Name of the new class", Note: "it stands on cards and sheets", Auto: "off"},
		Date: Field{Name: "first_day", Label: "First day", Note: "on which the first assignment begins, like 2027-01-12", Kind: "date", Auto: "off"},
	}
	c.Settings = append(c.Settings, "Clocks of "+p.settings.Zone)
	for _, choice := range []Choice{form.Units, form.Projection, form.FitWord, form.LengthStep, form.AngleStep, form.Paper} {
		for _, o := range choice.Options {
			if o.Chosen {
				c.Settings = append(c.Settings, choice.Label+": "+o.Text)
			}
		}
	}
	for _, a := range p.plan {
		line := importPlanned{Title: a.Title, Exercise: a.exercise.Title, Begins: saysMoment(a.Begins), Note: a.note}
		if a.Due != nil {
			line.Due = saysMoment(*a.Due)
		}
		c.Plan = append(c.Plan, line)
	}
	return c
}

// saysMoment writes a time of a plan: "day 1, 18:30".
func saysMoment(m pack.Moment) string { return fmt.Sprintf("day %d, %s", m.Day+1, m.At) }

// newCourse reads the name and the first day; nil where the page now says what
// is wrong with them.
func newCourse(c echo.Context, p *importCourse, plan importPlan) (*store.NewCourse, time.Time) {
	p.Name.Value, p.Date.Value = c.FormValue("name"), c.FormValue("first_day")
	name := tidyName(p.Name.Value)
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		p.Name.Fault = "Give the class a name, such as its day and its room."
	case n > classNameMost:
		p.Name.Fault = "This name is too long: 80 characters at most."
	}
	first, err := time.Parse(time.DateOnly, p.Date.Value)
	switch {
	case err != nil:
		p.Date.Fault = "Write the day like 2027-01-12."
	case first.Year() < 2000 || first.Year() > 2190:
		p.Date.Fault = "The year has to lie between 2000 and 2190."
	}
	if faulty(&p.Name, &p.Date) {
		return nil, first
	}
	set := plan.course.settings
	set.Name = name
	return &store.NewCourse{Settings: set, Code: newCode(classCodeLen)}, first
}

// assignments are the plan with its days counted from the first, each exercise
// written down.
func (s *server) assignments(ctx context.Context, plan *importPlan, first time.Time) ([]store.Assignment, error) {
	zone := zoneOf(store.Class{Zone: plan.course.settings.Zone})
	var all []store.Assignment
	for _, a := range plan.course.plan {
		version := a.version
		if a.from >= 0 {
			version = plan.modules[a.from].check.Module.Version
		} else if version == a.exercise.Version {
			if _, err := s.keepExercise(ctx, a.exercise); err != nil {
				return nil, err
			}
		}
		planned := store.Assignment{Exercise: a.Exercise, Version: version, Title: a.Title, Attempts: a.Attempts, Release: a.Release,
			OpensAt: momentOn(first, a.Begins, zone, theFirst)}
		if a.Due != nil {
			due := momentOn(first, *a.Due, zone, theSecond)
			planned.DueAt = &due
		}
		all = append(all, planned)
	}
	return all, nil
}

// momentOn is a moment of a course that begins on a day. Where the clocks skip
// it, it is as much later as they go forward.
func momentOn(first time.Time, m pack.Moment, zone *time.Location, w which) time.Time {
	at, _ := time.Parse(clockLayout, m.At) // see soundMoment
	wall := time.Date(first.Year(), first.Month(), first.Day()+m.Day, at.Hour(), at.Minute(), 0, 0, time.UTC)
	moments := momentsOf(wall, zone)
	switch {
	case len(moments) == 0:
		return time.Date(wall.Year(), wall.Month(), wall.Day(), wall.Hour(), wall.Minute(), 0, 0, zone)
	case w == theSecond:
		return moments[len(moments)-1]
	}
	return moments[0]
}

// coursePlan is what a class was given, in days from the first: without who,
// and without what was withdrawn. title gives the title that goes along.
func coursePlan(all []store.AssignmentCount, zone *time.Location, title func(store.Assignment) string) []pack.Planned {
	all = slices.DeleteFunc(slices.Clone(all), func(a store.AssignmentCount) bool { return a.WithdrawnAt != nil })
	slices.SortStableFunc(all, func(a, b store.AssignmentCount) int {
		return cmp.Or(a.OpensAt.Compare(b.OpensAt), cmp.Compare(a.No, b.No))
	})
	plan := []pack.Planned{}
	for _, a := range all {
		first := all[0].OpensAt
		p := pack.Planned{Exercise: a.Exercise, Edition: a.Version, Title: title(a.Assignment), Begins: momentAfter(first, a.OpensAt, zone),
			Attempts: a.Attempts, Release: a.Release}
		if a.DueAt != nil {
			due := momentAfter(first, *a.DueAt, zone)
			p.Due = &due
		}
		plan = append(plan, p)
	}
	return plan
}

// momentAfter counts the days from the first, by the calendar of a zone.
func momentAfter(first, t time.Time, zone *time.Location) pack.Moment {
	day := func(t time.Time) time.Time {
		y, m, d := t.In(zone).Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return pack.Moment{Day: int(day(t).Sub(day(first)).Hours() / 24), At: t.In(zone).Format(clockLayout)}
}
