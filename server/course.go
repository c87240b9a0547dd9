package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

var courseRoutes = []route{
	{http.MethodGet, "/classes/:class/course", forInstructors, (*server).getCourse},
	{http.MethodGet, "/classes/:class/course/file", forInstructors, (*server).getCourseFile},
	{http.MethodGet, "/modules/:own/file", forTeachers, (*server).getModuleFile},
}

// coursePage says what of a class goes along to next year's instructor.
type coursePage struct {
	Frame
	Heading, Lead string
	File          string
	Plan          []importPlanned
	Modules       []string
	Notes         []string // what is left out, and why
	Authors       bool     // the names of authors are among that
}

// courseExport is a class without its people.
type courseExport struct {
	pack.Course
	titles  map[string]string // of exercises, by id
	notes   []string
	authors bool // some author's name was left out
}

func (s *server) getCourse(c echo.Context) error {
	x, err := s.exportCourse(c.Request().Context(), where(c).Class, false)
	if err != nil {
		return err
	}
	page := coursePage{Frame: s.classFrame(c, "Hand on the course"), File: classHref(where(c).Class) + "/course/file", Notes: x.notes, Authors: x.authors}
	for _, a := range x.Plan {
		line := importPlanned{Title: a.Title, Exercise: x.titles[a.Exercise], Begins: saysMoment(a.Begins)}
		if a.Due != nil {
			line.Due = saysMoment(*a.Due)
		}
		page.Plan = append(page.Plan, line)
	}
	for _, m := range x.Modules {
		page.Modules = append(page.Modules, fmt.Sprintf("%s, edition %d", m.Title, m.Edition))
	}
	page.Heading = fmt.Sprintf("%s, %s of your school", upperFirst(countedNo(len(x.Plan), "assignment")), countedNo(len(x.Modules), "module"))
	page.Lead = "For next year’s instructor: settings, plan and modules in one file. No student, no staff, no sheet, no number and no name of the class goes along."
	return s.show(c, "course", &page.Frame, &page)
}

// countedNo writes a small count with its noun: "no module", "two modules".
func countedNo(n int, noun string) string {
	if n == 0 {
		return "no " + noun
	}
	return counted(n, noun, noun+"s")
}

func (s *server) getCourseFile(c echo.Context) error {
	class := where(c).Class
	x, err := s.exportCourse(c.Request().Context(), class, c.QueryParam("authors") == "named")
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := pack.WriteCourse(&b, x.Course); err != nil {
		return err
	}
	s.log.Info("course handed on", "class", class.ID, "modules", len(x.Modules), "staff", who(c).Staff.ID, "request", requestID(c))
	return sendFile(c, "course.zip", b.Bytes())
}

// sendFile sends a file to be kept.
func sendFile(c echo.Context, name string, body []byte) error {
	c.Response().Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	return c.Blob(http.StatusOK, "application/zip", body)
}

// getModuleFile sends the newest save of a module as one file.
func (s *server) getModuleFile(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	packed, err := s.packModule(c.Request().Context(), m.ID, m.Saves)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := pack.WriteModule(&b, packed); err != nil {
		return err
	}
	name := "module.zip"
	if slugShape.MatchString(packed.ID) {
		name = fmt.Sprintf("%s-%d.zip", packed.ID, packed.Edition)
	}
	s.log.Info("module handed on", "module", m.ID, "save", m.Saves, "staff", m.OwnerID, "request", requestID(c))
	return sendFile(c, name, b.Bytes())
}

// packModule makes a save ready to travel.
func (s *server) packModule(ctx context.Context, id int64, no int) (pack.Module, error) {
	save, err := s.store.ModuleSave(ctx, id, no)
	if err != nil {
		return pack.Module{}, err
	}
	m := pack.Module{ID: save.Slug, Title: save.Title, Edition: save.Edition, Author: save.Author, Licence: save.Licence, Text: []byte(save.Text)}
	pictures, err := s.store.PictureBodies(ctx, id, no)
	for _, p := range pictures {
		m.Pictures = append(m.Pictures, pack.Picture(p))
	}
	return m, err
}

// exportCourse takes everything about people out of a class. An author who is
// of its staff is named only where that is asked for.
func (s *server) exportCourse(ctx context.Context, class store.Class, authors bool) (courseExport, error) {
	x := courseExport{titles: map[string]string{}}
	x.Settings = pack.Settings{Zone: class.Zone, Units: class.Units, Projection: class.Projection, FitWord: class.FitWord,
		LengthStep: class.LengthStep, AngleStep: class.AngleStep, Paper: class.Paper}
	names, err := s.namesOf(ctx, class)
	if err != nil {
		return x, err
	}
	all, err := s.store.Assignments(ctx, class.ID)
	if err != nil {
		return x, err
	}
	modules := map[string]string{} // by exercise
	for _, a := range all {
		ex, err := s.givenOutExercise(ctx, a.Assignment)
		if err != nil {
			return x, err
		}
		x.titles[ex.ID], modules[ex.ID] = ex.Title, ex.Module
	}
	x.Plan = coursePlan(all, zoneOf(class), func(a store.Assignment) string {
		if names.inTitle(a.Title) {
			x.note("A title that names somebody is left out: the assignment is called “%s” in the file.", x.titles[a.Exercise])
			return firstLetters(x.titles[a.Exercise], titleMost)
		}
		return a.Title
	})
	if err := s.addModules(ctx, &x, modules, names); err != nil || authors {
		return x, err
	}
	for i, m := range x.Modules {
		if names.inTitle(m.Author) {
			x.Modules[i].Author, x.authors = "", true
			x.note("The author of “%s” is of this class’s staff, and is not named in the file.", m.Title)
		}
	}
	return x, nil
}

func (x *courseExport) note(format string, args ...any) {
	x.notes = append(x.notes, fmt.Sprintf(format, args...))
}

func firstLetters(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return strings.TrimSpace(string(r[:most]))
	}
	return text
}

// addModules adds the modules that the plan needs and that do not come with
// the program, and those that these need. One that names a student stays
// behind, with its assignments.
func (s *server) addModules(ctx context.Context, x *courseExport, modules map[string]string, names classNames) error {
	left := map[string]bool{}
	var wanted []string
	for _, a := range x.Plan {
		wanted = append(wanted, modules[a.Exercise])
	}
	for i := 0; i < len(wanted); i++ {
		id := wanted[i]
		if _, shipped := s.cfg.Lessons.Module(id); shipped || slices.Index(wanted, id) < i {
			continue
		}
		public, err := s.store.PublicModule(ctx, id, 0)
		if errors.Is(err, store.ErrNotFound) {
			continue
		}
		if err != nil {
			return err
		}
		m, err := s.packModule(ctx, public.ID, public.Save)
		if err != nil {
			return err
		}
		if where := names.inModule(m); where != "" {
			left[id] = true
			x.note("The module “%s” is left out, with its assignments: %s names somebody of this class.", m.Title, where)
			continue
		}
		x.Modules = append(x.Modules, m)
		own, err := s.shelved(ctx, public.ID, public.Save)
		if err != nil {
			return err
		}
		wanted = append(wanted, own.module.Needs...)
	}
	x.Plan = slices.DeleteFunc(x.Plan, func(a pack.Planned) bool { return left[modules[a.Exercise]] })
	return nil
}
