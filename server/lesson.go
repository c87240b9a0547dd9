package server

import (
	"context"
	"errors"
	"html/template"
	"net/http"
	"regexp"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons"
	"arrisbook/server/store"
)

var lessonRoutes = []route{
	{http.MethodGet, "/lessons", forAnybody, (*server).getLessons},
	{http.MethodGet, "/lessons/:module", forAnybody, (*server).getLesson},
}

// lessonsPage lists the modules.
type lessonsPage struct {
	Frame
	Modules []*lessons.Module
	Own     []*lessons.Module // instructors' own
	Writes  bool              // whoever reads may write some
}

// lessonPage is one module. It is the same for everybody, so it is rendered
// and compressed once.
type lessonPage struct {
	Frame
	Module *lessons.Module
	Credit string // who wrote it, and its licence
	Body   template.HTML
	Needs  []Link
	Turn   *turnBox
}

// packLessons renders every lesson of the library.
func (s *server) packLessons() (map[string]packedPage, error) {
	packed := map[string]packedPage{}
	for _, m := range s.cfg.Lessons.Modules {
		var err error
		if packed[m.ID], err = s.packLesson(context.Background(), m, ""); err != nil {
			return nil, err
		}
	}
	return packed, nil
}

// packLesson renders one lesson.
func (s *server) packLesson(ctx context.Context, m *lessons.Module, credit string) (packedPage, error) {
	page := s.lessonPage(m)
	page.Credit = credit
	var err error
	if page.Needs, err = s.neededBy(ctx, m); err != nil {
		return packedPage{}, err
	}
	body, err := s.renderBytes("lesson", page)
	if err != nil {
		return packedPage{}, err
	}
	return s.pack(body)
}

// readyLesson finds the lesson that a request asks for, if it is one of the
// program or an instructor's own that was sent just now. It is the same for
// everybody, so nobody is asked who they are.
func (s *server) readyLesson(r *http.Request) (packedPage, bool) {
	module, ok := strings.CutPrefix(r.URL.Path, "/lessons/")
	if !ok || r.Method != http.MethodGet {
		return packedPage{}, false
	}
	if page, ok := s.lessonPages[module]; ok || r.URL.RawQuery != "" {
		return page, ok
	}
	return s.modules.ready(module, s.now())
}

// neededBy leads to the lessons to read before one. What is not there by now
// is left out.
func (s *server) neededBy(ctx context.Context, m *lessons.Module) ([]Link, error) {
	var links []Link
	for _, id := range m.Needs {
		if needed, shipped := s.cfg.Lessons.Module(id); shipped {
			links = append(links, Link{Text: needed.Title, Href: "/lessons/" + id})
			continue
		}
		own, err := s.store.PublicModule(ctx, id, 0)
		if errors.Is(err, store.ErrNotFound) {
			continue
		}
		if err != nil {
			return nil, err
		}
		save, err := s.store.ModuleSave(ctx, own.ID, own.Save)
		if err != nil {
			return nil, err
		}
		links = append(links, Link{Text: save.Title, Href: "/lessons/" + id})
	}
	return links, nil
}

func (s *server) lessonPage(m *lessons.Module) lessonPage {
	page := lessonPage{Module: m, Body: m.Page(practiseLink), Turn: lessonTurn(m)}
	page.Title = m.Title
	page.Rail = []Link{{Text: "Start", Href: "/"}, {Text: "All lessons", Href: "/lessons"}}
	page.Block = []BlockField{
		{Label: "Title", Text: m.Title, Wide: true},
		{Label: "Edition", Text: strconv.Itoa(m.Version)},
	}
	return page
}

func (s *server) getLessons(c echo.Context) error {
	lib, err := s.library(c.Request().Context())
	if err != nil {
		return err
	}
	shipped := len(s.cfg.Lessons.Modules)
	page := lessonsPage{Frame: s.frame(c, "Lessons"), Modules: lib.Modules[:shipped], Own: lib.Modules[shipped:]}
	page.Writes = who(c).Staff != nil && who(c).Staff.MayTeach
	return s.show(c, "lessons", &page.Frame, &page)
}

// getLesson sends an instructor's own lesson. Those of the program went out
// before it came to this (see readyLesson).
func (s *server) getLesson(c echo.Context) error {
	own, err := s.publicModule(c)
	if err != nil {
		return err
	}
	if c.Request().URL.RawQuery == "" {
		s.modules.show(c.Param("module"), own.page, s.now())
	}
	own.page.ServeHTTP(c.Response(), c.Request())
	return nil
}

// publicModule finds the instructor's own module of the address: the edition
// in use, or the one asked for.
func (s *server) publicModule(c echo.Context) (shelvedModule, error) {
	ctx, slug, edition := c.Request().Context(), c.Param("module"), 0
	if text := c.QueryParam("edition"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > 1<<30 {
			return shelvedModule{}, errNotFound
		}
		edition = n
	}
	if !slugShape.MatchString(slug) {
		return shelvedModule{}, errNotFound
	}
	p, err := s.store.PublicModule(ctx, slug, edition)
	if err != nil {
		return shelvedModule{}, err
	}
	return s.shelved(ctx, p.ID, p.Save)
}

// slugShape is the shape of a module's id.
var slugShape = regexp.MustCompile(`^[a-z][a-z0-9-]{0,99}$`)
