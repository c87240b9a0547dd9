package server

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// modulePage is one module as its author sees it: how it stands, what can be
// done with it, and every save.
type modulePage struct {
	Frame
	Heading, Lead string
	Next          *Link
	Href          string
	Module        store.Module
	Lesson        string // where everybody reads it; "" while it is a draft
	Check         moduleCheck
	Exercises     []tryChoice
	Saves         []saveLine
	Newest        int
	Release       *releaseBox
	MayRetire     bool
	Fault         string
}

type tryChoice struct{ Title, Asks, Href string }

// saveLine is one save in the list.
type saveLine struct {
	No          int
	Says, Href  string
	Differences string // from the save before; "" for the first
}

// releaseBox offers to put a save in use.
type releaseBox struct {
	Save   int
	Button string
	Says   string
	Next   bool
}

func (s *server) getModule(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	page, err := s.modulePage(c, m)
	if err != nil {
		return err
	}
	return s.show(c, "module", &page.Frame, &page)
}

func (s *server) modulePage(c echo.Context, m store.Module) (modulePage, error) {
	ctx := c.Request().Context()
	page := modulePage{Frame: s.moduleFrame(c, titleOfModule(m)), Href: moduleHref(m.ID), Module: m, Newest: m.Saves}
	newest, err := s.store.ModuleSave(ctx, m.ID, m.Saves)
	if err != nil {
		return page, err
	}
	pictures, err := s.store.PicturesOf(ctx, m.ID, m.Saves)
	if err != nil {
		return page, err
	}
	if page.Check, err = s.checkModule(ctx, m, newest.Text, pictures); err != nil {
		return page, err
	}
	for _, ex := range page.Check.Module.Exercises {
		page.Exercises = append(page.Exercises, tryChoice{ex.Title, count(len(ex.Steps), "number") + " to set out", tryHref(m.ID, ex.ID)})
	}
	saves, err := s.store.ModuleSaves(ctx, m.OwnerID, m.ID)
	if err != nil {
		return page, err
	}
	page.Saves = s.saveLines(m, saves)
	page.MayRetire = m.State == store.ModuleInUse
	if m.State != store.ModuleDraft && m.PublicSlug != nil {
		page.Lesson = "/lessons/" + *m.PublicSlug
	}
	page.release(m)
	page.head(m, saves)
	page.Block = []BlockField{
		{Label: "Module", Text: titleOfModule(m), Wide: true}, {Label: "Id", Text: m.Slug}, {Label: "Edition", Text: strconv.Itoa(newest.Edition)},
		{Label: "Save", Text: strconv.Itoa(m.Saves)}, {Label: "State", Text: m.State},
	}
	return page, nil
}

// release offers what can be put in use.
func (p *modulePage) release(m store.Module) {
	switch {
	case p.Check.Bad > 0:
	case m.Released == nil || *m.Released != m.Saves:
		p.Release = &releaseBox{Save: m.Saves, Button: "Put save " + strconv.Itoa(m.Saves) + " in use", Next: true,
			Says: "From then on it is read as a lesson and its exercises can be assigned, by every instructor of this school. What was given out before keeps its edition."}
	case m.State == store.ModuleRetired:
		p.Release = &releaseBox{Save: m.Saves, Button: "Put it in use again", Says: "It is read and assigned as before."}
	}
}

// head finds the heading and the one next thing.
func (p *modulePage) head(m store.Module, saves []store.ModuleSave) {
	p.Heading = titleOfModule(m) + " is a draft"
	p.Lead = "You alone see it."
	switch m.State {
	case store.ModuleInUse:
		p.Heading = fmt.Sprintf("%s is in use, edition %d", titleOfModule(m), editionOf(saves, *m.Released))
		p.Lead = "Everybody reads it, and its exercises can be assigned."
		if *m.Released != m.Saves {
			p.Lead = fmt.Sprintf("Save %d is in use. You have changed it since: save %d is the newest.", *m.Released, m.Saves)
		}
	case store.ModuleRetired:
		p.Heading = titleOfModule(m) + " is retired"
		p.Lead = "It is not offered any more. Sheets that were given out keep it."
	}
	switch {
	case p.Check.Bad > 0:
		p.Next = &Link{Text: "put right " + counted(p.Check.Bad, "fault", "faults"), Href: p.Href + "/edit"}
	case p.Release != nil && p.Release.Next && len(p.Exercises) > 0:
		p.Next = &Link{Text: "try it as a student", Href: p.Exercises[0].Href}
		p.Release.Next = false
	}
}

func editionOf(saves []store.ModuleSave, no int) int {
	for _, n := range saves {
		if n.No == no {
			return n.Edition
		}
	}
	return 0
}

func (s *server) saveLines(m store.Module, saves []store.ModuleSave) []saveLine {
	lines := make([]saveLine, len(saves))
	for i, n := range saves {
		says := n.SavedAt.UTC().Format("2 January 2006, 15:04") + " UTC"
		if n.Faults > 0 {
			says += ", " + counted(n.Faults, "fault", "faults")
		}
		switch {
		case m.Released != nil && *m.Released == n.No && m.State == store.ModuleInUse:
			says += ", in use as edition " + strconv.Itoa(n.Edition)
		case n.ReleasedAt != nil:
			says += ", was in use as edition " + strconv.Itoa(n.Edition)
		}
		lines[i] = saveLine{No: n.No, Says: says, Href: fmt.Sprintf("%s/saves/%d", moduleHref(m.ID), n.No)}
		if i+1 < len(saves) {
			lines[i].Differences = fmt.Sprintf("%s/differences?from=%d&to=%d", moduleHref(m.ID), saves[i+1].No, n.No)
		}
	}
	return lines
}

// moduleSavePage is one save as it was.
type moduleSavePage struct {
	Frame
	Heading, Lead string
	Href, Edit    string
	Preview       template.HTML
	Text          string
}

func (s *server) getModuleSave(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	no, err := number(c, "save")
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	save, err := s.store.ModuleSave(ctx, m.ID, no)
	if err != nil {
		return err
	}
	pictures, err := s.store.PicturesOf(ctx, m.ID, no)
	if err != nil {
		return err
	}
	page := moduleSavePage{
		Frame: s.moduleFrame(c, fmt.Sprintf("Save %d: %s", no, titleOfModule(m))), Heading: fmt.Sprintf("Save %d of %d", no, m.Saves),
		Lead: titleOfModule(m) + ", " + save.SavedAt.UTC().Format("2 January 2006, 15:04") + " UTC. " + creditOf(save),
		Href: moduleHref(m.ID), Edit: fmt.Sprintf("%s/edit?from=%d", moduleHref(m.ID), no), Text: save.Text,
	}
	if read, _ := draftOf(save.Text, pictures).Read(); read != nil {
		page.Preview = read.Body()
	}
	return s.show(c, "modulesave", &page.Frame, &page)
}

func (s *server) postModuleRetire(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	err = s.store.RetireModule(c.Request().Context(), m.OwnerID, m.ID)
	if errors.Is(err, store.ErrChanged) {
		return &statusError{Status: http.StatusConflict, Heading: "It is retired already", Sentence: "Nothing was changed.",
			To: moduleHref(m.ID), ToText: "back to the module"}
	}
	if err != nil {
		return err
	}
	s.log.Info("module retired", "module", m.ID, "staff", m.OwnerID, "request", requestID(c))
	s.say(c, "It is retired: nobody can assign it any more. Sheets that were given out stay as they are.")
	return goTo(c, moduleHref(m.ID))
}
