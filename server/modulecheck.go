package server

import (
	"context"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons"
	"arrisbook/server/store"
)

// moduleCheck is what is wrong with a module's text, and how it will look.
type moduleCheck struct {
	Module *lessons.Module // never nil
	Faults []moduleFault   // and warnings, by line
	Bad    int             // faults among them
}

// moduleFault is one fault, or a warning, with the line it stands on.
type moduleFault struct {
	Line    int    `json:"line"`
	Text    string `json:"text"` // of that line
	Says    string `json:"says"`
	Warning bool   `json:"warning,omitempty"`
}

// Says tells the finding in a few words.
func (k moduleCheck) Says() string {
	warnings := len(k.Faults) - k.Bad
	switch {
	case k.Bad > 0:
		return upperFirst(counted(k.Bad, "fault", "faults"))
	case warnings > 0:
		return "No fault, " + counted(warnings, "remark", "remarks")
	}
	return "Nothing is wrong with it"
}

// checkModule looks a text over, beside all lessons that are in use. m is the
// module it is for; a new one has no number.
func (s *server) checkModule(ctx context.Context, m store.Module, text string, pictures []store.ModulePicture) (moduleCheck, error) {
	lib, err := s.library(ctx)
	if err != nil {
		return moduleCheck{}, err
	}
	beside := &lessons.Library{}
	for _, other := range lib.Modules {
		if m.PublicSlug == nil || other.ID != *m.PublicSlug {
			beside.Modules = append(beside.Modules, other)
		}
	}
	module, found := draftOf(text, pictures).Check(beside)
	if module == nil {
		module = &lessons.Module{}
	}
	if m.PublicSlug != nil && module.ID != "" && module.ID != *m.PublicSlug {
		found = append([]*lessons.Error{{File: moduleFile, Line: lineOfKey(text, "id"),
			Msg: "this module was in use under the id " + *m.PublicSlug + " and keeps it; copy the text into a new module for another id"}}, found...)
	}
	return checkOf(module, found, text), nil
}

func checkOf(m *lessons.Module, found []*lessons.Error, text string) moduleCheck {
	k := moduleCheck{Module: m, Bad: len(lessons.Faults(found))}
	lines := strings.Split(text, "\n")
	for _, e := range found {
		f := moduleFault{Line: e.Line, Says: upperFirst(e.Msg) + stop(e.Msg), Warning: e.Warning}
		if e.Line <= len(lines) {
			f.Text = beginning(lines[e.Line-1])
		}
		k.Faults = append(k.Faults, f)
	}
	return k
}

// lineOfKey is the line of a key in the front matter; 1: it is not there.
func lineOfKey(text, key string) int {
	for i, line := range strings.SplitN(text, "\n", 40) {
		if strings.HasPrefix(line, key+":") {
			return i + 1
		}
	}
	return 1
}

// beginning is as much of a line as it takes to find it.
func beginning(line string) string {
	line = strings.Join(strings.Fields(line), " ")
	if utf8.RuneCountInString(line) <= 60 {
		return line
	}
	return strings.TrimSpace(string([]rune(line)[:57])) + "…"
}

// checkAnswer is what the editor's script gets.
type checkAnswer struct {
	Says   string        `json:"says"`
	Faults []moduleFault `json:"faults"`
	HTML   string        `json:"html"`
}

// postModuleCheck looks a text over while it is typed. Nothing is kept.
func (s *server) postModuleCheck(c echo.Context) error {
	done, err := s.readUpload(c)
	if err != nil {
		return err
	}
	defer done()
	m, pictures, err := s.moduleToCheck(c)
	if err != nil {
		return err
	}
	form := readModuleForm(c)
	if form.TextFault != "" {
		return c.JSON(http.StatusOK, checkAnswer{Says: form.TextFault, Faults: []moduleFault{}})
	}
	k, err := s.checkModule(c.Request().Context(), m, form.Text, form.kept(pictures))
	if err != nil {
		return err
	}
	answer := checkAnswer{Says: k.Says(), Faults: k.Faults, HTML: string(k.Module.Body())}
	if answer.Faults == nil {
		answer.Faults = []moduleFault{}
	}
	return c.JSON(http.StatusOK, answer)
}

// moduleToCheck is the module that a text is for, with the pictures of its
// newest save; a new one has neither.
func (s *server) moduleToCheck(c echo.Context) (store.Module, []store.ModulePicture, error) {
	id := moduleNumber(c.FormValue("module_no"))
	if id == 0 {
		return store.Module{}, nil, nil
	}
	ctx := c.Request().Context()
	m, err := s.store.OwnModule(ctx, who(c).Staff.ID, id)
	if err != nil {
		return m, nil, err
	}
	pictures, err := s.store.PicturesOf(ctx, m.ID, m.Saves)
	return m, pictures, err
}
