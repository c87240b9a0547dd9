package server

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"

	"github.com/labstack/echo/v4"
)

// Frame is what every page has around its main part. Page structs embed it.
type Frame struct {
	Title  string
	Rail   []Link
	Leave  bool // show the button that signs out
	Shared bool // a PC that others use too: show "Next student" instead
	Wall   bool // letters for the projector
	Script string
	Said   string // one sentence from the page before
	Block  []BlockField
}

// Link is one entry of the rail.
type Link struct {
	Text, Href string
	Here       bool
}

// BlockField is one field of the title block.
type BlockField struct {
	Label, Text string
	Picture     template.HTML // instead of the text
	Wide        bool
}

// frame starts a page's frame for whoever asks.
func (s *server) frame(c echo.Context, title string) Frame {
	f := Frame{Title: title}
	p := who(c)
	switch {
	case p.Staff != nil:
		f.Leave = true
		f.Rail = []Link{{Text: "Classes", Href: "/classes"}, {Text: "Lessons", Href: "/lessons"}}
	case p.Student != nil:
		f.Leave, f.Shared = true, p.Shared
		f.Rail = []Link{{Text: "My sheets", Href: "/sheets"}, {Text: "Lessons", Href: "/lessons"}}
	default:
		f.Rail = []Link{{Text: "Start", Href: "/"}, {Text: "Lessons", Href: "/lessons"}}
	}
	for i, l := range f.Rail {
		f.Rail[i].Here = l.Href == c.Request().URL.Path
	}
	return f
}

// render sends a page. It is built whole before the first byte goes out, so a
// fault in a template is a clean error and never half a page.
func (s *server) render(c echo.Context, status int, name string, page any) error {
	body, err := s.renderBytes(name, page)
	if err != nil {
		return err
	}
	return c.HTMLBlob(status, body)
}

func (s *server) renderBytes(name string, page any) ([]byte, error) {
	t, ok := s.pages[name]
	if !ok {
		return nil, fmt.Errorf("no template %q", name)
	}
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, "page", page); err != nil {
		return nil, fmt.Errorf("render %s: %w", name, err)
	}
	return b.Bytes(), nil
}

// show renders a page with the sentence that the step before left for it.
func (s *server) show(c echo.Context, name string, frame *Frame, page any) error {
	frame.Said = s.sessions.PopString(c.Request().Context(), sessionSaid)
	return s.render(c, http.StatusOK, name, page)
}

// goTo answers a form: 303 to the page that shows what became of it.
func goTo(c echo.Context, href string) error { return c.Redirect(http.StatusSeeOther, href) }
