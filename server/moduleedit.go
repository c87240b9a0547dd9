package server

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// moduleEditPage is a module's text beside what it will look like.
type moduleEditPage struct {
	Frame
	Heading, Lead   string
	Next            *Link
	Action, Back    string
	Module          int64 // 0: a new one
	From            int
	Form            moduleForm
	Author, Licence Field
	Pictures        []editPicture
	Check           moduleCheck
	Preview         template.HTML
	Fault           string
	Again           bool // pictures were chosen, and browsers forget them
}

// editPicture is a picture of the module in the editor.
type editPicture struct {
	Name, Href, Size string
	Drop             bool
}

// moduleSkeleton is what a new module begins with: sound, and short enough to
// be seen through.
const moduleSkeleton = `---
id: my-module
title: A title
summary: One sentence that says what is laid out here.
needs: []
skills:
  halve-a-size: Halve a size
version: 1
---

## What you will lay out

Write here what this is about, where it is measured from, and why.

## Practice

` + "```exercise" + `
id: my-exercise
title: Halve the width
given:
  board_width:
    range: 60..90 by 0.5
    unit: mm
    name: Board width
    symbol: w
    means: measured across the reference face, from the reference edge
steps:
  - id: half_width
    name: Half width
    unit: mm
    from: from the reference edge
    formula: board_width / 2
    skill: halve-a-size
    tolerance: 0.2 mm
patterns:
  - id: edge-forgotten
    step: half_width
    formula: board_width / 2 - 3
    says: This is the number you get if 3 mm are taken off for an edge that is not there.
    hint: Is there anything on this board that has to come off first?
` + "```" + `
`

func (s *server) getNewModule(c echo.Context) error {
	page, err := s.moduleEditPage(c, store.Module{}, nil, moduleForm{Text: moduleSkeleton})
	if err != nil {
		return err
	}
	page.Heading, page.Lead = "A new module", "This is a beginning that works. Change it as you like; nothing is seen by others before you put it in use."
	return s.show(c, "moduleedit", &page.Frame, &page)
}

func (s *server) getModuleEdit(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	ctx, from := c.Request().Context(), m.Saves
	if n := moduleNumber(c.QueryParam("from")); n > 0 && n < int64(m.Saves) {
		from = int(n)
	}
	save, err := s.store.ModuleSave(ctx, m.ID, from)
	if err != nil {
		return err
	}
	pictures, err := s.store.PicturesOf(ctx, m.ID, m.Saves)
	if err != nil {
		return err
	}
	page, err := s.moduleEditPage(c, m, pictures, moduleForm{Text: save.Text, Author: save.Author, Licence: save.Licence, From: m.Saves})
	if err != nil {
		return err
	}
	if from != m.Saves {
		page.Lead = fmt.Sprintf("This is the text of save %d. Saving it makes save %d; nothing in between is lost.", from, m.Saves+1)
	}
	return s.show(c, "moduleedit", &page.Frame, &page)
}

// moduleEditPage looks the text over and shows it.
func (s *server) moduleEditPage(c echo.Context, m store.Module, pictures []store.ModulePicture, f moduleForm) (moduleEditPage, error) {
	page := moduleEditPage{
		Frame: s.moduleFrame(c, "A new module"), Action: "/modules", Back: "/modules", Module: m.ID, From: m.Saves, Form: f,
		Author: Field{Name: "module_author", Label: "Author", Note: "goes along when you hand the module on; empty: nobody is named",
			Value: f.Author, Fault: f.AuthorFault, Auto: "off"},
		Licence: Field{Name: "module_licence", Label: "Licence", Note: "how others may use it, such as CC BY 4.0",
			Value: f.Licence, Fault: f.LicenceFault, Auto: "off"},
	}
	if m.ID > 0 {
		page.Title, page.Back = "Write: "+titleOfModule(m), moduleHref(m.ID)
		page.Action = page.Back + "/edit"
	}
	for _, p := range pictures {
		page.Pictures = append(page.Pictures, editPicture{p.Name, "/pictures/" + p.ID,
			fmt.Sprintf("%d × %d, %d kB", p.Width, p.Height, (p.Bytes+1023)>>10), f.Drop[p.Name]})
	}
	var err error
	if f.TextFault == "" {
		if page.Check, err = s.checkModule(c.Request().Context(), m, f.Text, f.kept(pictures)); err != nil {
			return page, err
		}
		page.Preview = page.Check.Module.Body()
	}
	page.Script = "module.js"
	page.head(m)
	return page, nil
}

// head finds the heading and the one next thing.
func (p *moduleEditPage) head(m store.Module) {
	p.Heading = titleOfModule(m)
	switch {
	case p.Form.TextFault != "":
		p.Heading = "There is no module yet"
	case m.ID == 0:
		p.Heading = "A new module"
	case p.Check.Bad > 0:
		p.Heading += ": " + counted(p.Check.Bad, "fault", "faults") + " left"
	default:
		p.Heading += ": nothing is wrong with it"
	}
	p.Block = []BlockField{{Label: "Module", Text: p.Heading, Wide: true}}
	if m.ID == 0 {
		return
	}
	p.Lead = fmt.Sprintf("Save %d, %s. Every save is kept.", m.Saves, m.State)
	p.Block = []BlockField{
		{Label: "Module", Text: titleOfModule(m), Wide: true}, {Label: "Id", Text: m.Slug}, {Label: "Save", Text: strconv.Itoa(m.Saves)},
		{Label: "State", Text: m.State},
	}
	if p.Check.Bad == 0 && (m.Released == nil || *m.Released != m.Saves) {
		p.Next = &Link{Text: "see it through and put it in use", Href: moduleHref(m.ID)}
	}
}

// postModule keeps a new module, from the text or from a folder's files.
func (s *server) postModule(c echo.Context) error {
	done, err := s.readUpload(c)
	if err != nil {
		return err
	}
	defer done()
	if folder := filesOf(c, "module_folder"); len(folder) > 0 {
		return s.takeFolder(c, folder)
	}
	f := readModuleForm(c)
	if err := f.readFiles(c); err != nil {
		return err
	}
	return s.saveOrShow(c, store.Module{}, nil, f)
}

func (s *server) postModuleEdit(c echo.Context) error {
	done, err := s.readUpload(c)
	if err != nil {
		return err
	}
	defer done()
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	before, err := s.store.PicturesOf(c.Request().Context(), m.ID, m.Saves)
	if err != nil {
		return err
	}
	f := readModuleForm(c)
	if err := f.readFiles(c); err != nil {
		return err
	}
	return s.saveOrShow(c, m, before, f)
}

// saveOrShow saves the form, or shows it with what is wrong; with “check” it
// only looks it over.
func (s *server) saveOrShow(c echo.Context, m store.Module, before []store.ModulePicture, f moduleForm) error {
	pictures := f.pictures(before)
	if c.FormValue("do") == "check" || f.faulty() {
		page, err := s.moduleEditPage(c, m, before, f)
		if err != nil {
			return err
		}
		status := http.StatusOK
		if f.faulty() {
			status, page.Fault = http.StatusUnprocessableEntity, "Nothing was saved yet. Look at the marked fields."
		}
		page.From, page.Again = f.From, len(f.Files) > 0
		return s.render(c, status, "moduleedit", &page)
	}
	k, err := s.checkModule(c.Request().Context(), m, f.Text, shownPictures(pictures))
	if err != nil {
		return err
	}
	no, err := s.keepSave(c, &m, newSave(f.Text, f.Author, f.Licence, k, pictures))
	if err != nil {
		return err
	}
	said := fmt.Sprintf("Saved as save %d.", no)
	if k.Bad > 0 {
		said += " " + upperFirst(counted(k.Bad, "fault is", "faults are")) + " left: it cannot be put in use like that."
	}
	if f.From > 0 && f.From < no-1 {
		said += fmt.Sprintf(" Save %d came in between, from another window: look at the differences.", no-1)
	}
	s.say(c, said)
	return goTo(c, moduleHref(m.ID)+"/edit")
}

// keepSave writes a save down; a new module gets its number.
func (s *server) keepSave(c echo.Context, m *store.Module, n store.NewSave) (no int, err error) {
	ctx, staff := c.Request().Context(), who(c).Staff.ID
	n.At, no = s.now(), 1
	if m.ID == 0 {
		m.ID, err = s.store.AddModule(ctx, staff, n)
	} else {
		no, err = s.store.SaveModule(ctx, staff, m.ID, n)
	}
	if err == nil {
		s.log.Info("module saved", "module", m.ID, "save", no, "staff", staff, "request", requestID(c))
	}
	return no, err
}

// newSave is a text that was looked over, as it is kept.
func newSave(text, author, licence string, k moduleCheck, pictures []store.NewPicture) store.NewSave {
	return store.NewSave{
		Text: text, Slug: k.Module.ID, Title: k.Module.Title, Edition: k.Module.Version, Faults: k.Bad,
		Author: author, Licence: licence, Pictures: pictures,
	}
}

// newPictureID draws an address that nobody guesses.
func newPictureID() string {
	var b [16]byte
	rand.Read(b[:]) // never fails: see crypto/rand
	return hex.EncodeToString(b[:])
}

// takenFiles are the texts and pictures of a module that was sent as files.
func takenForm(m pack.Module) moduleForm {
	return moduleForm{Text: tidyLines(string(m.Text)), Author: m.Author, Licence: m.Licence, Files: m.Pictures}
}
