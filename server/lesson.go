package server

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons"
	"arrisbook/web"
)

var lessonRoutes = []route{
	{http.MethodGet, "/lessons", forAnybody, (*server).getLessons},
	{http.MethodGet, "/lessons/:module", forAnybody, (*server).getLesson},
}

// lessonsPage lists the modules.
type lessonsPage struct {
	Frame
	Modules []*lessons.Module
}

// lessonPage is one module. It is the same for everybody, so it is rendered
// and compressed once.
type lessonPage struct {
	Frame
	Module *lessons.Module
	Body   template.HTML
	Needs  []*lessons.Module
}

// packedPage is a finished page with its compressed form and its mark.
type packedPage struct {
	body, packed []byte
	etag         string
}

// packLessons renders every lesson of the library.
func (s *server) packLessons() (map[string]packedPage, error) {
	packed := map[string]packedPage{}
	for _, m := range s.cfg.Lessons.Modules {
		body, err := s.renderBytes("lesson", s.lessonPage(m))
		if err != nil {
			return nil, err
		}
		zipped, err := web.Compress(body)
		if err != nil {
			return nil, fmt.Errorf("compress lesson %s: %w", m.ID, err)
		}
		sum := sha256.Sum256(body)
		packed[m.ID] = packedPage{body, zipped, `"` + hex.EncodeToString(sum[:8]) + `"`}
	}
	return packed, nil
}

func (s *server) lessonPage(m *lessons.Module) lessonPage {
	page := lessonPage{Module: m, Body: m.Body()}
	page.Title = m.Title
	page.Rail = []Link{{Text: "Start", Href: "/"}, {Text: "All lessons", Href: "/lessons"}}
	page.Block = []BlockField{
		{Label: "Title", Text: m.Title, Wide: true},
		{Label: "Edition", Text: strconv.Itoa(m.Version)},
	}
	for _, id := range m.Needs {
		if needed, ok := s.cfg.Lessons.Module(id); ok {
			page.Needs = append(page.Needs, needed)
		}
	}
	return page
}

func (s *server) getLessons(c echo.Context) error {
	page := lessonsPage{Frame: s.frame(c, "Lessons"), Modules: s.cfg.Lessons.Modules}
	return s.show(c, "lessons", &page.Frame, &page)
}

// getLesson sends a lesson as packed at the start. A browser that has it
// already is told so.
func (s *server) getLesson(c echo.Context) error {
	page, ok := s.lessonPages[c.Param("module")]
	if !ok {
		return errNotFound
	}
	h := c.Response().Header()
	h.Set("Cache-Control", "public, no-cache")
	h.Set("ETag", page.etag)
	if c.Request().Header.Get("If-None-Match") == page.etag {
		return c.NoContent(http.StatusNotModified)
	}
	return sendPacked(c, echo.MIMETextHTMLCharsetUTF8, page.body, page.packed)
}
