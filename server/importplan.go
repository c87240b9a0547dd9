package server

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"

	"arrisbook/lessons"
	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// importPlan is what a file would add, held against what is here.
type importPlan struct {
	modules []plannedModule
	course  *plannedCourse // nil: the file is one module
	faults  []*lessons.Error
}

// plannedModule is one module of a file and what becomes of it.
type plannedModule struct {
	pack.Module
	check moduleCheck
	file  string // of its text, for faults
	// mine is the module of the same person that gets another save; its number
	// is 0 where the file makes a new one.
	mine    store.Module
	here    bool // the same is here already
	release bool // put in use at once: the plan of a course needs it
}

func (m plannedModule) adds() bool { return !m.here }

// planImport holds a file against what is here. Faults are in the plan.
func (s *server) planImport(ctx context.Context, staff int64, file pack.File) (importPlan, error) {
	var p importPlan
	if file.Module != nil {
		p.modules = []plannedModule{{Module: *file.Module, file: file.Module.TextName}}
	} else {
		for _, m := range file.Course.Modules {
			p.modules = append(p.modules, plannedModule{Module: m, file: "modules/" + m.ID + "/" + m.TextName, release: true})
		}
	}
	lib, err := s.library(ctx)
	if err != nil {
		return p, err
	}
	p.checkModules(lib, len(s.cfg.Lessons.Modules))
	for i := range p.modules {
		if err := s.place(ctx, staff, &p, &p.modules[i]); err != nil {
			return p, err
		}
	}
	if file.Course != nil {
		err = s.planCourse(ctx, &p, file, lib)
	}
	return p, err
}

// checkModules looks all texts over, beside each other and beside what is
// here. Own modules that have one of their ids are what they may replace.
func (p *importPlan) checkModules(lib *lessons.Library, shipped int) {
	read := make([]*lessons.Module, len(p.modules))
	for i, m := range p.modules {
		p.modules[i].Text = []byte(tidyLines(string(m.Text)))
		if why := textFault(string(p.modules[i].Text)); why != "" {
			p.fault(m.file, 1, "%s", why)
			p.modules[i].Text = []byte("\n")
		}
		read[i], _ = p.modules[i].draft().Read()
	}
	for i := range p.modules {
		m := &p.modules[i]
		beside := &lessons.Library{Modules: slices.Clone(lib.Modules[:shipped])}
		for _, own := range lib.Modules[shipped:] {
			if !slices.ContainsFunc(read, func(r *lessons.Module) bool { return r != nil && r.ID == own.ID }) {
				beside.Modules = append(beside.Modules, own)
			}
		}
		for j, r := range read {
			if r != nil && j != i {
				beside.Modules = append(beside.Modules, r)
			}
		}
		module, found := m.draft().Check(beside)
		if module == nil {
			module = &lessons.Module{}
		}
		m.check = checkOf(module, found, string(m.Text))
		p.faults = append(p.faults, lessons.Faults(found)...)
		if m.release && module.ID != "" && module.ID != m.Module.ID {
			p.fault(m.file, lineOfKey(string(m.Text), "id"), "the module is %s, its folder is called %.80s", module.ID, m.Module.ID)
		}
	}
}

func (p *importPlan) fault(file string, line int, format string, args ...any) {
	p.faults = append(p.faults, &lessons.Error{File: file, Line: line, Msg: fmt.Sprintf(format, args...)})
}

// draft is the module's text as lessons read it.
func (m plannedModule) draft() lessons.Draft {
	var shown []store.ModulePicture
	for _, p := range m.Pictures {
		shown = append(shown, store.ModulePicture{Name: p.Name})
	}
	d := draftOf(string(m.Text), shown)
	d.File = m.file
	return d
}

// place finds what a module of a file meets here: nothing, one of the same
// person's own, or somebody else's.
func (s *server) place(ctx context.Context, staff int64, p *importPlan, m *plannedModule) error {
	slug := m.check.Module.ID
	if !slugShape.MatchString(slug) {
		return nil
	}
	public, err := s.store.PublicModule(ctx, slug, 0)
	if err == nil && public.OwnerID != staff {
		return s.placeBeside(ctx, p, m, public)
	}
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	mine, err := s.store.OwnModuleNamed(ctx, staff, slug)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	m.mine = mine
	same, err := s.sameSave(ctx, mine.ID, mine.Saves, m.Module)
	inUse := mine.State == store.ModuleInUse && *mine.Released == mine.Saves
	m.here = same && (inUse || !m.release)
	return err
}

// placeBeside holds a module against somebody else's of the same id: it is
// here already, or it needs another id.
func (s *server) placeBeside(ctx context.Context, p *importPlan, m *plannedModule, public store.PublicModule) error {
	edition, err := s.store.PublicModule(ctx, public.Slug, m.check.Module.Version)
	if err == nil {
		m.here, err = s.sameSave(ctx, public.ID, edition.Save, m.Module)
	}
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	if !m.here {
		p.fault(m.file, lineOfKey(string(m.Text), "id"), "another instructor of this school has a module %s, and it says something else; give this one another id", public.Slug)
	}
	return nil
}

// sameSave says whether a save is the same as what a file holds. A file that
// does not name the author may have had its names taken out.
func (s *server) sameSave(ctx context.Context, id int64, no int, m pack.Module) (bool, error) {
	save, err := s.store.ModuleSave(ctx, id, no)
	if err != nil {
		return false, err
	}
	if save.Text != string(m.Text) || m.Author != "" && save.Author != m.Author || save.Licence != m.Licence {
		return false, nil
	}
	pictures, err := s.store.PictureBodies(ctx, id, no)
	if err != nil || len(pictures) != len(m.Pictures) {
		return false, err
	}
	for _, p := range m.Pictures {
		if !slices.ContainsFunc(pictures, func(q store.NamedPicture) bool { return q.Name == p.Name && bytes.Equal(q.Body, p.Body) }) {
			return false, nil
		}
	}
	return true, nil
}

// line says what becomes of a module.
func (m plannedModule) line() importLine {
	l := importLine{
		Title: m.check.Module.Title, ID: m.check.Module.ID, Edition: m.check.Module.Version, Author: m.Author, Licence: m.Licence,
	}
	if l.Title == "" {
		l.Title = m.file
	}
	switch {
	case m.here:
		l.What = "It is here already. Nothing is added."
	case m.mine.ID > 0:
		l.What = fmt.Sprintf("It becomes save %d of your module of that id. Save %d is kept.", m.mine.Saves+1, m.mine.Saves)
		l.Kept = moduleHref(m.mine.ID)
	default:
		l.What = "It comes in as a new module."
	}
	if m.release && !m.here {
		l.What += " It is put in use at once, because the plan needs it."
	}
	for _, ex := range m.check.Module.Exercises {
		l.Exercises = append(l.Exercises, fmt.Sprintf("%s, %s", ex.Title, count(len(ex.Steps), "number")))
	}
	for _, p := range m.Pictures {
		l.Pictures = append(l.Pictures, fmt.Sprintf("%s, %d × %d, %d kB", p.Name, p.Width, p.Height, (len(p.Body)+1023)>>10))
	}
	return l
}

// print names a plan, so that what is confirmed is what was seen.
func (p importPlan) print() string {
	h := sha256.New()
	for _, m := range p.modules {
		fmt.Fprintf(h, "%q %q\n", m.check.Module.ID, m.line().What)
	}
	if p.course != nil {
		for _, a := range p.course.plan {
			fmt.Fprintf(h, "%q %q %d\n", a.Title, a.note, a.version)
		}
	}
	for _, e := range p.faults {
		fmt.Fprintf(h, "%q\n", e.Error())
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// importedModules are the modules as they are added. One that is put in use
// gets the number of an edition that is free, and its exercises are written
// down.
func (s *server) importedModules(ctx context.Context, plan *importPlan) ([]store.ImportedModule, error) {
	var all []store.ImportedModule
	for i := range plan.modules {
		m := &plan.modules[i]
		if !m.adds() {
			continue
		}
		text := string(m.Text)
		if m.release {
			save := store.ModuleSave{ModuleID: m.mine.ID, No: m.mine.Saves + 1, Text: text, Edition: m.check.Module.Version}
			var err error
			if text, m.check.Module.Version, err = s.freshEdition(ctx, m.mine, save, m.check.Module); err != nil {
				return nil, err
			}
		}
		next := newSave(text, m.Author, m.Licence, m.check, newPictures(m.Pictures))
		next.At = s.now()
		all = append(all, store.ImportedModule{Module: m.mine.ID, Save: next, Release: m.release})
	}
	return all, nil
}
