package server

import (
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

var moduleRoutes = []route{
	{http.MethodGet, "/modules", forTeachers, (*server).getModules},
	{http.MethodGet, "/modules/new", forTeachers, (*server).getNewModule},
	{http.MethodPost, "/modules", forTeachers, (*server).postModule},
	{http.MethodPost, "/modules/check", forTeachers, (*server).postModuleCheck},
	{http.MethodGet, "/modules/:own", forTeachers, (*server).getModule},
	{http.MethodGet, "/modules/:own/edit", forTeachers, (*server).getModuleEdit},
	{http.MethodPost, "/modules/:own/edit", forTeachers, (*server).postModuleEdit},
	{http.MethodPost, "/modules/:own/use", forTeachers, (*server).postModuleUse},
	{http.MethodPost, "/modules/:own/retire", forTeachers, (*server).postModuleRetire},
	{http.MethodGet, "/modules/:own/saves/:save", forTeachers, (*server).getModuleSave},
	{http.MethodGet, "/modules/:own/differences", forTeachers, (*server).getModuleDiff},
	{http.MethodGet, "/pictures/:picture", forAnybody, (*server).getPicture},
}

// modulesPage lists an instructor's own modules.
type modulesPage struct {
	Frame
	Heading string
	Modules []moduleLine
	Import  importBox
	Undo    []undoLine
}

type moduleLine struct{ Title, Href, State string }

// moduleHref is where the author of a module works on it.
func moduleHref(id int64) string { return fmt.Sprintf("/modules/%d", id) }

func (s *server) getModules(c echo.Context) error {
	page, err := s.modulesPage(c)
	if err != nil {
		return err
	}
	return s.show(c, "modules", &page.Frame, &page)
}

func (s *server) modulesPage(c echo.Context) (modulesPage, error) {
	page := modulesPage{Frame: s.moduleFrame(c, "Your own modules")}
	ctx, staff := c.Request().Context(), who(c).Staff
	all, err := s.store.ModulesOf(ctx, staff.ID)
	if err != nil {
		return page, err
	}
	for _, m := range all {
		page.Modules = append(page.Modules, moduleLine{titleOfModule(m.Module), moduleHref(m.ID), stateOfModule(m)})
	}
	page.Heading = upperFirst(counted(len(all), "module of your own", "modules of your own"))
	if len(all) == 0 {
		page.Heading = "No module of your own yet"
	}
	page.Undo, err = s.importUndoLines(c)
	return page, err
}

// moduleFrame starts the frame of a page about modules.
func (s *server) moduleFrame(c echo.Context, title string) Frame {
	f := s.frame(c, title)
	f.Rail = []Link{{Text: "Classes", Href: "/classes"}, {Text: "Lessons", Href: "/lessons"}, {Text: "Your modules", Href: "/modules"}}
	for i, l := range f.Rail {
		f.Rail[i].Here = l.Href == c.Request().URL.Path
	}
	return f
}

// titleOfModule is what a module is called in lists, also while its text has
// no title.
func titleOfModule(m store.Module) string {
	if m.Title == "" {
		return fmt.Sprintf("Module %d, without a title", m.ID)
	}
	return m.Title
}

// stateOfModule says in one line how a module stands.
func stateOfModule(m store.ModuleLine) string {
	state := "draft"
	switch {
	case m.State == store.ModuleInUse:
		state = fmt.Sprintf("in use, edition %d", m.Edition)
		if m.Released != nil && *m.Released != m.Saves {
			state += "; you have changed it since"
		}
	case m.State == store.ModuleRetired:
		state = "retired"
	}
	if m.Faults > 0 {
		state += ", " + counted(m.Faults, "fault", "faults") + " left"
	}
	return state
}

// ownModule is the module of the address, which its author alone may see.
func (s *server) ownModule(c echo.Context) (store.Module, error) {
	id, err := number(c, "own")
	if err != nil {
		return store.Module{}, err
	}
	return s.store.OwnModule(c.Request().Context(), who(c).Staff.ID, int64(id))
}

// getPicture sends a picture of a module. Its address never shows another one.
func (s *server) getPicture(c echo.Context) error {
	id := c.Param("picture")
	if !pictureShape.MatchString(id) {
		return errNotFound
	}
	staff := int64(0)
	if p := who(c).Staff; p != nil {
		staff = p.ID
	}
	p, err := s.store.Picture(c.Request().Context(), id, staff)
	if err != nil {
		return err
	}
	h := c.Response().Header()
	h.Set("Content-Security-Policy", securityPolicy+"; sandbox")
	h.Set("Content-Disposition", "inline")
	h.Set("Cache-Control", "private, max-age=86400, immutable")
	return c.Blob(http.StatusOK, p.Type, p.Body)
}
