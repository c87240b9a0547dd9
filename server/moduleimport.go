package server

import (
	"errors"
	"fmt"
	"mime/multipart"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons"
	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

var moduleImportRoutes = []route{
	{http.MethodPost, "/modules/import", forTeachers, (*server).postImport},
	{http.MethodGet, "/modules/import/:upload", forTeachers, (*server).getImport},
	{http.MethodPost, "/modules/import/:upload", forTeachers, (*server).postImportAdd},
	{http.MethodPost, "/modules/imports/:import/undo", forTeachers, (*server).postImportUndo},
}

// importBox takes a file in.
type importBox struct {
	Faults []string // file:line: what cannot be read
}

// importPage says what a file would add.
type importPage struct {
	Frame
	Heading, Lead string
	Href          string
	Faults        []string
	Modules       []importLine
	Course        *importCourse
	Print         string
	Changed       string
}

// importLine is one module of a file and what becomes of it.
type importLine struct {
	Title, ID, What string
	Edition         int
	Author, Licence string
	Exercises       []string
	Pictures        []string
	Kept            string // where the module stands that gets another save
}

// importCourse is the class that a course file makes.
type importCourse struct {
	Settings   []string
	Plan       []importPlanned
	Name, Date Field
}

type importPlanned struct{ Title, Exercise, Begins, Due, Note string }

// postImport takes a file in and looks whether it can be read. Nothing is
// added before its sender has seen what it holds.
func (s *server) postImport(c echo.Context) error {
	done, err := s.readUpload(c)
	if err != nil {
		return err
	}
	defer done()
	files := filesOf(c, "module_file")
	if len(files) != 1 {
		return s.notTaken(c, []string{"Choose one file: a module or a course, as it was handed on."})
	}
	body, err := contents(files[0])
	if err != nil {
		return err
	}
	name := fileNameOf(files[0].Filename)
	_, found := pack.Read(name, body)
	if len(found) > 0 {
		s.log.Warn("a file was not taken in", "faults", len(found), "staff", who(c).Staff.ID, "request", requestID(c))
		return s.notTaken(c, faultTexts(found))
	}
	id, err := s.store.KeepUpload(c.Request().Context(), who(c).Staff.ID, name, body, s.now(), s.now().Add(-undoFor))
	if err != nil {
		return err
	}
	return goTo(c, importHref(id))
}

func importHref(upload int64) string { return fmt.Sprintf("/modules/import/%d", upload) }

// notTaken shows the list of modules with what cannot be read.
func (s *server) notTaken(c echo.Context, faults []string) error {
	page, err := s.modulesPage(c)
	if err != nil {
		return err
	}
	page.Import.Faults = faults
	return s.render(c, http.StatusUnprocessableEntity, "modules", &page)
}

// fileNameOf is what a file is called on pages.
func fileNameOf(name string) string {
	name = tidyName(name[strings.LastIndexAny(name, `/\`)+1:])
	if r := []rune(name); len(r) > 60 {
		name = string(r[:60])
	}
	if name == "" {
		name = "file"
	}
	return name
}

// faultsShown is how many faults a page lists.
const faultsShown = 50

func faultTexts(found []*lessons.Error) []string {
	var all []string
	for i, e := range found {
		if i == faultsShown {
			return append(all, fmt.Sprintf("and %d more", len(found)-i))
		}
		all = append(all, e.Error()+stop(e.Msg))
	}
	return all
}

// takeFolder keeps a new module of the files that were chosen.
func (s *server) takeFolder(c echo.Context, chosen []*multipart.FileHeader) error {
	files := map[string][]byte{}
	for _, h := range chosen {
		body, err := contents(h)
		if err != nil {
			return err
		}
		name := fileNameOf(h.Filename)
		if _, twice := files[name]; twice {
			return s.notTaken(c, []string{name + ":1: there are two files of this name; a module is one folder without folders in it."})
		}
		files[name] = body
	}
	m, found := pack.ModuleOf("the files", files)
	if len(found) > 0 {
		return s.notTaken(c, faultTexts(found))
	}
	return s.saveOrShow(c, store.Module{}, nil, takenForm(m))
}

// upload is the file of the address, which its sender alone may see.
func (s *server) upload(c echo.Context) (int64, pack.File, error) {
	id, err := number(c, "upload")
	if err != nil {
		return 0, pack.File{}, err
	}
	up, err := s.store.Upload(c.Request().Context(), who(c).Staff.ID, int64(id))
	if err != nil {
		return 0, pack.File{}, err
	}
	done, err := s.enterUpload(c.Request().Context())
	if err != nil {
		return 0, pack.File{}, err
	}
	defer done()
	file, found := pack.Read(up.Name, up.Body)
	if len(found) > 0 {
		return 0, pack.File{}, fmt.Errorf("upload %d was read before: %w", id, found[0])
	}
	return int64(id), file, nil
}

func (s *server) getImport(c echo.Context) error {
	id, file, err := s.upload(c)
	if err != nil {
		return err
	}
	page, _, err := s.importPage(c, id, file)
	if err != nil {
		return err
	}
	return s.show(c, "moduleimport", &page.Frame, &page)
}

// importPage plans the import and says what it would do.
func (s *server) importPage(c echo.Context, id int64, file pack.File) (importPage, importPlan, error) {
	page := importPage{Frame: s.moduleFrame(c, "What the file would add"), Href: importHref(id)}
	plan, err := s.planImport(c.Request().Context(), who(c).Staff.ID, file)
	if err != nil {
		return page, plan, err
	}
	page.Faults, page.Print = faultTexts(plan.faults), plan.print()
	for _, m := range plan.modules {
		page.Modules = append(page.Modules, m.line())
	}
	if file.Course != nil {
		page.Course = plan.course.page()
	}
	page.head(plan)
	return page, plan, nil
}

func (p *importPage) head(plan importPlan) {
	adds := 0
	for _, m := range plan.modules {
		if m.adds() {
			adds++
		}
	}
	switch {
	case len(p.Faults) > 0:
		p.Heading, p.Lead = "This cannot be taken in", "Nothing was added. What is wrong stands below, with file and line."
	case p.Course != nil:
		p.Heading = "A class with " + countedNo(len(p.Course.Plan), "assignment")
		p.Lead = upperFirst(countedNo(adds, "module")) + " and nobody’s name will be added with it. You can take it back for 24 hours."
	case adds == 0:
		p.Heading, p.Lead = "It is all here already", "Nothing would be added."
	default:
		p.Heading, p.Lead = "One module comes in", "You can take it back for 24 hours."
	}
}

// postImportAdd adds what the preview showed, and nothing else.
func (s *server) postImportAdd(c echo.Context) error {
	id, file, err := s.upload(c)
	if err != nil {
		return err
	}
	page, plan, err := s.importPage(c, id, file)
	if err != nil {
		return err
	}
	if len(plan.faults) > 0 {
		return s.render(c, http.StatusUnprocessableEntity, "moduleimport", &page)
	}
	if c.FormValue("print") != page.Print {
		page.Changed = "Something changed here since you looked. Look once more, then say yes."
		return s.render(c, http.StatusConflict, "moduleimport", &page)
	}
	add := store.NewImport{Staff: who(c).Staff.ID, Upload: id, At: s.now()}
	var first time.Time
	if page.Course != nil {
		if add.Course, first = newCourse(c, page.Course, plan); add.Course == nil {
			return s.render(c, http.StatusUnprocessableEntity, "moduleimport", &page)
		}
	}
	ctx := c.Request().Context()
	if add.Modules, err = s.importedModules(ctx, &plan); err != nil {
		return err
	}
	if add.Course != nil {
		if add.Course.Plan, err = s.assignments(ctx, &plan, first); err != nil {
			return err
		}
	}
	return s.addImport(c, add)
}

func (s *server) addImport(c echo.Context, add store.NewImport) error {
	ctx := c.Request().Context()
	no, class, modules, err := s.store.Import(ctx, add)
	if errors.Is(err, store.ErrChanged) || errors.Is(err, store.ErrTaken) || errors.Is(err, store.ErrNotFound) {
		return &statusError{Status: http.StatusConflict, Heading: "Nothing was added",
			Sentence: "The file was taken in already, or something changed here meanwhile. Send the file once more if you still want it.",
			To:       "/modules", ToText: "to your modules"}
	}
	if err != nil {
		return err
	}
	s.modules.forget()
	s.log.Info("file taken in", "import", no, "modules", len(modules), "class", class, "staff", add.Staff, "request", requestID(c))
	const back = " You can take that back for 24 hours, under your modules."
	if class > 0 {
		s.say(c, "The class is made, with its plan. Nobody is in it yet: sheets are given out once there is a roster."+back)
		return goTo(c, classHref(store.Class{ID: class}))
	}
	if len(modules) == 0 {
		s.say(c, "It is all here already. Nothing was added.")
		return goTo(c, "/modules")
	}
	s.say(c, "The module is here, as a draft."+back)
	return goTo(c, moduleHref(modules[0]))
}

// importUndoLines offer to take back what was taken in within the last day.
func (s *server) importUndoLines(c echo.Context) ([]undoLine, error) {
	now := s.now()
	all, err := s.store.ModuleImports(c.Request().Context(), who(c).Staff.ID, now.Add(-undoFor))
	if err != nil {
		return nil, err
	}
	var lines []undoLine
	for _, i := range all {
		what := list(i.Titles)
		if i.Class != nil {
			what = "the class “" + *i.Class + "” with " + countedNo(len(i.Titles), "module")
		}
		if what == "" {
			continue
		}
		lines = append(lines, undoLine{
			Says: fmt.Sprintf("You took in %s, %s UTC. This can be taken back until %s UTC.", what,
				clock(i.At, now, time.UTC), clock(i.At.Add(undoFor), now, time.UTC)),
			Action: fmt.Sprintf("/modules/imports/%d/undo", i.ID), Button: "Take it back",
		})
	}
	return lines, nil
}

func (s *server) postImportUndo(c echo.Context) error {
	id, err := number(c, "import")
	if err != nil {
		return err
	}
	ctx, now, staff := c.Request().Context(), s.now(), who(c).Staff.ID
	err = s.store.UndoModuleImport(ctx, staff, int64(id), now.Add(-undoFor), now)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{Status: http.StatusConflict, Heading: "That cannot be taken back any more",
			Sentence: "It is taken back already, more than 24 hours have passed, or it is in use by now: somebody is in the class, an exercise was assigned, or a module was saved again.",
			To:       "/modules", ToText: "to your modules"}
	}
	if err != nil {
		return err
	}
	s.modules.forget()
	s.log.Info("import undone", "import", id, "staff", staff, "request", requestID(c))
	s.say(c, "It is taken back. Everything is as it was before.")
	return goTo(c, "/modules")
}
